//! `filler-carbon-above-grade`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_calc::Band;
use seamwright_handbook::{designation, filler_classes};
use seamwright_model::finding::Severity;
use seamwright_model::source::escape;

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-carbon-above-grade",
    harm: Harm::Metal,
    finds: "A filler without the low carbon of the stainless steel or nickel alloy that it joins.",
    matters: "Carbon takes chromium out of the weld metal as carbides: the weld rusts where the steel does not.",
    remedy: "Take the low-carbon class, such as ER308L or ER316L.",
    limit: "Carbon of the low-carbon grades and of the classes for them.",
    tables: &["filler-rules", "filler-classes", "base-metals"],
    examine,
    faulty: &[
        Case { base: "butt-2-304l-141", edits: &[("/fillers/rod/designation", "ER308H")] },
        Case { base: "butt-2-304l-141", edits: &[("/fillers/rod/designation", "ER308")] },
    ],
    sound: &[
        Case { base: "butt-2-304l-141", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[("/fillers/rod/designation", "ER308LSi")] },
        Case {
            base: "butt-2-304l-141",
            edits: &[("/fillers/rod/designation", "ER308"), ("/parent_metals/0/specification", "'304'")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let (grade, most) = (filler_classes::LOW_CARBON_GRADE, filler_classes::LOW_CARBON_FILLER);
    let low = x.view.metals.iter().find(|metal| {
        metal.is("austenitic-stainless")
            && metal.known.and_then(|known| known.composition.max("C")).is_some_and(|carbon| carbon <= grade.value.high)
    });
    let Some(metal) = low else { return };
    for run in &x.view.runs {
        let Some((name, filler)) = run.filler(x.view.procedure) else { continue };
        let Some(class) = filler_classes::find(&filler.designation) else { continue };
        let pointer = format!("/fillers/{}/designation", escape(name.value));
        x.examined(&pointer);
        // A class without the L stands in the row of the class with it, whose carbon it does not have.
        let stated = designation::parse(&filler.designation).map(|read| read.class).unwrap_or_default();
        let plain = class.classification == format!("{stated}L");
        let rich = class.composition.max("C").is_some_and(|carbon| carbon > most.value.high);
        if !plain && !rich {
            continue;
        }
        let source = most.origin.source_ref();
        let limit = range_limit(Band::at_most(most.value.high), "%").of("carbon");
        x.report(
            Severity::Note,
            &pointer,
            format!("{} may have more carbon than the low-carbon {}", filler.designation, metal.stated.specification),
        )
        .stated(&*filler.designation)
        .limit(limit, &source)
        .hint(format!(
            "write `designation: {}`",
            if plain { class.classification } else { "ER308L` or `designation: ER316L" }
        ));
    }
}
