//! `spot-weld-not-of-joint`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::{JointType, WeldType};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "spot-weld-not-of-joint",
    harm: Harm::Impossible,
    finds: "A spot weld in a joint whose parts do not lie on each other.",
    matters: "A spot goes through the upper part into the lower one: edges that meet have none.",
    remedy: "Write the joint as a lap, or the weld that it has.",
    limit: "What the document states itself; ISO 2553 and AWS A2.4 (from memory).",
    tables: &["weld-symbols"],
    examine,
    faulty: &[
        Case {
            base: "butt-3-carbon-141",
            edits: &[("/joint", "{type: butt, weld: spot}"), ("/weld_size", "{diameter: 10 mm}")],
        },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size/diameter", "10 mm")] },
    ],
    sound: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[("/joint", "{type: lap, weld: spot}"), ("/weld_size", "{diameter: 3/8 in}")],
    }],
};

fn examine(x: &mut Examiner<'_>) {
    let procedure = x.view.procedure;
    let (Some(joint), Some(weld)) = (&procedure.joint, x.view.weld()) else { return };
    let size = procedure.weld_size.as_ref().and_then(seamwright_model::stated::Stated::value);
    let across = size.and_then(|size| size.diameter.as_ref());
    if weld == WeldType::Spot {
        x.examined("/joint/type");
        if !matches!(joint.kind, JointType::Lap | JointType::Tee) {
            x.report(Severity::Error, "/joint/type", format!("a spot weld in a {} joint", joint.kind))
                .stated(joint.kind.as_str())
                .hint("write `type: lap`, or the weld that the joint has");
        }
    } else if across.is_some() && weld != WeldType::Plug {
        x.examined("/weld_size/diameter");
        x.report(Severity::Error, "/weld_size/diameter", format!("a {weld} weld has no diameter"))
            .hint("leave out `diameter:`, or write `weld: spot` or `weld: plug`");
    }
}
