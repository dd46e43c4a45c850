//! What several test records qualify together, and which of them a procedure may rest on.

use std::borrow::Borrow;

use seamwright_handbook::qualified::Span;

use super::qualify::Qualification;
use super::range::{Bounds, Qualified, THICKER_MEMBER};
use super::summary::Summary;
use super::words::treatment_word;

/// The ranges of several records as they stand together.
///
/// Ranges of one variable and process are joined where they touch and where the coupons share the metals and fillers of
/// that process; else each record's range stands by itself, and a procedure needs one of them. Words are gathered. Coupons
/// that differ in heat treatment, or of which one has no impact tests, never join: a procedure is one or the other.
pub fn combine<Q: Borrow<Qualification>>(qualifications: &[Q]) -> Vec<Qualified> {
    let mut all: Vec<Qualified> = Vec::new();
    for (index, qualification) in qualifications.iter().map(Q::borrow).enumerate() {
        for range in &qualification.ranges {
            let partner = all.iter_mut().find(|own| {
                own.variable == range.variable
                    && own.process == range.process
                    && own.reference == range.reference
                    && qualifications.get(..index).unwrap_or_default().iter().map(Q::borrow).any(|other| {
                        let own_records = records_of(other);
                        own.records.iter().any(|record| own_records.contains(record))
                            && same_condition(other, qualification)
                            && (alike(other, qualification, range.process.as_deref())
                                || matches!(range.bounds, Bounds::Set(_) | Bounds::All))
                    })
                    && joined(&own.bounds, &range.bounds).is_some()
            });
            match partner {
                Some(own) => {
                    let other = own.other.as_ref().zip(range.other.as_ref()).and_then(|(one, two)| joined(one, two));
                    if let Some(bounds) = joined(&own.bounds, &range.bounds) {
                        own.bounds = bounds;
                    }
                    own.other = other;
                    own.records.extend(range.records.iter().cloned());
                    if own.tested != range.tested {
                        own.tested = format!("{}; {}", own.tested, range.tested);
                    }
                }
                None => all.push(range.clone()),
            }
        }
    }
    all
}

fn records_of(qualification: &Qualification) -> Vec<String> {
    qualification.ranges.first().map(|range| range.records.clone()).unwrap_or_default()
}

/// Whether two coupons are in one condition: heat treated alike, and both with impact tests or both without.
fn same_condition(one: &Qualification, other: &Qualification) -> bool {
    let treatment = |of: &Qualification| -> Vec<Bounds> {
        let named = |range: &&Qualified| matches!(range.variable, "post_weld_heat_treatment" | "holding_temperature");
        of.ranges.iter().filter(named).map(|range| range.bounds.clone()).collect()
    };
    one.toughness == other.toughness && treatment(one) == treatment(other)
}

/// The word for the heat treatment of the coupon.
fn treatment_of(of: &Qualification) -> Option<&str> {
    let range = of.ranges.iter().find(|range| range.variable == "post_weld_heat_treatment")?;
    match &range.bounds {
        Bounds::Set(words) => words.first().map(String::as_str),
        _ => None,
    }
}

/// A record that says nothing of a procedure, as it is in another condition.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetAside {
    /// Numbers of the record.
    pub records: Vec<String>,
    /// Why, in words.
    pub why: String,
    /// JSON pointer into the procedure: what the record does not have.
    pub pointer: &'static str,
}

/// The records that a procedure may rest on, and those that are set aside as the code does not let them stand beside those.
///
/// A record that qualifies nothing is left out without a word here, where another stands beside it. Where none has the heat
/// treatment of the procedure, or none has impact tests where it asks for them, all are kept: what they lack is found variable by
/// variable.
pub fn supporting<'q>(
    qualifications: &[&'q Qualification],
    summary: &Summary<'_>,
) -> (Vec<&'q Qualification>, Vec<SetAside>) {
    let sound: Vec<&Qualification> = qualifications.iter().copied().filter(|one| one.faults.is_empty()).collect();
    let mut kept = if sound.is_empty() { qualifications.to_vec() } else { sound };
    let mut aside = Vec::new();
    let mut part = |kept: &mut Vec<&'q Qualification>,
                    fits: &dyn Fn(&Qualification) -> bool,
                    pointer: &'static str,
                    why: &dyn Fn(&Qualification) -> String| {
        let (own, others): (Vec<_>, Vec<_>) = kept.iter().copied().partition(|one| fits(one));
        if !own.is_empty() {
            *kept = own;
            aside.extend(others.iter().map(|one| SetAside { records: records_of(one), why: why(one), pointer }));
        }
    };
    if let Some(own) = summary.treatment.as_ref().map(|own| treatment_word(&own.value)) {
        part(
            &mut kept,
            &|one| treatment_of(one).is_none_or(|word| word == own),
            "/temperatures/post_weld_heat_treatment",
            &|one| {
                let words = match treatment_of(one) {
                    Some("none") => "its coupon is not heat treated, and the procedure is",
                    _ => "its coupon is heat treated, and the procedure is not",
                };
                words.to_owned()
            },
        );
    }
    if summary.toughness {
        part(&mut kept, &|one| one.toughness, "/qualification/toughness", &|_| {
            "it has no impact tests, and the procedure asks for toughness".to_owned()
        });
    }
    (kept, aside)
}

/// Whether two coupons share metals, and the fillers of a process.
fn alike(one: &Qualification, other: &Qualification, process: Option<&str>) -> bool {
    let words = |of: &Qualification, variable: &str| -> Vec<Bounds> {
        of.ranges
            .iter()
            .filter(|range| {
                range.variable == variable && (range.process.is_none() || range.process.as_deref() == process)
            })
            .map(|range| range.bounds.clone())
            .collect()
    };
    ["base_metal_group", "f_number", "a_number", "filler_designation", THICKER_MEMBER]
        .iter()
        .all(|variable| words(one, variable) == words(other, variable))
}

/// Two ranges as one; `None` where a gap lies between them.
fn joined(one: &Bounds, other: &Bounds) -> Option<Bounds> {
    match (one, other) {
        (Bounds::Span { span: own, exclusive: e1 }, Bounds::Span { span: its, exclusive: e2 })
            if own.unit == its.unit =>
        {
            let band = own.band.hull(its.band);
            // An end lies outside where each range that ends there leaves it out.
            let out = |end: f64, one: (f64, bool), other: (f64, bool)| {
                let left = |(own, out): (f64, bool)| own.total_cmp(&end).is_ne() || out;
                end.is_finite() && left(one) && left(other)
            };
            let low = out(band.low, (own.band.low, e1.0), (its.band.low, e2.0));
            let high = out(band.high, (own.band.high, e1.1), (its.band.high, e2.1));
            let span = Span { band, unit: own.unit };
            own.band.overlap(its.band).map(|_| Bounds::Span { span, exclusive: (low, high) })
        }
        (Bounds::Set(one), Bounds::Set(other)) => {
            let mut words = one.clone();
            words.extend(other.iter().filter(|word| !one.contains(word)).cloned());
            Some(Bounds::Set(words))
        }
        (Bounds::All, _) | (_, Bounds::All) => Some(Bounds::All),
        _ => None,
    }
}
