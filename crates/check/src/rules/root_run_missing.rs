//! `root-run-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Layer;

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
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let groove = x.view.weld().is_some_and(|weld| weld.has_groove());
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
