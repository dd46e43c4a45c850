//! `down-slope-missing`: explanation, cases, logic.

use seamwright_handbook::technique::gas_timing;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{CurrentControl, keys};

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "down-slope-missing",
    harm: Harm::Soundness,
    finds: "A fixed current with a tungsten electrode and no word on how it falls at the end.",
    matters: "A current cut off at once leaves a crater that cracks.",
    remedy: "Write `down_slope`, or use a foot pedal or a torch switch.",
    limit: "A down-slope is usual where the current is fixed, common practice; a note.",
    tables: &["gas-timing"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/down_slope", "")] }],
    sound: &[Case { base: "tee-fillet-3-6061-141", edits: &[] }, Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let slope = gas_timing::DOWN_SLOPE;
    for run in &view.runs {
        if !run.process.is_some_and(|process| process.uses_tungsten) {
            continue;
        }
        let Some(control) = run.value(&keys::CURRENT_CONTROL) else { continue };
        if *control.value == CurrentControl::Fixed && run.setting(&keys::DOWN_SLOPE).is_none() {
            let usual = range_limit(slope.value, slope.unit);
            x.report(Severity::Note, control.pointer, "a fixed current without down-slope")
                .limit(usual.clone(), &slope.origin.source_ref())
                .hint(format!("write `down_slope` within {usual}, or how the crater is filled"));
        }
    }
}
