//! `torch-size-unknown`: explanation, cases, logic.

use seamwright_handbook::torches;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "torch-size-unknown",
    harm: Harm::Equipment,
    finds: "A torch size that the handbook does not know.",
    matters: "Rating and parts follow the size: an unknown one is not checked.",
    remedy: "Write the size number, such as 17, 26, 20 or 18.",
    limit: "Sizes of the torch table; a note.",
    tables: &["torches"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/torch/size", "340")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let Some(size) = run.setting(&keys::TORCH_SIZE) else { continue };
        x.examined(&size.pointer);
        if torches::get(size.value).is_none() {
            let sizes: Vec<&str> = torches::rows().iter().map(|row| row.size).collect();
            let near = torches::nearest(size.value).join(", ");
            let report = x
                .report(Severity::Note, &size.pointer, format!("torch size {} is not in the handbook", size.value))
                .stated(size.value);
            let report = match torches::rows().first() {
                Some(row) => report.limit(sizes.join(", "), &row.origin.source_ref()),
                None => report,
            };
            report.hint(if near.is_empty() {
                "write the size number, such as 17".to_owned()
            } else {
                format!("write {near}")
            });
        }
    }
}
