//! `outside-qualified-range`: explanation, cases, logic.

use seamwright_handbook::{Band, measure};
use seamwright_model::finding::Severity;

use super::against::AgainstRecords;
use super::binding::{applies, binding, hint};
use super::stated::{Stated, stated};
use crate::codes::range::{Bounds, Effect, Qualified};
use crate::codes::summary::Summary;
use crate::rule::{Case, Comparison, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "outside-qualified-range",
    harm: Harm::Qualification,
    finds: "A variable of the procedure outside the range that its test records qualify.",
    matters: "The procedure is not qualified there: nobody has shown that the weld holds what the code asks for.",
    remedy: "Write a value within the range, name another record, or make a new test.",
    limit: "The ranges of the code for the tested values; `seamwright range RECORD` prints them.",
    tables: &["iso-15614-1-ranges", "asme-ix-ranges", "aws-d1-1-ranges", "iso-15614-1-variables"],
    examine,
    faulty: &[
        Case { base: "inspection/procedure", edits: &[("/parent_metals/0/thickness", "2-11 mm")] },
        Case { base: "inspection/procedure", edits: &[("/parent_metals/0/specification", "S355J2+N")] },
        Case { base: "inspection/procedure", edits: &[("/temperatures/interpass", "350 °C maximum")] },
        Case { base: "inspection/procedure", edits: &[("/processes/141/polarity", "AC")] },
        Case { base: "inspection/procedure-asme", edits: &[("/processes/GTAW/deposit_thickness", "12 mm maximum")] },
        Case { base: "inspection/procedure-asme", edits: &[("/fillers/fill-electrode/designation", "E6010")] },
        Case { base: "inspection/procedure-asme", edits: &[("record:/temperatures/preheating", "150 °C")] },
    ],
    sound: &[Case { base: "inspection/procedure", edits: &[] }, Case { base: "inspection/procedure-asme", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    let view = x.view;
    let summary = Summary::of(view.view);
    for group in groups(view.ranges) {
        let Some(first) = group.first() else { continue };
        if first.effect == Effect::Nonessential || !applies(&summary, first, view.code) {
            continue;
        }
        for (place, _) in stated(&summary, first, view.code) {
            // Ranges of one record hold together; those of several records are a choice.
            let mut records: Vec<&[String]> = group.iter().map(|range| range.records.as_slice()).collect();
            records.dedup();
            let at = |range: &Qualified| {
                stated(&summary, range, view.code).into_iter().find(|(other, _)| other == &place).map(|(_, own)| own)
            };
            let mut failed = None;
            let fitting = records.iter().find(|own| {
                group.iter().filter(|range| range.records.as_slice() == **own).all(|range| {
                    let own = at(range);
                    let customary = own.as_ref().is_some_and(Stated::is_customary);
                    let Some(bounds) = binding(view, &summary, range, (&place, customary)) else { return true };
                    let held = own.is_none_or(|value| within(&value, &bounds));
                    if !held {
                        failed.get_or_insert(*range);
                    }
                    held
                })
            });
            let shown = match (fitting, failed) {
                (Some(own), _) => group.iter().find(|range| range.records.as_slice() == *own).copied(),
                (None, failed) => failed,
            };
            let Some((range, value)) = shown.and_then(|range| Some((range, at(range)?))) else { continue };
            let Some(bounds) = binding(view, &summary, range, (&place, value.is_customary())) else { continue };
            let text = match &value {
                Stated::Figures(value, _) => value.stated.clone(),
                Stated::Word(value, _) => value.stated.clone(),
            };
            let fits = fitting.is_some();
            x.examined(place.clone());
            x.comparisons.push(Comparison {
                check: x.rule,
                pointer: place.clone(),
                stated: text.clone(),
                limit: bounds.text(),
                source: range.source.clone(),
                within: fits,
            });
            if !fits {
                let (limit, name, reference) = (bounds.limit(), range.name(), range.reference.clone());
                let process = range.process.as_deref().map_or_else(String::new, |process| format!(" of {process}"));
                let message = format!(
                    "{name}{process} {text} lies outside what {} qualifies: {limit} ({} {reference})",
                    range.records.join(", "),
                    view.code.title(),
                );
                let hint = hint(view, range, &bounds);
                let source = range.source.clone();
                x.report(Severity::Error, place, message).stated(text).limit(limit, &source).hint(hint);
            }
        }
    }
}

/// Ranges of one variable and process together, in order.
fn groups(ranges: &[Qualified]) -> Vec<Vec<&Qualified>> {
    let mut groups: Vec<Vec<&Qualified>> = Vec::new();
    for range in ranges {
        match groups.iter_mut().find(|group| {
            group.first().is_some_and(|own| own.variable == range.variable && own.process == range.process)
        }) {
            Some(group) => group.push(range),
            None => groups.push(vec![range]),
        }
    }
    groups
}

/// Whether what is stated lies within bounds.
pub(super) fn within(value: &Stated, bounds: &Bounds) -> bool {
    match (value, bounds) {
        (Stated::Figures(value, open), Bounds::Span { span, .. }) => {
            let (limit, unit) = (span.band, if span.unit == "°F" { "°C" } else { "mm" });
            let own = value.value.map(|figure| measure::converted(figure, unit, span.unit));
            if !open {
                return bounds.holds(Band::new(own.low, own.closed().high));
            }
            // An open end counts as without limit where the variable says so.
            let without = |own: f64, limit: f64| own.is_infinite() && limit.is_finite();
            !without(own.low, limit.low) && !without(own.high, limit.high) && bounds.holds(own)
        }
        (Stated::Word(_, fits), Bounds::Set(_)) => *fits,
        _ => true,
    }
}
