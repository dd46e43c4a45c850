//! `thoriated-tungsten`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::tungsten_types::{self, Suits};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "thoriated-tungsten",
    harm: Harm::Equipment,
    finds: "A tungsten electrode with thoria, which is radioactive.",
    matters: "The dust from grinding it must not be breathed, and its waste needs care.",
    remedy: "Take an electrode with lanthana or ceria; it starts as well and lasts as long.",
    limit: "The types of electrode whose oxide is radioactive; a note, since it welds well.",
    tables: &["tungsten-types"],
    examine,
    faulty: &[Case { base: "butt-2-304l-141", edits: &[("/processes/141/tungsten/designation", "WTh20")] }],
    sound: &[Case { base: "butt-2-304l-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(named) = super::of_run::designation(run) else { continue };
        let Some(row) = tungsten_types::get(named.value) else { continue };
        x.examined(&named.pointer);
        if !row.radioactive {
            continue;
        }
        let safer: Vec<&str> = tungsten_types::rows()
            .iter()
            .filter(|other| !other.radioactive && other.dc == Suits::Good && other.ac == Suits::Good)
            .map(|other| other.iso6848)
            .collect();
        let source = row.origin.source_ref();
        x.report(Severity::Note, &named.pointer, format!("{} is radioactive ({})", named.value, row.oxide))
            .stated(named.value)
            .limit(safer.join(" or "), &source)
            .hint(format!("write one of {}", safer.join(", ")));
    }
}
