//! `coupon-test-missing`: explanation, cases, logic.

use seamwright_handbook::coupon_tests::{self, Coupon, Row};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::WeldType;
use seamwright_model::test_record::{TestMethod, TestRecord};

use crate::codes;
use crate::codes::summary::{Summary, Value};
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<TestRecord> = Rule {
    name: "coupon-test-missing",
    harm: Harm::Qualification,
    finds: "A test that the code asks of the coupon and that the record does not have, or not on enough specimens.",
    matters: "A procedure test counts when all its specimens have passed.",
    remedy: "Add the tests, or the laboratory's results.",
    limit: "The tests that the code asks for by weld and thickness.",
    tables: &["coupon-tests"],
    examine,
    faulty: &[
        Case { base: "inspection/record-iso", edits: &[("/tests/7/method", "micro")] },
        Case { base: "inspection/record-asme", edits: &[("/tests/3/count", "2")] },
        Case { base: "inspection/record-asme", edits: &[("/toughness", "27 J at -20 °C")] },
        // A coupon up to 12 mm has no row of impact tests, and the record says that toughness was asked for.
        Case { base: "inspection/record-iso", edits: &[("/toughness", "27 J at -20 °C")] },
        Case { base: "codes/record-api-1104", edits: &[("/tests/4/type", "transverse face")] },
        Case { base: "codes/record-api-1104", edits: &[("/parent_metals/0/outside_diameter", "324 mm")] },
    ],
    sound: &[
        Case { base: "inspection/record-iso", edits: &[] },
        Case { base: "inspection/record-asme", edits: &[] },
        Case { base: "inspection/record-iso", edits: &[("/tests/2/method", "ultrasonic")] },
        Case { base: "codes/record-api-1104", edits: &[] },
        Case { base: "codes/record-api-1104", edits: &[("/parent_metals/0/outside_diameter", "323.9 mm")] },
    ],
};

fn examine(x: &mut Examiner<'_, TestRecord>) {
    let record = x.view.record;
    let Some(code) = record.code() else { return };
    let governing = codes::of(code);
    let tested = Summary::of(x.view.view);
    let Some(thickness) = tested.thinnest().and_then(Value::size) else { return };
    let diameter = tested.diameter.iter().filter_map(Value::size).min_by_key(|size| size.length());
    let weld = if tested.weld.is_none_or(WeldType::has_groove) { "groove" } else { "fillet" };
    x.examined("/tests");
    let mut impact_missing = tested.toughness && !record.tests.iter().any(|test| test.method == TestMethod::Impact);
    for row in coupon_tests::asked(code.as_str(), weld, Coupon { thickness, diameter }) {
        let holds = match row.condition {
            Some("toughness") => tested.toughness,
            Some("hardness") => governing.is_some_and(|code| code.asks_hardness(&tested)),
            _ => true,
        };
        if !holds {
            continue;
        }
        let methods = row.methods();
        let found: u32 = record
            .tests
            .iter()
            .filter(|test| methods.contains(&test.method.as_str()) && row.is_of(test.kind.as_deref()))
            .map(|test| test.count.unwrap_or(1).max(u32::try_from(test.values.len()).unwrap_or(1).div_ceil(3)))
            .sum();
        if found >= row.count {
            continue;
        }
        if row.method == "impact" {
            impact_missing = false;
        }
        let name = row.words();
        let limit = format!("{} {name}", row.count);
        let message = if found == 0 {
            format!("no {name} test; {} asks for {}", codes::title(code), row.count)
        } else {
            format!("{found} {name} of the {} that {} asks for", row.count, codes::title(code))
        };
        let source = row.origin.source_ref();
        x.report(Severity::Error, "/tests", message).limit(limit, &source).hint(hint(row));
    }
    if let Some(text) = record.toughness().filter(|_| impact_missing) {
        x.report(Severity::Error, "/tests", format!("toughness {text} is stated, and the record has no impact test"))
            .stated(text)
            .hint("add the impact tests with `temperature:`, values, requirement and result, or write `toughness: not required`");
    }
}

/// What to write.
fn hint(row: &Row) -> String {
    let kind = row.specimen.map_or_else(String::new, |own| format!(" `type: {own}`,"));
    format!("add the test with{kind} specimen, value, requirement and result; verify the number against your edition")
}
