//! `test-record-missing`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Route, Status};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "test-record-missing",
    harm: Harm::Qualification,
    finds: "A procedure qualified by test without the number of its test record.",
    matters: "Nobody can find the test that it stands on.",
    remedy: "Write the numbers of the test records, or route none.",
    limit: "A route by test names its records; an error on an issued procedure, on another a note.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification/records", "[]")] }],
    sound: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(qualification) = &view.procedure.qualification else { return };
    x.examined("/qualification/records");
    let tested = matches!(qualification.route, Route::TestRecord | Route::PreProductionTest);
    if !tested || !qualification.records.is_empty() {
        return;
    }
    let issued = view.procedure.identification.status == Some(Status::Issued);
    let severity = if issued { Severity::Error } else { Severity::Note };
    x.report(severity, "/qualification/records", "qualified by test, and no test record is named")
        .hint("write `records: [number]`, or `route: none`")
        .asked("qualification.records", "the number of a test record");
}
