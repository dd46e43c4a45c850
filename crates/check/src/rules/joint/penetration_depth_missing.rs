//! `penetration-depth-missing`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::Penetration;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "penetration-depth-missing",
    harm: Harm::Instruction,
    finds: "A partial penetration weld without its depth.",
    matters: "Partial says only that it does not go through: strength and settings follow the depth.",
    remedy: "Write `penetration_depth`.",
    limit: "A partial penetration weld has a depth on the drawing (ISO 2553); an error.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[Case { base: "butt-3-carbon-141", edits: &[("/joint/penetration", "partial")] }],
    sound: &[
        Case { base: "butt-3-carbon-141", edits: &[] },
        Case {
            base: "butt-3-carbon-141",
            edits: &[("/joint/penetration", "partial"), ("/joint/penetration_depth", "2 mm")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(joint) = &x.view.procedure.joint else { return };
    if joint.penetration.as_ref().and_then(Stated::value) != Some(&Penetration::Partial)
        || joint.penetration_depth.is_some()
        || !x.view.weld().is_some_and(|weld| weld.has_groove())
    {
        return;
    }
    x.report(Severity::Error, "/joint/penetration", "partial penetration without its depth")
        .stated("partial")
        .hint("write `penetration_depth`")
        .asked("joint.penetration_depth", "a depth");
}
