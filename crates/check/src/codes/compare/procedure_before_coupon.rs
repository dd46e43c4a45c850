//! `procedure-before-coupon`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Status;

use super::against::AgainstRecords;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "procedure-before-coupon",
    harm: Harm::Papers,
    finds: "A procedure that is dated before the coupon of its test record was welded.",
    matters: "It cannot rest on a test that had not been made.",
    remedy: "Issue a revision after the test, or mend the date.",
    limit: "The day on which the coupon was welded, as the record states it; an error where the procedure lists the record, and a caution where it does not. A draft may come before.",
    tables: &["practice-statements"],
    examine,
    faulty: &[Case { base: "inspection/procedure", edits: &[("/identification/date", "2025-12-01")] }],
    sound: &[
        Case { base: "inspection/procedure", edits: &[] },
        Case {
            base: "inspection/procedure",
            edits: &[("/identification/date", "2025-12-01"), ("/identification/status", "draft")],
        },
    ],
};

/// Where a procedure states its date.
const PLACE: &str = "/identification/date";

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    let procedure = x.view.view.procedure;
    let Some(date) = procedure.identification.date else { return };
    if procedure.identification.status == Some(Status::Draft) {
        return;
    }
    x.examined(PLACE);
    let listed = procedure.qualification.as_ref().map(|own| own.records.as_slice()).unwrap_or_default();
    let later = x.view.records.iter().filter_map(|record| Some((record, record.welded.filter(|day| *day > date)?)));
    let Some((record, welded)) = later.max_by_key(|(_, welded)| *welded) else { return };
    let number = &record.identification.number;
    let severity = if listed.contains(number) { Severity::Error } else { Severity::Caution };
    x.report(severity, PLACE, format!("dated {date}, before the coupon of {number} was welded on {welded}"))
        .stated(date.to_string())
        .limit(format!("{welded} or after"), &practice::HISTORY.origin.source_ref())
        .hint("issue a revision that is dated after the test, or mend the date");
}
