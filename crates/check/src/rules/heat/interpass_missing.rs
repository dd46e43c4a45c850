//! `interpass-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_calc::Band;
use seamwright_handbook::interpass_temperature;
use seamwright_handbook::process_suitability::Need;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "interpass-missing",
    harm: Harm::Instruction,
    finds: "A weld of several runs without an interpass temperature, in a metal that has a limit.",
    matters: "The welder lays the next run on metal that is too hot: the metal loses toughness or corrosion resistance.",
    remedy: "State the highest interpass temperature.",
    limit: "The usual interpass temperature of the family; a caution where the table says that the metal needs it, a note else.",
    tables: &["interpass-temperature"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-2205-141", edits: &[("/temperatures/interpass", "")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/temperatures/interpass", "")] },
    ],
    sound: &[
        Case { base: "pipe-butt-2205-141", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[("/temperatures/interpass", "")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let several = x.view.runs.iter().map(|run| run.numbers.1.saturating_sub(run.numbers.0).saturating_add(1));
    if several.fold(0_u32, u32::saturating_add) < 2 && !x.view.runs.iter().any(|run| run.open) {
        return;
    }
    let temperatures = x.view.procedure.temperatures.as_ref();
    if temperatures.is_some_and(|temperatures| temperatures.interpass.is_some()) {
        return;
    }
    let strictest = x
        .view
        .metals
        .iter()
        .filter_map(|metal| Some((interpass_temperature::get(metal.family())?, metal)))
        .min_by(|a, b| a.0.usual_max_c.total_cmp(&b.0.usual_max_c));
    let Some((row, metal)) = strictest else { return };
    let severity = if row.stated == Some(Need::Needed) { Severity::Caution } else { Severity::Note };
    let source = row.origin.source_ref();
    let limit = range_limit(Band::at_most(row.usual_max_c.round()), "°C");
    x.report(
        severity,
        "/temperatures/interpass",
        format!("no interpass temperature is stated for {} ({limit})", metal.stated.specification),
    )
    .limit(limit.clone(), &source)
    .hint(format!("write `interpass: {limit}`"));
}
