//! `aluminium-without-filler`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::filler_choice;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

/// The check.
pub const RULE: Rule = Rule {
    name: "aluminium-without-filler",
    harm: Harm::Metal,
    finds: "A heat-treatable aluminium alloy that is fused without filler.",
    matters: "Fused alone, its composition cracks while it freezes.",
    remedy: "Weld with a filler of 4xxx or 5xxx, which moves the weld metal out of the range that cracks.",
    limit: "The fillers that are usual for the alloy.",
    tables: &["filler-choice"],
    examine,
    faulty: &[Case { base: "tee-fillet-3-6061-141", edits: &[("/processes/141/filler", "none")] }],
    sound: &[Case { base: "tee-fillet-3-6061-141", edits: &[] }, Case { base: "butt-6-5083-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(metal) = x.view.metals.iter().find(|metal| metal.is("aluminium-heat-treatable")) else { return };
    let Some(known) = metal.known else { return };
    for run in &x.view.runs {
        let Some(filler) = run.setting(&keys::FILLER) else { continue };
        x.examined(&filler.pointer);
        if filler.value != "none" {
            continue;
        }
        let Some(row) = filler_choice::best(known, known) else { continue };
        let usual = row.classes(run.number()).join(" or ");
        let source = row.origin.source_ref();
        x.report(
            Severity::Error,
            &filler.pointer,
            format!("{} cracks when it is fused without filler", metal.stated.specification),
        )
        .stated("none")
        .limit(if usual.is_empty() { "a filler".to_owned() } else { usual.clone() }, &source)
        .hint(format!("declare a filler, such as {usual}, and name it here"));
    }
}
