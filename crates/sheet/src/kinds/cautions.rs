//! The cautions that a procedure's own processes, metals and gases call for; what is said stands in the handbook.

use seamwright_handbook::variables::Terms;
use seamwright_handbook::{cautions, lens_shade};
use seamwright_model::capital::capital;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::UnitSystem;
use seamwright_model::stated::OrNone;
use seamwright_page::SheetOptions;
use seamwright_page::block::NoticeItem;
use seamwright_page::words::{Language, label};
use seamwright_weld::View;

/// The cautions for a procedure, the lens shade first.
pub(super) fn items(view: &View<'_>, options: SheetOptions) -> Vec<NoticeItem> {
    let shade = shade_item(view, options);
    let said = rows(view).into_iter().map(|row| match (&shade, row.cause) {
        // No table has a shade for an arc under flux, so that none can be named.
        (None, "arc-radiation") => item(row, options.say(label::ARC_WITHOUT_SHADE).into_owned(), options),
        _ => item(row, in_units(&options.word(row.caution), options.units), options),
    });
    shade.clone().into_iter().chain(said).collect()
}

/// The cautions for a procedure in a line each, the lens shade first.
pub(super) fn in_short(view: &View<'_>, options: SheetOptions) -> Vec<NoticeItem> {
    let said = rows(view).into_iter().map(|row| item(row, in_units(&options.word(row.short), options.units), options));
    shade_item(view, options).into_iter().chain(said).collect()
}

fn item(row: &cautions::Row, text: String, options: SheetOptions) -> NoticeItem {
    NoticeItem { lead: Some(format!("{}:", options.word(&capital(&row.cause.replace('-', " "))))), text }
}

/// The cleared ground of NFPA 51B, which gives it in feet, in the units of a sheet.
fn in_units(text: &str, units: UnitSystem) -> String {
    match units {
        UnitSystem::Si => text.to_owned(),
        UnitSystem::Us => text.replace("11 m", "35 ft"),
        UnitSystem::Both => text.replace("11 m", "11 m (35 ft)"),
    }
}

/// The lens shade by run: by ISO 4850, or in the words of AWS by ANSI Z49.1; nothing where no table has the process.
pub(super) fn shades(view: &View<'_>, options: SheetOptions) -> Vec<(String, String)> {
    let family = view.metals.first().map_or("", |metal| metal.family());
    let mut found: Vec<(String, String)> = Vec::new();
    // Most runs are like the one before: its process, its current and which of them it was found to be.
    let mut before: Option<(&str, f64, Option<usize>)> = None;
    for run in &view.runs {
        let Some(high) = run.value(&keys::CURRENT).and_then(|at| at.value.high()) else { continue };
        let (number, amperes) = (run.number(), high.amperes());
        let at = match before {
            Some((own, same, at)) if own == number && same.total_cmp(&amperes).is_eq() => at,
            _ => shade(number, family, amperes, options).map(|shade| {
                found.iter().position(|(_, own)| *own == shade).unwrap_or_else(|| {
                    found.push((String::new(), shade));
                    found.len() - 1
                })
            }),
        };
        before = Some((number, amperes, at));
        if let Some((runs, _)) = at.and_then(|at| found.get_mut(at)) {
            if !runs.is_empty() {
                runs.push_str(", ");
            }
            runs.push_str(&run.run.run);
        }
    }
    found
}

/// The shade for a process and a current in amperes, in the words of the sheet.
fn shade(process: &str, family: &str, amperes: f64, options: SheetOptions) -> Option<String> {
    let iso = lens_shade::iso(process, family, amperes).filter(|_| options.terms == Terms::Iso);
    Some(match (iso, lens_shade::get(process, amperes)) {
        (Some(row), _) => row.shade.to_string(),
        (None, Some(row)) => match row.shade_suggested {
            Some(usual) => {
                let (low, high, least) = (usual.low.to_string(), usual.high.to_string(), row.shade_min.to_string());
                if usual.is_single() {
                    options.fill(label::SHADE_ONE, &[("usual", &high), ("least", &least)])
                } else {
                    options.fill(label::SHADE_RANGE, &[("low", &low), ("high", &high), ("least", &least)])
                }
            }
            None => options.fill(label::AT_LEAST, &[("value", &row.shade_min.to_string())]),
        },
        (None, None) => return None,
    })
}

