//! `contour-contradiction`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Contour, WeldType};
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "contour-contradiction",
    harm: Harm::Soundness,
    finds: "A contour that the weld cannot have, or that contradicts its reinforcement.",
    matters: "A hollow face leaves a groove unfilled, and a flush one has no reinforcement: the symbol asks for two things at once.",
    remedy: "Leave out the contour, or what contradicts it.",
    limit: "What the document states itself; ISO 2553 and AWS A2.4 give grooves a flush or convex contour (from memory).",
    tables: &["weld-symbols"],
    examine,
    faulty: &[
        Case { base: "butt-3-carbon-141", edits: &[("/weld_size", "{contour: concave}")] },
        Case { base: "butt-3-carbon-141", edits: &[("/weld_size", "{contour: flush, reinforcement: 1-2 mm}")] },
        Case { base: "butt-3-carbon-141", edits: &[("/weld_size", "{contour: convex, reinforcement: 0 mm}")] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/joint/weld", "edge"), ("/weld_size", "{contour: concave}")],
        },
    ],
    sound: &[
        Case { base: "butt-3-carbon-141", edits: &[("/weld_size", "{contour: flush}")] },
        Case { base: "butt-3-carbon-141", edits: &[("/weld_size", "{contour: convex, reinforcement: 1-2 mm}")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size/contour", "concave")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size/contour", "flush")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let procedure = x.view.procedure;
    let Some(size) = procedure.weld_size.as_ref().and_then(Stated::value) else { return };
    let Some(contour) = size.contour.as_ref().and_then(Stated::value).copied() else { return };
    x.examined("/weld_size/contour");
    let height = size.reinforcement.as_ref().and_then(Stated::value);
    let raised = height.and_then(|range| range.high().or(range.low())).map(|own| own.mm() > 0.0);
    let fillet = x.view.weld().is_some_and(WeldType::has_fillet);
    let said = match (contour, raised) {
        (Contour::Concave, _) if !fillet => "a concave face leaves the weld unfilled; fillets alone may have one",
        (Contour::Flush | Contour::Concave, Some(true)) => {
            "the weld has a reinforcement, and its face is to be without"
        }
        (Contour::Convex, Some(false)) => "the weld has no reinforcement, and its face is to be convex",
        _ => return,
    };
    x.report(Severity::Error, "/weld_size/contour", said)
        .stated(contour.as_str())
        .hint("leave out `contour:`, or write one that goes with the weld and its `reinforcement:`");
}
