//! `scratch-start-unsuited`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{ArcStart, Polarity, keys};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "scratch-start-unsuited",
    harm: Harm::Process,
    finds: "A scratch start on aluminium or with alternating current.",
    matters: "The tungsten alloys with aluminium at the touch, and an alternating arc does not strike that way.",
    remedy: "Write a high-frequency start.",
    limit: "Aluminium and alternating current are started without touching, common practice.",
    tables: &["practice-statements"],
    examine,
    faulty: &[Case { base: "tee-fillet-3-6061-141", edits: &[("/processes/141/arc_start", "scratch")] }],
    sound: &[
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/arc_start", "scratch")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let aluminium = view.any_metal("aluminium");
    for run in &view.runs {
        if !run.process.is_some_and(|process| process.uses_tungsten) {
            continue;
        }
        let Some(start) = run.value(&keys::ARC_START) else { continue };
        x.examined(&start.pointer);
        let alternating = run.value(&keys::POLARITY).is_some_and(|at| *at.value == Polarity::Ac);
        if *start.value != ArcStart::Scratch || !(aluminium || alternating) {
            continue;
        }
        let on = if aluminium { "on aluminium" } else { "with alternating current" };
        x.report(Severity::Error, &start.pointer, format!("scratch start {on}"))
            .stated(start.value.as_str())
            .limit("a start without touching", &practice::TOUCH_FREE_START.origin.source_ref())
            .hint("write `arc_start: high-frequency`");
    }
}