/// The lens shade in a line: one for all runs, or that of each.
pub(super) fn shades_in_words(view: &View<'_>, options: SheetOptions) -> Option<String> {
    let run = options.term("/runs/*/run");
    let run = if options.language == Language::De { run.into_owned() } else { run.to_lowercase() };
    match shades(view, options).as_slice() {
        [] => None,
        [(_, shade)] => Some(shade.clone()),
        several => {
            let said: Vec<String> = several.iter().map(|(runs, shade)| format!("{run} {runs}: {shade}")).collect();
            Some(said.join("; "))
        }
    }
}

fn shade_item(view: &View<'_>, options: SheetOptions) -> Option<NoticeItem> {
    let text = shades_in_words(view, options)?;
    Some(NoticeItem { lead: Some(options.say(label::LENS_SHADE_LEAD).into_owned()), text: format!("{text}.") })
}

/// The rows of the handbook that a procedure calls for.
fn rows(view: &View<'_>) -> Vec<&'static cautions::Row> {
    let procedure = view.procedure;
    let mut circumstances = cautions::Circumstances::default();
    for run in &view.runs {
        if let Some(process) = run.process {
            circumstances.processes.push(process.number);
        }
        if let Some(gas) = run.gas() {
            circumstances
                .gases
                .extend(gas.value.composition.iter().flat_map(|parts| parts.iter().map(|(name, _)| name)));
        }
        let start = run.value(&keys::ARC_START);
        if start.is_some_and(|at| at.value.as_str() == "high-frequency") {
            circumstances.marks.push("high-frequency");
        }
        let tungsten = run.setting(&keys::TUNGSTEN_DESIGNATION);
        if tungsten.and_then(|at| seamwright_handbook::tungsten_types::get(at.value)).is_some_and(|row| row.radioactive)
        {
            circumstances.marks.push("thoriated");
        }
        let between = run.setting(&keys::INTERPASS_CLEANING);
        marks_of(between.map(|at| at.value), &mut circumstances.marks);
    }
    if let Some(OrNone::Is(gas)) = &procedure.backing_gas {
        circumstances.gases.extend(gas.composition.iter().flat_map(|parts| parts.iter().map(|(name, _)| name)));
    }
    if let Some(joint) = &procedure.joint {
        for text in [&joint.cleaning, &joint.preparation_method, &joint.back_gouging, &joint.tack_welds] {
            marks_of(text.as_deref(), &mut circumstances.marks);
        }
    }
    for metal in &view.metals {
        circumstances.families.push(metal.family());
        let coated =
            metal.stated.coating.as_deref().is_some_and(|coating| coating != "none" && coating != "not applicable");
        if coated || metal.known.is_some_and(|row| row.coating.is_some()) {
            circumstances.marks.push("coated");
        }
    }
    // Runs are alike: each thing is looked up once.
    let cautions::Circumstances { processes, families, gases, marks } = &mut circumstances;
    for all in [processes, families, gases, marks] {
        all.sort_unstable();
        all.dedup();
    }
    cautions::for_document(&circumstances)
}

/// What the words of an author about cleaning and gouging call for.
fn marks_of(text: Option<&str>, marks: &mut Vec<&str>) {
    const WORDS: [(&str, &[&str]); 3] = [
        ("solvent", &["degreas", "solvent", "acetone", "alcohol", "ethanol", "isopropanol"]),
        ("ground", &["grind", "ground", "brush", "disc", "filed"]),
        ("gouged", &["air carbon", "carbon arc", "arc air", "arc gou", "gouge"]),
    ];
    let text = text.unwrap_or_default().to_lowercase();
    for (mark, words) in WORDS {
        if words.iter().any(|word| text.contains(word)) && !marks.contains(&mark) {
            marks.push(mark);
        }
    }
}
