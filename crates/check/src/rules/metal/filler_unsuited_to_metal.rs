//! `filler-unsuited-to-metal`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::filler_suitability::{self, Suitability};
use seamwright_handbook::{filler_classes, metal_families};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::WeldType;

/// Carbon steel that is surfaced with a layer of one filler and a layer of another.
macro_rules! surfaced {
    ($barrier:literal, $top:literal) => {
        Case {
            base: "tee-fillet-5-304l-s355-141",
            edits: &[
                ("/parent_metals", "[{specification: P265GH, thickness: 50 mm}]"),
                ("/joint", "{type: butt, weld: surfacing, penetration: not applicable}"),
                (
                    "/fillers",
                    concat!("{rod: {designation: ", $barrier, "}, top: {designation: ", $top, "}}"),
                ),
                (
                    "/runs",
                    "[{run: 1, process: 141, filler: rod, layer: fill}, {run: 2, process: 141, filler: top, layer: cap}]",
                ),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-unsuited-to-metal",
    harm: Harm::Metal,
    finds: "A filler that is not meant for the base metal, or in surfacing for the layer that it lies on.",
    matters: "The weld metal cracks, is weaker than the parts, or rusts where they do not.",
    remedy: "Take a filler of the metal's family; between two metals, one that suits both.",
    limit: "The filler choice by family of metal; an unsuited filler is an error, an unusual one a note. A later layer of surfacing lies on the one below: of a family with it, both stainless, or a filler for unlike metals; else a caution.",
    tables: &["filler-classes"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-3-6061-141", edits: &[("/fillers/rod/designation", "ER70S-2")] },
        // Between unlike metals: steel filler on stainless steel, and 4043 on aluminium with much magnesium.
        Case { base: "tee-fillet-5-304l-s355-141", edits: &[("/fillers/rod/designation", "ER70S-6")] },
        Case { base: "tee-fillet-5-304l-s355-141", edits: &[("/fillers/rod/designation", "ER308L")] },
        Case { base: "butt-6-5083-141", edits: &[("/fillers/rod/designation", "ER4043")] },
        // The first layer lies on the metal.
        surfaced!("ER316L", "ER316L"),
        // Aluminium on stainless weld metal.
        surfaced!("ER309LMo", "ER4043"),
    ],
    sound: &[
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[] },
        Case { base: "tee-fillet-5-304l-s355-141", edits: &[] },
        // Over a barrier layer lies what would not suit the metal.
        surfaced!("ER309LMo", "ER316L"),
        surfaced!("ER309L", "ER308L"),
        surfaced!("ER309L", "ERNiCrMo-3"),
    ],
};

/// Whether weld metal of a filler goes on that of another.
fn lies_on(upper: &filler_classes::Row, lower: &filler_classes::Row) -> bool {
    let akin = |one: &str, other: &str| {
        let stainless = |family| metal_families::is_in(family, "stainless");
        metal_families::is_in(one, other) || metal_families::is_in(other, one) || (stainless(one) && stainless(other))
    };
    upper.dissimilar || upper.families.iter().any(|one| lower.families.iter().any(|other| akin(one, other)))
}

fn examine(x: &mut Examiner<'_>) {
    let known: Vec<_> = x.view.metals.iter().filter_map(|metal| metal.known).collect();
    let (Some(first), Some(second)) = (known.first(), known.last()) else { return };
    let mut seen: Vec<String> = Vec::new();
    let surfaced = x.view.weld() == Some(WeldType::Surfacing);
    let mut below: Option<(&str, &'static filler_classes::Row)> = None;
    for run in &x.view.runs {
        let Some((name, filler)) = run.filler(x.view.procedure) else { continue };
        let Some(class) = filler_classes::find(&filler.designation) else { continue };
        let pointer = format!("/fillers/{}/designation", seamwright_model::source::escape(name.value));
        if seen.contains(&pointer) {
            continue;
        }
        x.examined(&pointer);
        if let Some((under, lower)) = below.filter(|_| surfaced) {
            if !lies_on(class, lower) {
                let (own, of) = (class.families.join(", "), lower.families.join(", "));
                let source = class.origin.source_ref();
                x.report(
                    Severity::Caution,
                    &pointer,
                    format!(
                        "{} is not meant for the layer below, {under}: it is for {own}, and that for {of}",
                        filler.designation
                    ),
                )
                .stated(&*filler.designation)
                .limit("a filler for this layer", &source)
                .hint("`seamwright table filler-classes` lists what suits");
            }
            below = Some((&filler.designation, class));
            seen.push(pointer);
            continue;
        }
        below = Some((&filler.designation, class));
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
