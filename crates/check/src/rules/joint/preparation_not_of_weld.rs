//! `preparation-not-of-weld`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Preparation;
use seamwright_model::stated::Stated;

/// The check.
pub const RULE: Rule = Rule {
    name: "preparation-not-of-weld",
    harm: Harm::Impossible,
    finds: "Keys of a prepared edge in a weld that has none, or a preparation without its angle.",
    matters: "A sheet that names a bevel for a fillet weld sends someone to the grinder for nothing.",
    remedy: "Take the key out, or name the weld that has it.",
    limit: "The keys that each kind of weld has.",
    tables: &[],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/joint/included_angle", "60 deg")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(joint) = &x.view.procedure.joint else { return };
    let Some(weld) = x.view.weld() else { return };
    let shape = joint.preparation.as_ref().and_then(Stated::value).copied();
    let square = shape == Some(Preparation::Square);
    let keys = [
        ("preparation", shape.is_some_and(|shape| shape != Preparation::Square), !weld.has_groove()),
        ("included_angle", is(joint.included_angle.as_ref()), !weld.has_groove() || square),
        ("root_face", is(joint.root_face.as_ref()), !weld.has_groove() || square),
        ("root_radius", is(joint.root_radius.as_ref()), !weld.has_groove() || square),
    ];
    for (key, stated, foreign) in keys {
        if !stated {
            continue;
        }
        let pointer = format!("/joint/{key}");
        x.examined(&pointer);
        if foreign {
            let kind = if weld.has_groove() { "square preparation" } else { weld.as_str() };
            x.report(Severity::Error, pointer, format!("`{key}` does not belong to a {kind}"))
                .hint("take it out, write `not applicable`, or change `weld` or `preparation`");
        }
    }
    if weld.has_groove() && shape.is_some_and(Preparation::is_cut) && joint.included_angle.is_none() {
        x.report(Severity::Caution, "/joint/included_angle", "a bevelled preparation without its angle")
            .hint("write for example `included_angle: 60 deg`");
    }
}

fn is<T>(value: Option<&Stated<T>>) -> bool {
    value.is_some_and(|stated| stated.value().is_some())
}
