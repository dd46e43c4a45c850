//! `test-not-acceptable`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::test_record::{TestRecord, TestResult};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<TestRecord> = Rule {
    name: "test-not-acceptable",
    harm: Harm::Qualification,
    finds: "A test that failed, or whose result is open.",
    matters: "A coupon qualifies a procedure when every test has passed.",
    remedy: "Test two more specimens for the failed one as the code allows, or weld another coupon.",
    limit: "Every test is acceptable.",
    tables: &[],
    examine,
    faulty: &[
        Case { base: "inspection/record-iso", edits: &[("/tests/0/result", "not acceptable")] },
        Case { base: "inspection/record-iso", edits: &[("/tests/0/result", "open")] },
    ],
    sound: &[Case { base: "inspection/record-iso", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, TestRecord>) {
    for (index, test) in x.view.record.tests.iter().enumerate() {
        let Some(result) = test.result else { continue };
        let pointer = format!("/tests/{index}/result");
        x.examined(&pointer);
        let (severity, words) = match result {
            TestResult::Acceptable => continue,
            TestResult::NotAcceptable => (Severity::Error, "is not acceptable; the record qualifies nothing"),
            TestResult::Open => (Severity::Caution, "has no result yet"),
        };
        let specimen = test.specimen.as_deref().map_or_else(String::new, |name| format!(" {name}"));
        x.report(severity, pointer, format!("the {} test{specimen} {words}", test.method))
            .stated(result.to_string())
            .hint("add the tests that replace it, or weld another coupon");
    }
}
