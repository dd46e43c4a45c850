//! `issued-content-changed`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::issue;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "issued-content-changed",
    harm: Harm::Papers,
    finds: "A procedure whose content is not what was sealed when its revision was issued.",
    matters: "Two cards of one number and revision with different values hang in the shop, and the approval covers only one.",
    remedy: "Raise the revision with `seamwright revise`, or bring back what was issued.",
    limit: "The seal under `identification`: a digest of all values but the status.",
    tables: &[],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/identification/seal", "0123456789abcdef")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let procedure = x.view.procedure;
    let identification = &procedure.identification;
    let Some(sealed) = identification.seal.as_deref() else { return };
    let pointer = "/identification/seal";
    x.examined(pointer);
    let found = issue::seal(procedure);
    if sealed != found {
        x.report(
            Severity::Error,
            pointer,
            format!(
                "the content has changed since revision {} of {} was issued: sealed {sealed}, found {found}",
                identification.revision, identification.number
            ),
        )
        .stated(sealed)
        .hint("raise the revision: seamwright revise FILE --why \"what changed\"");
    }
}
