//! `toughness-not-tested`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::toughness;
use seamwright_model::test_record::TestMethod;

use super::against::AgainstRecords;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "toughness-not-tested",
    harm: Harm::Qualification,
    finds: "A procedure that asks for impact toughness, with records that have no impact test.",
    matters: "Toughness depends on heat input and filler; only impact specimens of the coupon show it.",
    remedy: "Name a record with impact tests at that temperature or below, or make them.",
    limit: "Impact tests at the temperature that is asked for, or lower.",
    tables: &["coupon-tests"],
    examine,
    faulty: &[Case { base: "inspection/procedure", edits: &[("/qualification/toughness", "27 J at -20 °C")] }],
    sound: &[Case { base: "inspection/procedure", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    let asked = x.view.view.procedure.qualification.as_ref().and_then(|own| own.toughness.as_deref());
    let Some((text, (_, temperature))) = asked.and_then(|text| Some((text, toughness(text).ok()??))) else { return };
    x.examined("/qualification/toughness");
    let lowest = temperature.low().or(temperature.high());
    let shown = x.view.records.iter().any(|record| {
        record.tests.iter().filter(|test| test.method == TestMethod::Impact).any(|test| {
            let at = test
                .temperature
                .as_ref()
                .and_then(|stated| stated.value())
                .and_then(|range| range.low().or(range.high()));
            at.zip(lowest).is_none_or(|(at, asked)| at <= asked)
        })
    });
    if !shown {
        x.report(
            Severity::Error,
            "/qualification/toughness",
            format!("{text} is asked for, and no record has an impact test at that temperature or below"),
        )
        .stated(text)
        .hint("name a record with such a test, or make it");
    }
}
