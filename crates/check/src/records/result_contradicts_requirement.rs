//! `result-contradicts-requirement`: explanation, cases, logic.

use seamwright_calc::band::{Band, below};
use seamwright_handbook::coupon_tests;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::{Limit, Severity, SourceRef};
use seamwright_model::quantity;
use seamwright_model::test_record::{Measured, Test, TestMethod, TestRecord, TestResult};

use crate::codes;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<TestRecord> = Rule {
    name: "result-contradicts-requirement",
    harm: Harm::Qualification,
    finds: "A test whose result says something else than its value beside its requirement.",
    matters: "A record that calls a failed specimen acceptable qualifies nothing.",
    remedy: "Look at the laboratory's report, and mend the value or the result.",
    limit: "The requirement that the record states; a tensile specimen that breaks in the base metal may fall 5 % short under ASME IX, one impact specimen of three to 70 % of the mean.",
    tables: &["test-record-rules"],
    examine,
    faulty: &[
        Case {
            base: "inspection/record-iso",
            edits: &[("/tests/3/value", "341 MPa"), ("/tests/3/remark", "broke in the weld")],
        },
        Case { base: "inspection/record-iso", edits: &[("/tests/3/value", "345 MPa")] },
        Case { base: "inspection/record-iso", edits: &[("/tests/5/value", "4 mm")] },
        Case { base: "inspection/record-iso", edits: &[("/tests/3/result", "not acceptable")] },
    ],
    sound: &[
        Case { base: "inspection/record-iso", edits: &[] },
        // QW-153.1(d) (from memory): a break in the base metal may fall 5 % short, under ASME IX alone.
        Case {
            base: "inspection/record-asme",
            edits: &[
                ("/tests/1/requirement", "60000 psi minimum"),
                ("/tests/1/value", "57500 psi"),
                ("/tests/1/remark", "broke in the base metal"),
            ],
        },
        Case {
            base: "inspection/record-iso",
            edits: &[(
                "/tests/7",
                "{method: impact, requirement: 27 J minimum, values: [40 J, 20 J, 31 J], result: acceptable}",
            )],
        },
    ],
};

fn examine(x: &mut Examiner<'_, TestRecord>) {
    let allows = x.view.record.code().and_then(codes::of).is_some_and(|code| code.allows_break_in_base_metal());
    for (index, test) in x.view.record.tests.iter().enumerate() {
        let (Some(result), Some(requirement)) = (test.result, test.requirement.as_deref()) else { continue };
        let Some(asked) = Measured::parse(test.method, requirement) else { continue };
        let Some((met, stated, source)) = verdict(test, &asked, allows) else { continue };
        let pointer = format!("/tests/{index}/result");
        x.examined(&pointer);
        let specimen = test.specimen.as_deref().map_or_else(String::new, |name| format!(" {name}"));
        let fault = match result {
            TestResult::Acceptable if !met => "does not meet",
            TestResult::NotAcceptable if met => "meets",
            _ => continue,
        };
        // Said in the units of the value, too, where those are other ones.
        let beside = quantity::in_unit_of(requirement, &stated).map_or_else(String::new, |own| format!(" ({own})"));
        let message = format!(
            "the {} test{specimen} is called {result}, and {stated} {fault} {requirement}{beside}",
            test.method
        );
        let report = x.report(Severity::Error, pointer, message).stated(result.to_string());
        let report = match source {
            Some(source) => report.limit(Limit::stated(requirement), &source),
            None => report,
        };
        report.hint("mend the value, the requirement or the result by the laboratory's report");
    }
}

/// Whether the values meet the requirement, the value that decides, and the source of an allowance that was used.
fn verdict(test: &Test, asked: &Measured, allows_base_metal: bool) -> Option<(bool, String, Option<SourceRef>)> {
    let texts: Vec<&str> = test.value.iter().chain(&test.values).map(|text| &**text).collect();
    let measured: Option<Vec<Measured>> = texts.iter().map(|text| Measured::parse(test.method, text)).collect();
    let measured = measured.filter(|list| !list.is_empty())?;
    let (low, high, unit) = asked.ends();
    if test.method == TestMethod::Impact && measured.len() > 1 {
        let lows: Vec<f64> = measured.iter().filter_map(|value| value.ends().0).collect();
        #[expect(clippy::cast_precision_loss, reason = "a few specimens")]
        let mean = lows.iter().sum::<f64>() / lows.len().max(1) as f64;
        let least = lows.iter().copied().fold(f64::INFINITY, f64::min);
        let rule = coupon_tests::IMPACT_SINGLE;
        let asked = low?;
        let under = lows.iter().filter(|value| **value < asked).count();
        let met = !below(mean, asked) && least >= asked * rule.value.low / 100.0 && under <= 1;
        return Some((
            met,
            format!("mean {} {unit}, lowest {} {unit}", figure(mean), figure(least)),
            Some(rule.origin.source_ref()),
        ));
    }
    let mut source = None;
    let mut allowed = 1.0;
    let base =
        test.remark.as_deref().is_some_and(|remark| remark.contains("base metal") || remark.contains("parent metal"));
    if test.method == TestMethod::Tensile && base && allows_base_metal {
        let rule = coupon_tests::TENSILE_IN_BASE_METAL;
        allowed = 1.0 - rule.value.high / 100.0;
        source = Some(rule.origin.source_ref());
    }
    let fails = |value: &Measured| {
        let (from, to, _) = value.ends();
        Band::of((from, to)).outside(Band::of((low.map(|low| low * allowed), high))).either()
    };
    let worst = measured.iter().zip(&texts).find(|(value, _)| fails(value));
    let stated = worst.map_or_else(|| texts.join(", "), |(_, text)| (*text).to_owned());
    Some((worst.is_none(), stated, source))
}
