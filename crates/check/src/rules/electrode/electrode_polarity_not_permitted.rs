//! `electrode-polarity-not-permitted`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::covered_electrodes;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-polarity-not-permitted",
    harm: Harm::Process,
    finds: "A polarity that the classification of the covered electrode does not permit.",
    matters: "The covering is made for its polarity: on another the arc is unstable and the deposit is not the one that was classified.",
    remedy: "Use a polarity of the classification, or another electrode.",
    limit: "The polarities that the classification permits.",
    tables: &["covered-electrodes"],
    examine,
    faulty: &[Case { base: "tee-fillet-10-s355-111", edits: &[("/processes/111/polarity", "DCEN")] }],
    sound: &[Case { base: "tee-fillet-10-s355-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        if !run.is_covered() {
            continue;
        }
        let Some((_, filler)) = run.filler(x.view.procedure) else { continue };
        let Some(row) = covered_electrodes::get(&filler.designation) else { continue };
        let Some(polarity) = run.value(&keys::POLARITY) else { continue };
        x.examined(&polarity.pointer);
        if row.polarity.iter().any(|permitted| permitted.as_str() == polarity.value.as_str()) {
            continue;
        }
        let permitted: Vec<&str> = row.polarity.iter().map(|polarity| polarity.as_str()).collect();
        let source = row.origin.source_ref();
        x.report(
            Severity::Error,
            &polarity.pointer,
            format!("{} does not permit {} ({})", filler.designation, polarity.value, permitted.join(", ")),
        )
        .stated(polarity.value.as_str())
        .limit(permitted.join(", "), &source)
        .hint(format!("write `polarity: {}`", permitted.join("` or `")));
    }
}
