//! `root-reinforcement-contradiction`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::{BackingType, Penetration, WeldType};
use seamwright_model::stated::{OrNone, Stated};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "root-reinforcement-contradiction",
    harm: Harm::Soundness,
    finds: "A root that is to stand through on the other side of a weld that cannot show it.",
    matters: "Root reinforcement (melt-through) is asked of welds from one side through the whole thickness, with the root free.",
    remedy: "Leave out the root reinforcement, or the strip, the second side or the partial penetration.",
    limit: "What the document states itself; ISO 2553 and AWS A2.4 (from memory).",
    tables: &["weld-symbols"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size/root_reinforcement", "1 mm")] },
        Case {
            base: "butt-3-carbon-141",
            edits: &[("/weld_size", "{root_reinforcement: 1 mm}"), ("/joint/backing", "{type: strip}")],
        },
        Case {
            base: "butt-3-carbon-141",
            edits: &[("/weld_size", "{root_reinforcement: 1 mm}"), ("/joint/welded_from", "both sides")],
        },
        Case {
            base: "butt-3-carbon-141",
            edits: &[("/weld_size", "{root_reinforcement: 1/32 in}"), ("/joint/penetration", "partial")],
        },
    ],
    sound: &[
        Case { base: "butt-3-carbon-141", edits: &[("/weld_size", "{root_reinforcement: 1 mm}")] },
        Case { base: "pipe-butt-304l-141-pc", edits: &[("/weld_size", "{root_reinforcement: 0.5-1.5 mm}")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let size = view.procedure.weld_size.as_ref().and_then(Stated::value);
    let Some(height) = size.and_then(|size| size.root_reinforcement.as_ref()).and_then(Stated::value) else { return };
    let pointer = "/weld_size/root_reinforcement";
    x.examined(pointer);
    let joint = view.procedure.joint.as_ref();
    let backing = joint.and_then(|joint| joint.backing.as_ref()).and_then(OrNone::value).map(|own| own.kind);
    let partial = joint.and_then(|joint| joint.penetration.as_ref()).and_then(Stated::value);
    let said = if !view.weld().is_none_or(WeldType::has_groove) {
        "the weld has no root that stands through"
    } else if partial == Some(&Penetration::Partial) {
        "the weld goes only part of the way through"
    } else if !view.one_sided() {
        "the root is welded over from the other side"
    } else if matches!(backing, Some(BackingType::Strip | BackingType::WeldMetal)) {
        "the root lies on a backing"
    } else {
        return;
    };
    x.report(Severity::Error, pointer, format!("a root reinforcement of {height} is stated, and {said}"))
        .stated(height.spelled())
        .hint("leave out `root_reinforcement:`, or weld from one side through the whole thickness");
}
