//! `fillet-gap-too-wide`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use super::bounds::{Grade, Value, at_most, hold, limits};
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "fillet-gap-too-wide",
    finds: "A gap under a fillet wider than parts are fitted with.",
    matters: "The throat of the fillet is less by the gap, and past a few millimetres the weld falls through it.",
    remedy: "Fit the parts closer, or prepare a groove.",
    limit: "Gap of fillet weld assembly: past the usual a note, past the widest an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "tee-fillet-12-s355-135", edits: &[("/joint/root_gap", "8 mm")] }],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/joint/root_gap", "0-2 mm")] },
        Case { base: "butt-15-s355-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    if view.weld().is_none_or(|weld| weld.has_groove() || !weld.has_fillet()) {
        return;
    }
    let gap = view.procedure.joint.as_ref().and_then(|joint| joint.root_gap.as_ref()).and_then(Stated::value);
    let (Some(gap), Some((limits, unit))) = (gap, limits("fillet-gap", "")) else { return };
    let grade = Grade {
        what: "gap",
        usual: Severity::Note,
        widest: Severity::Error,
        hint: "write `root_gap: 0-2 mm`, or prepare a groove",
    };
    let ends = (None, gap.high().or(gap.low()).map(Length::mm));
    let value = Value { pointer: "/joint/root_gap", stated: gap.spelled(), ends };
    hold(x, &value, &at_most(&limits), unit, &grade);
}
