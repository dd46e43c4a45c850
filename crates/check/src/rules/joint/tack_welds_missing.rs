//! `tack-welds-missing`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::WeldType;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "tack-welds-missing",
    harm: Harm::Instruction,
    finds: "A joint without a word on tack welds.",
    matters: "Cracked tacks left in the root become the root.",
    remedy: "Write number, length and what becomes of them, or `tack_welds: none`.",
    limit: "ISO 15609-1 asks for it; a note.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/joint/tack_welds", "")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/joint/tack_welds", ""), ("/joint/type", "butt"), ("/joint/weld", "surfacing")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    // One piece is surfaced: there is nothing to hold together.
    let surfaced = x.view.weld() == Some(WeldType::Surfacing);
    if surfaced || x.view.procedure.joint.as_ref().is_none_or(|joint| joint.tack_welds.is_some()) {
        return;
    }
    x.report(Severity::Note, "/joint/tack_welds", "no word on tack welds")
        .hint("write number, length and what becomes of them, or `tack_welds: none`")
        .asked("joint.tack_welds", "tack welds stated");
}
