//! `hardness-above-range`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_calc::band::above;
use seamwright_handbook::toughness;
use seamwright_model::finding::Severity;
use seamwright_model::stated::OrNone;
use seamwright_model::test_record::{Measured, TestMethod, TestRecord};

use crate::codes;
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The record of the example with a hardness test.
macro_rules! hardness {
    ($values:literal, $treatment:literal) => {
        Case {
            base: "inspection/record-iso",
            edits: &[
                ("/tests/7", concat!("{method: hardness, values: ", $values, ", result: acceptable}")),
                ("/temperatures/post_weld_heat_treatment", $treatment),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule<TestRecord> = Rule {
    name: "hardness-above-range",
    harm: Harm::Metal,
    finds: "A hardness of a procedure test under ISO 15614-1 above what the group of the metal may have, called acceptable.",
    matters: "Hard metal beside the weld cracks of hydrogen, and the test qualifies nothing.",
    remedy: "Preheat more, weld with more heat or treat the coupon, and test again.",
    limit: "Largest HV10 by group of the metal, heat-treated or not, of ISO 15614-1 Table 3; between two metals the higher.",
    tables: &["hardness-limits"],
    examine,
    faulty: &[
        hardness!("[381 HV10, 310 HV10]", "none"),
        hardness!("[321 HV10]", "{temperature: 590-620 °C, time: 60 min}"),
    ],
    sound: &[
        hardness!("[380 HV10, 310 HV10]", "none"),
        hardness!("[320 HV10]", "{temperature: 590-620 °C, time: 60 min}"),
        Case { base: "inspection/record-iso", edits: &[] },
        Case { base: "inspection/record-asme", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_, TestRecord>) {
    let (record, view) = (x.view.record, x.view.view);
    if !record.code().and_then(codes::of).is_some_and(|code| code.limits_hardness()) {
        return;
    }
    let treatment = record.temperatures.as_ref().and_then(|own| own.post_weld_heat_treatment.as_ref());
    let treated = treatment.is_some_and(|own| matches!(own, OrNone::Is(_)));
    let rows = view.metals.iter().filter_map(|metal| {
        let own = metal.stated.group.as_deref();
        let row = toughness::hardness(own.or(metal.known?.iso_group)?)?;
        Some((if treated { row.hv10_max_treated } else { row.hv10_max }?, row))
    });
    let Some((most, row)) = rows.max_by(|a, b| a.0.total_cmp(&b.0)) else { return };
    for (index, test) in record.tests.iter().enumerate().filter(|(_, test)| test.method == TestMethod::Hardness) {
        let texts = test.value.iter().map(|text| (text, "value".to_owned()));
        let values = test.values.iter().enumerate().map(|(at, text)| (text, format!("values/{at}")));
        for (text, key) in texts.chain(values) {
            let high = Measured::parse(test.method, text).and_then(|own| own.ends().1);
            let pointer = format!("/tests/{index}/{key}");
            x.examined(&pointer);
            if high.is_none_or(|own| !above(own, most)) {
                continue;
            }
            let state = if treated { "heat-treated" } else { "not heat-treated" };
            let limit = range_limit(Band::at_most(most), "HV10");
            x.report(
                Severity::Error,
                pointer,
                format!("{text} is above {limit} of group {}, {state}", row.groups.join(", ")),
            )
            .stated(&**text)
            .limit(limit, &row.origin.source_ref())
            .hint("write `result: not acceptable`, or the value of the laboratory's report");
        }
    }
}
