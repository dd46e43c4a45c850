//! The cautions that a procedure's own processes, metals and gases call for; what is said stands in the handbook.

use seamwright_check::View;
use seamwright_handbook::{cautions, lens_shade};
use seamwright_model::stated::{OrNone, Stated};

use crate::block::NoticeItem;

/// The cautions for a procedure, the lens shade first.
pub(super) fn items(view: &View<'_>) -> Vec<NoticeItem> {
    let procedure = view.procedure;
    let mut circumstances = cautions::Circumstances::default();
    let mut shades: Vec<String> = Vec::new();
    for run in &view.runs {
        if let Some(process) = run.process {
            circumstances.processes.push(&process.number);
            let high = run.quantity("current", |s| s.current.as_ref()).and_then(|at| at.value.high());
            if let Some(shade) = high.and_then(|high| lens_shade::get(&process.number, high.amperes())) {
                let range = shade.shade_suggested.map_or(format!("at least {}", shade.shade_min), |usual| {
                    if (usual.low - usual.high).abs() < f64::EPSILON {
                        format!("{}, at least {}", usual.high, shade.shade_min)
                    } else {
                        format!("{} to {}, at least {}", usual.low, usual.high, shade.shade_min)
                    }
                });
                let line = format!("{}: {range}", process.number);
                if !shades.contains(&line) {
                    shades.push(line);
                }
            }
        }
        if let Some(gas) = run.gas() {
            circumstances
                .gases
                .extend(gas.value.composition.iter().flat_map(|parts| parts.iter().map(|(name, _)| name)));
        }
        let start = run.setting("arc_start", |s| s.arc_start.as_ref().and_then(Stated::value));
        if start.is_some_and(|at| at.value.as_str() == "high-frequency") {
            circumstances.marks.push("high-frequency");
        }
        let tungsten =
            run.setting("tungsten/designation", |s| s.tungsten.as_ref().and_then(|t| t.designation.as_deref()));
        if tungsten.and_then(|at| seamwright_handbook::tungsten_types::get(at.value)).is_some_and(|row| row.radioactive)
        {
            circumstances.marks.push("thoriated");
        }
    }
    if let Some(OrNone::Is(gas)) = &procedure.backing_gas {
        circumstances.gases.extend(gas.composition.iter().flat_map(|parts| parts.iter().map(|(name, _)| name)));
    }
    for metal in &view.metals {
        circumstances.families.push(metal.family());
        let coated =
            metal.stated.coating.as_deref().is_some_and(|coating| coating != "none" && coating != "not applicable");
        if coated || metal.known.is_some_and(|row| row.coating.is_some()) {
            circumstances.marks.push("coated");
        }
    }
    let rows = cautions::for_document(&circumstances);
    let mut items: Vec<NoticeItem> = rows
        .iter()
        .map(|row| NoticeItem { lead: Some(capital(&row.cause.replace('-', " "))), text: row.caution.clone() })
        .collect();
    if !shades.is_empty() {
        items.insert(0, NoticeItem { lead: Some("Lens shade".into()), text: format!("{}.", shades.join("; ")) });
    }
    items
}

/// A text with its first letter large.
pub(super) fn capital(text: &str) -> String {
    let mut characters = text.chars();
    characters.next().map_or(String::new(), |first| first.to_uppercase().chain(characters).collect())
}
