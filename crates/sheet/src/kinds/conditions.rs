//! The conditions of a procedure as a table: what each states in place of the rest.

use seamwright_model::procedure::{Condition, HeatTreatment, Procedure, Soak, Temperatures};
use seamwright_model::stated::Stated;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Cell, Column, Row, Table};
use seamwright_page::words::label;
use seamwright_weld::View;

use super::words::{position_name, preparation};
use super::{joined, part, quantity};

/// The table of conditions with its heading; nothing where the procedure has none.
pub(super) fn conditions(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let all: Vec<(&str, &Condition)> = view.procedure.conditions.iter().collect();
    if all.is_empty() {
        return;
    }
    let names: Vec<String> = all.iter().map(|(name, _)| (*name).to_owned()).collect();
    let mut columns = vec![(options.term("/runs/*/condition").into_owned(), names)];
    for (key, of) in VALUES {
        let texts: Vec<String> = all.iter().map(|(_, own)| of(own, view, options).unwrap_or_default()).collect();
        if texts.iter().any(|text| !text.is_empty()) {
            columns.push((options.term(key).into_owned(), texts));
        }
    }
    let rows = (0..all.len())
        .map(|at| Row {
            cells: columns.iter().map(|(_, texts)| Cell::bold(texts.get(at).cloned().unwrap_or_default())).collect(),
            marked: false,
        })
        .collect();
    // As wide as its longest text asks.
    let weight = |texts: &[String]| {
        let longest = texts.iter().map(|text| text.chars().count()).max().unwrap_or_default();
        f64::from(u32::try_from(longest.clamp(6, 30)).unwrap_or(30))
    };
    let columns = columns.iter().map(|(heading, texts)| Column::words(heading.clone(), weight(texts))).collect();
    blocks.push(Block::Together {
        blocks: vec![
            Block::heading(options.say(label::BY_CONDITION), None),
            Block::Table(Table { caption: None, columns, rows }),
        ],
    });
}

type Value = (&'static str, fn(&Condition, &View<'_>, SheetOptions) -> Option<String>);

/// What a condition may state, by the key whose term stands over it.
const VALUES: [Value; 9] = [
    ("/parent_metals/*/thickness", |own, _, options| quantity(own.thickness.as_ref(), options)),
    ("/parent_metals/*/outside_diameter", |own, _, options| quantity(own.outside_diameter.as_ref(), options)),
    ("/positions", |own, view, options| {
        Some(joined(own.positions.iter().map(|code| Some(position_name(code, options.terms, view)))))
    }),
    ("/joint", |own, _, options| {
        let joint = own.joint.as_ref()?;
        let named = |key: &'static str, text: Option<String>| text.map(|text| format!("{} {text}", options.low(key)));
        Some(joined([
            preparation(joint.preparation.as_ref(), options),
            quantity(joint.included_angle.as_ref(), options),
            named("/joint/root_gap", quantity(joint.root_gap.as_ref(), options)),
            named("/joint/root_face", quantity(joint.root_face.as_ref(), options)),
        ]))
    }),
    ("/weld_size", |own, _, options| {
        let size = own.weld_size.as_ref().and_then(Stated::value)?;
        let named = |key: &'static str, text: Option<String>| text.map(|text| format!("{} {text}", options.low(key)));
        Some(joined([
            named("/weld_size/leg", quantity(size.leg.as_ref(), options)),
            named("/weld_size/throat", quantity(size.throat.as_ref(), options)),
        ]))
    }),
    ("/temperatures/preheating", |own, _, options| quantity(own.temperatures.as_ref()?.preheating.as_ref(), options)),
    ("/temperatures/interpass", |own, _, options| quantity(own.temperatures.as_ref()?.interpass.as_ref(), options)),
    ("/temperatures/post_heating", |own, _, options| {
        part(own.temperatures.as_ref()?.post_heating.as_ref(), |soak| soaked(soak, options))
    }),
    ("/temperatures/post_weld_heat_treatment", |own, _, options| {
        part(own.temperatures.as_ref()?.post_weld_heat_treatment.as_ref(), |own| treated(own, options))
    }),
];

/// What is stated of the heat for all, then what each condition states in its place.
pub(super) fn of_each(procedure: &Procedure, of: impl Fn(&Temperatures) -> Option<String>) -> Option<String> {
    let whole = procedure.temperatures.as_ref().and_then(&of);
    let each = procedure.conditions.iter().filter_map(|(name, own)| {
        let text = of(own.temperatures.as_ref()?)?;
        Some(format!("{name}: {text}"))
    });
    let all: Vec<String> = whole.into_iter().chain(each).collect();
    (!all.is_empty()).then(|| all.join("; "))
}

/// Preheating, and interpass temperature, for all and for each condition.
pub(super) fn preheating(procedure: &Procedure, options: SheetOptions) -> Option<String> {
    of_each(procedure, |own| quantity(own.preheating.as_ref(), options))
}

/// See [`preheating`].
pub(super) fn interpass(procedure: &Procedure, options: SheetOptions) -> Option<String> {
    of_each(procedure, |own| quantity(own.interpass.as_ref(), options))
}

/// A temperature held for a time, in words.
pub(super) fn soaked(soak: &Soak, options: SheetOptions) -> String {
    joined([quantity(soak.temperature.as_ref(), options), quantity(soak.time.as_ref(), options)])
}

/// A heat treatment in words.
pub(super) fn treated(treatment: &HeatTreatment, options: SheetOptions) -> String {
    joined([
        quantity(treatment.temperature.as_ref(), options),
        quantity(treatment.time.as_ref(), options),
        treatment.time_by_thickness.as_deref().map(Into::into),
        quantity(treatment.heating_rate.as_ref(), options).map(|rate| label::HEATING_RATE.fill(&[("rate", &rate)])),
        quantity(treatment.cooling_rate.as_ref(), options).map(|rate| label::COOLING_RATE.fill(&[("rate", &rate)])),
        treatment.method.as_deref().map(Into::into),
    ])
}
