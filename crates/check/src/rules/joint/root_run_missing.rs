//! `root-run-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{JointType, Layer};
use seamwright_model::stated::Stated;

/// The check.
pub const RULE: Rule = Rule {
    name: "root-run-missing",
    harm: Harm::Fusion,
    finds: "A one-sided groove without a root run.",
    matters: "The root decides whether the joint holds; its settings differ from those of the fill.",
    remedy: "Mark the first run `layer: root`, or `single` where there is only one.",
    limit: "Common practice: a one-sided groove has a root run; runs in one row are a note, in several a caution.",
    tables: &[],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/runs/0/layer", "fill")] }],
    sound: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case {
            base: "butt-12-s355-111",
            edits: &[
                (
                    "/joint",
                    "{type: cavity, weld: groove, penetration: partial, penetration_depth: 8 mm, cavity_width: 20 mm, included_angle: 60 deg}",
                ),
                ("/runs/0/layer", "fill"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let groove = x.view.weld().is_some_and(|weld| weld.has_groove());
    let joint = x.view.procedure.joint.as_ref();
    // The bottom of a cavity is no root, nor is that of a flare, which is not welded through.
    let shape = joint.and_then(|joint| joint.preparation.as_ref()).and_then(Stated::value);
    if joint.is_some_and(|joint| joint.kind == JointType::Cavity) || shape.is_some_and(|shape| shape.is_flare()) {
        return;
    }
    if !groove || !x.view.one_sided() || x.view.runs.is_empty() {
        return;
    }
    x.examined("/runs/0/layer");
    if !x.view.runs.iter().any(|run| matches!(run.run.layer, Some(Layer::Root | Layer::Single))) {
        // Where one row stands for all runs, nothing tells them apart; where several do, the first is welded as a fill.
        let severity = if x.view.runs.len() == 1 { Severity::Note } else { Severity::Caution };
        x.report(severity, "/runs/0/layer", "no run is the root of this one-sided groove")
            .hint("write `layer: root` at the first run");
    }
}
