//! `approval-missing`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Status;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "approval-missing",
    harm: Harm::Papers,
    finds: "A procedure that nobody has approved.",
    matters: "A sheet on the shop floor that nobody answers for.",
    remedy: "Write `approved_by`, or keep the status at draft.",
    limit: "An issued procedure names who approved it, practice of document control; a caution, without a status a note; a draft needs none.",
    tables: &["practice-statements"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/identification/approved_by", "")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/identification/approved_by", "not yet approved")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/identification/approved_by", ""), ("/identification/status", "draft")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let identification = &x.view.procedure.identification;
    let pointer = "/identification/approved_by";
    x.examined(pointer);
    if identification.approved_by.as_deref().is_some_and(|by| by != "not yet approved" && by != "none") {
        return;
    }
    // A draft says itself that nobody answers for it.
    if identification.status == Some(Status::Draft) {
        return;
    }
    let issued = identification.status == Some(Status::Issued);
    let severity = if issued { Severity::Caution } else { Severity::Note };
    let report = x.report(severity, pointer, if issued { "issued without approval" } else { "not yet approved" });
    report.hint("write `approved_by`, or `status: draft`").limit("a name", &practice::APPROVAL.origin.source_ref());
}
