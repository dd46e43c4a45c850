//! `filler-unsuited-to-metal`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::filler_classes;
use seamwright_handbook::filler_suitability::{self, Suitability};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-unsuited-to-metal",
    harm: Harm::Metal,
    finds: "A filler that is not meant for the base metal.",
    matters: "The weld metal cracks, is weaker than the parts, or rusts where they do not.",
    remedy: "Take a filler of the metal's family; between two metals, one that suits both.",
    limit: "The filler choice by family of metal; an unsuited filler is an error, an unusual one a note.",
    tables: &["filler-classes"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-3-6061-141", edits: &[("/fillers/rod/designation", "ER70S-2")] },
        // Between unlike metals: steel filler on stainless steel, and 4043 on aluminium with much magnesium.
        Case { base: "tee-fillet-5-304l-s355-141", edits: &[("/fillers/rod/designation", "ER70S-6")] },
        Case { base: "tee-fillet-5-304l-s355-141", edits: &[("/fillers/rod/designation", "ER308L")] },
        Case { base: "butt-6-5083-141", edits: &[("/fillers/rod/designation", "ER4043")] },
    ],
    sound: &[
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[] },
        Case { base: "tee-fillet-5-304l-s355-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let known: Vec<_> = x.view.metals.iter().filter_map(|metal| metal.known).collect();
    let (Some(first), Some(second)) = (known.first(), known.last()) else { return };
    let mut seen: Vec<String> = Vec::new();
    for run in &x.view.runs {
        let Some((name, filler)) = run.filler(x.view.procedure) else { continue };
        let Some(class) = filler_classes::find(&filler.designation) else { continue };
        let pointer = format!("/fillers/{}/designation", seamwright_model::source::escape(name.value));
        if seen.contains(&pointer) {
            continue;
        }
        x.examined(&pointer);
        if let Suitability::Unsuited(reason) = filler_suitability::suits(class, first, second) {
            let metals = x
                .view
                .metals
                .iter()
                .map(|metal| metal.stated.specification.to_string())
                .collect::<Vec<_>>()
                .join(" to ");
            let source = class.origin.source_ref();
            x.report(Severity::Error, &pointer, format!("{} is not meant for {metals}: {reason}", filler.designation))
                .stated(&*filler.designation)
                .limit("a filler for this metal", &source)
                .hint("`seamwright table filler-classes` lists what suits");
        }
        seen.push(pointer);
    }
}
