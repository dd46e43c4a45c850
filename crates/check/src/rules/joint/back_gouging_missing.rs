//! `back-gouging-missing`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::Sides;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "back-gouging-missing",
    harm: Harm::Fusion,
    finds: "A full-penetration joint welded from both sides, and no word on back gouging.",
    matters: "Whether the second side starts on sound metal or on the unfused root decides whether the joint goes through.",
    remedy: "Write the method and depth, or `back_gouging: none` where the first root is fused through.",
    limit: "ISO 15609-1 asks for the method of back gouging; a note.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[Case {
        base: "butt-12-s355-111",
        edits: &[("/joint/welded_from", "both sides"), ("/joint/back_gouging", "")],
    }],
    sound: &[Case { base: "butt-12-s355-111", edits: &[] }, Case { base: "pipe-butt-p235gh-141-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(joint) = &view.procedure.joint else { return };
    let both = joint.welded_from.as_ref().and_then(Stated::value) == Some(&Sides::Both)
        || joint.preparation.as_ref().and_then(Stated::value).is_some_and(|shape| shape.is_double());
    let groove = view.weld().is_some_and(|weld| weld.has_groove());
    if !(both && groove && view.full_penetration()) || joint.back_gouging.is_some() {
        return;
    }
    x.report(Severity::Note, "/joint/back_gouging", "welded from both sides without a word on back gouging")
        .hint("write the method and depth, or `back_gouging: none` where the first root is fused through")
        .asked("joint.back_gouging", "the method of back gouging, or none");
}
