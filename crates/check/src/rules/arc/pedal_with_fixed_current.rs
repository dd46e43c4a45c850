//! `pedal-with-fixed-current`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{CurrentControl, keys};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "pedal-with-fixed-current",
    harm: Harm::Process,
    finds: "A foot pedal beside one fixed current.",
    matters: "A pedal varies the current from nothing to the maximum of the machine: one figure says neither.",
    remedy: "Write a maximum, such as `120 A maximum`, or a range; or write `current_control: fixed`.",
    limit: "With a pedal a current is a range or a maximum, common practice.",
    tables: &["practice-statements"],
    examine,
    faulty: &[Case { base: "tee-fillet-3-6061-141", edits: &[("/runs/0/current", "130 A")] }],
    sound: &[
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/runs/0/current", "140 A maximum")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/current", "80 A")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let pedal = run.value(&keys::CURRENT_CONTROL).is_some_and(|at| *at.value == CurrentControl::FootPedal);
        let Some(current) = run.value(&keys::CURRENT).filter(|_| pedal) else { continue };
        x.examined(&current.pointer);
        if current.value.single().is_some() {
            let stated = current.value.spelled();
            x.report(Severity::Caution, &current.pointer, format!("fixed current {stated} beside a foot pedal"))
                .stated(stated)
                .limit("a range or a maximum", &practice::PEDAL_CURRENT.origin.source_ref())
                .hint(format!("write `current: {stated} maximum`, or `current_control: fixed`"));
        }
    }
}
