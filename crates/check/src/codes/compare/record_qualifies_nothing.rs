//! `record-qualifies-nothing`: explanation, cases, logic.

use seamwright_model::finding::Severity;

use super::against::AgainstRecords;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "record-qualifies-nothing",
    harm: Harm::Qualification,
    finds: "A test record of the procedure with a test that failed, that contradicts its requirement or that the code asks for and the record does not have.",
    matters: "Ranges grow out of a coupon whose tests have all passed; without them the procedure is not qualified.",
    remedy: "Mend the record by the laboratory's report, add the tests, or name another record.",
    limit: "Every test that the code asks for is there and acceptable; the checks of test records say which is not.",
    tables: &["coupon-tests", "test-record-rules", "hardness-limits"],
    examine,
    faulty: &[
        Case {
            base: "inspection/procedure",
            edits: &[("record:/tests/3/value", "300 MPa"), ("record:/tests/3/result", "not acceptable")],
        },
        Case {
            base: "inspection/procedure",
            edits: &[("record:/tests/3/value", "300 MPa"), ("record:/tests/3/remark", "broke in the weld")],
        },
        Case { base: "inspection/procedure-asme", edits: &[("record:/tests", "")] },
    ],
    sound: &[
        Case { base: "inspection/procedure", edits: &[] },
        Case { base: "inspection/procedure-asme", edits: &[] },
        // A test whose result is open is a caution of the record.
        Case { base: "inspection/procedure", edits: &[("record:/tests/0/result", "open")] },
    ],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    for (place, words) in x.view.by_place(|_, own| own.nothing()) {
        x.examined(&place);
        x.report(Severity::Error, place, words).hint("name a record whose tests are all acceptable, or test again");
    }
}
