//! `cleaning-missing`: explanation, cases, logic.

use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "cleaning-missing",
    harm: Harm::Instruction,
    finds: "A joint without a word on cleaning before welding.",
    matters: "Scale, oil and oxide end up in the weld as pores and lack of fusion.",
    remedy: "Write how far and with what the joint is cleaned.",
    limit: "ISO 15609-1 asks for it; a note.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/joint/cleaning", "")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    if x.view.procedure.joint.as_ref().is_none_or(|joint| joint.cleaning.is_some()) {
        return;
    }
    x.report(Severity::Note, "/joint/cleaning", "no word on cleaning before welding")
        .hint("write how far and with what the joint is cleaned")
        .asked("joint.cleaning", "cleaning before welding stated");
}
