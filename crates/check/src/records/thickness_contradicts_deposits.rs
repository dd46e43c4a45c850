//! `thickness-contradicts-deposits`: explanation, cases, logic.

use seamwright_handbook::coupon_tests;
use seamwright_model::finding::Severity;
use seamwright_model::test_record::TestRecord;

use crate::codes::summary::Summary;
use crate::codes::thickness_contradiction;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<TestRecord> = Rule {
    name: "thickness-contradicts-deposits",
    harm: Harm::Qualification,
    finds: "Deposits of the processes that do not add up to the thickness of a full penetration coupon.",
    matters: "The range of each process grows out of its own deposit; a wrong one qualifies what was never welded.",
    remedy: "Measure the deposits on the macro section, and mend them or the thickness.",
    limit: "The sum of the deposits is the thickness of the coupon and its reinforcement.",
    tables: &["test-record-rules"],
    examine,
    faulty: &[
        Case { base: "inspection/record-iso", edits: &[("/processes/111/deposit_thickness", "6 mm")] },
        Case { base: "inspection/record-asme", edits: &[("/processes/SMAW/deposit_thickness", "4 mm")] },
    ],
    sound: &[
        Case { base: "inspection/record-iso", edits: &[] },
        Case { base: "inspection/record-iso", edits: &[("/processes/111/deposit_thickness", "4 mm")] },
    ],
};

fn examine(x: &mut Examiner<'_, TestRecord>) {
    let tested = Summary::of(x.view.view);
    let Some((message, pointer, hint)) = thickness_contradiction(&tested) else { return };
    let source = coupon_tests::DEPOSIT_SUM.origin.source_ref();
    let stated: Vec<String> =
        tested.processes.iter().filter_map(|process| Some(process.deposit.as_ref()?.stated.clone())).collect();
    x.report(Severity::Error, pointer, message)
        .stated(stated.join(", "))
        .limit("the thickness of the coupon", &source)
        .hint(hint);
}
