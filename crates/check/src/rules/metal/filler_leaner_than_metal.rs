//! `filler-leaner-than-metal`: explanation, cases, logic.

use std::cmp::Reverse;

use seamwright_handbook::{filler_choice, filler_classes};
use seamwright_model::finding::Severity;
use seamwright_model::source::escape;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-leaner-than-metal",
    harm: Harm::Metal,
    finds: "A filler of a leaner alloy than the metals, where the alloy is what they are chosen for.",
    matters: "Such weld metal creeps, breaks in the cold or corrodes in service, and looks like any other.",
    remedy: "Take the filler of the alloy of the metal, or of the leaner of two.",
    limit: "Alloys from lean to rich for heat, cold and corrosion, and the alloy that each class is the usual filler of.",
    tables: &["alloy-order", "filler-choice", "filler-classes"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-p91-141", edits: &[("/fillers/rod/designation", "ER90S-B3")] },
        Case { base: "tube-butt-316l-141", edits: &[("/fillers/rod/designation", "ER308L")] },
        Case { base: "pipe-butt-13crmo4-5-141-111", edits: &[("/fillers/fill-electrode/designation", "E7018")] },
    ],
    sound: &[
        Case { base: "pipe-butt-p91-141", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[("/fillers/rod/designation", "ER316L")] },
        Case { base: "tee-fillet-5-304l-s355-141", edits: &[] },
        Case { base: "pipe-butt-2205-141", edits: &[] },
        Case { base: "pipe-butt-13crmo4-5-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let known: Vec<_> = x.view.metals.iter().filter_map(|metal| metal.known).collect();
    let (Some(first), Some(second)) = (known.first(), known.last()) else { return };
    let mut found = Vec::new();
    for run in &x.view.runs {
        let Some((name, filler)) = run.filler(x.view.procedure) else { continue };
        let Some(class) = filler_classes::find(&filler.designation) else { continue };
        let pointer = format!("/fillers/{}/designation", escape(name.value));
        x.examined(&pointer);
        let Some((order, has, needed)) = filler_choice::leaner(class, first, second) else { continue };
        let usual = filler_choice::choose(first, second, run.number())
            .and_then(|(_, classes)| classes.first().map(|row| row.classification));
        let hint = match usual {
            Some(usual) => format!("write `designation: {usual}`"),
            None => "`seamwright table filler-choice` lists the usual ones".to_owned(),
        };
        found.push((order.steps(has, needed), pointer, filler, (order, has, needed), hint));
    }
    // The leanest does the most harm.
    found.sort_by_key(|(steps, ..)| Reverse(*steps));
    for (_, pointer, filler, (order, has, needed), hint) in found {
        x.report(
            Severity::Caution,
            &pointer,
            format!("{} is for {has}, leaner than {needed}: {}", filler.designation, order.harm),
        )
        .stated(&*filler.designation)
        .limit(format!("a filler for {needed}"), &order.origin.source_ref())
        .hint(hint);
    }
}
