//! `filler-unusual-for-metal`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::filler_choice;
use seamwright_handbook::filler_classes;
use seamwright_handbook::filler_suitability::{self, Suitability};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::WeldType;
use seamwright_model::source::escape;

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-unusual-for-metal",
    harm: Harm::Metal,
    finds: "A filler that can join the metals but is not the usual choice for them.",
    matters: "It may be weaker, or resist corrosion or heat less than the parts.",
    remedy: "Take the usual filler, or note why this one does.",
    limit: "What each class is usable for, beside the usual choice by pair of metals.",
    tables: &["filler-classes", "filler-choice"],
    examine,
    faulty: &[Case { base: "butt-3-carbon-141", edits: &[("/fillers/rod/designation", "ER2209")] }],
    sound: &[
        Case { base: "tee-fillet-5-304l-s355-141", edits: &[] },
        Case { base: "butt-6-5083-141", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[] },
        // A barrier layer has more alloy than what it lies on.
        Case {
            base: "butt-3-carbon-141",
            edits: &[("/fillers/rod/designation", "ER309LMo"), ("/joint/weld", "surfacing")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let known: Vec<_> = x.view.metals.iter().filter_map(|metal| metal.known).collect();
    let (Some(first), Some(second)) = (known.first(), known.last()) else { return };
    // What is surfaced has another alloy than the metal, or it would not be.
    if x.view.weld() == Some(WeldType::Surfacing) {
        return;
    }
    let mut before = "";
    for run in &x.view.runs {
        let Some((name, filler)) = run.filler(x.view.procedure) else { continue };
        // Most runs have the filler of the one before.
        if std::mem::replace(&mut before, name.value) == name.value {
            continue;
        }
        let Some(class) = filler_classes::find(&filler.designation) else { continue };
        let Suitability::Usable(reason) = filler_suitability::suits(class, first, second) else { continue };
        // A leaner alloy and strength have checks of their own.
        if filler_choice::leaner(class, first, second).is_some() {
            continue;
        }
        if filler_suitability::weaker(class, [first, second]).is_some_and(|weaker| weaker == reason) {
            continue;
        }
        let pointer = format!("/fillers/{}/designation", escape(name.value));
        let source = class.origin.source_ref();
        x.report(Severity::Note, &pointer, format!("{} is not the usual filler here: {reason}", filler.designation))
            .stated(&*filler.designation)
            .limit("the usual filler of the pair", &source)
            .hint("`seamwright table filler-choice` lists the usual ones");
    }
}
