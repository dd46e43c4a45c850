//! `revision-history-mismatch`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "revision-history-mismatch",
    harm: Harm::Papers,
    finds: "A history whose last entry is not the revision of the document.",
    matters: "A print of an old revision cannot be told from the current one.",
    remedy: "Add an entry for this revision, with date and change.",
    limit: "The last entry of `revisions` names the revision in `identification`.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/identification/revision", "9")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(last) = x.view.procedure.revisions.last() else { return };
    let pointer = format!("/revisions/{}/revision", x.view.procedure.revisions.len() - 1);
    x.examined(&pointer);
    let identification = &x.view.procedure.identification;
    if *last.revision != *identification.revision {
        let revision = &identification.revision;
        let message = format!("the history ends at revision {}, the document is revision {revision}", last.revision);
        x.report(Severity::Error, pointer, message)
            .stated(&*last.revision)
            .hint("add an entry for this revision, or mend the revision in `identification`")
            .asked("identification.revision", format!("revision {revision}"));
    } else if last.date.is_some() && identification.date.is_some() && last.date != identification.date {
        x.report(Severity::Caution, pointer, format!("revision {} has two dates", last.revision))
            .stated(&*last.revision)
            .hint("write the same date in `identification` and in the last entry of `revisions`");
    }
}
