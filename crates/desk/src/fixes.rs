//! What to write so that a finding goes: taken from its limit and its hint, and proved on the changed text.

use seamwright_check::Outcome;
use seamwright_model::edit::{Edit, Edited, edit};
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::{Loaded, load};
use serde_json::Value;

use crate::companions::{Companions, Named};

/// A value that makes a finding go.
#[derive(Debug, Clone, PartialEq)]
pub struct Fix {
    /// JSON pointer of the value, which need not be there yet.
    pub pointer: String,
    /// What to write.
    pub value: Value,
    /// The change of the text.
    pub edited: Edited,
}

impl Companions<'_> {
    /// What to write so that a finding of a document goes, where one value does it.
    ///
    /// It is proved: with it the document is read, the finding is gone, and no error comes that was not there.
    pub fn fix(&self, loaded: &Loaded, outcome: &Outcome, named: &Named, finding: &Finding) -> Option<Fix> {
        candidates(loaded, finding).into_iter().find_map(|(pointer, value)| {
            let there = loaded.tree.at(&pointer).is_some();
            let change = if there {
                Edit::Set { pointer: pointer.clone(), value: value.clone() }
            } else {
                Edit::Insert { pointer: pointer.clone(), value: value.clone(), before: None }
            };
            let edited = edit(&loaded.source.text, &change).ok()?;
            let again = load(&loaded.source.name, edited.text.as_bytes()).ok()?;
            let after = self.check(&again, named).ok()?;
            let same = |one: &Finding, other: &Finding| one.check == other.check && one.pointer == other.pointer;
            let gone = !after.findings.iter().any(|own| same(own, finding));
            let no_worse = after
                .findings
                .iter()
                .all(|own| own.severity < Severity::Error || outcome.findings.iter().any(|old| same(old, own)));
            (gone && no_worse).then_some(Fix { pointer, value, edited })
        })
    }
}

/// What may be tried: pointers and values, the best first.
fn candidates(loaded: &Loaded, finding: &Finding) -> Vec<(String, Value)> {
    let pointer = &finding.pointer;
    let single =
        loaded.tree.at(pointer).is_some_and(|node| matches!(node.to_value(), Value::String(_) | Value::Number(_)));
    let mut all: Vec<(String, Value)> = Vec::new();
    let mut add = |pointer: String, text: &str| {
        let value = match serde_yaml::from_str::<Value>(text) {
            // A flow section or list is meant as it is; a single value as its text, so that `no` and `135` stay words.
            Ok(value @ (Value::Object(_) | Value::Array(_))) => value,
            _ => Value::String(text.to_owned()),
        };
        if !all.iter().any(|(place, other)| *place == pointer && *other == value) {
            all.push((pointer, value));
        }
    };
    let hint = finding.hint.as_deref().unwrap_or_default();
    // What stands between backticks is every second part.
    for written in hint.split('`').skip(1).step_by(2) {
        match written.split_once(": ") {
            Some((key, value)) if pointer.rsplit('/').next() == Some(key) => add(pointer.clone(), value),
            Some((key, value)) if !key.contains(' ') => add(format!("{pointer}/{key}"), value),
            None if single && !written.contains(' ') => add(pointer.clone(), written),
            _ => {}
        }
    }
    let within = hint.split_once("within ").map(|(_, rest)| rest.split(", or ").next().unwrap_or(rest));
    for limit in within.into_iter().chain(finding.limit.as_deref()).filter(|_| single) {
        if let Some(narrowed) = finding.stated.as_deref().and_then(|stated| narrowed(stated, limit)) {
            add(pointer.clone(), &narrowed);
        }
        for one in std::iter::once(limit).chain(limit.split(" or ")) {
            add(pointer.clone(), one);
        }
    }
    all
}

/// The part of a stated range that lies within a limit, where both are written in one unit.
fn narrowed(stated: &str, limit: &str) -> Option<String> {
    let ((low, high, unit), (least, most, other)) = (ends(stated)?, ends(limit)?);
    let (first, last) = (low.0.max(least.0), high.0.min(most.0));
    if unit != other || first > last {
        return None;
    }
    let text = |value: f64| [low, high, least, most].into_iter().find(|end| (end.0 - value).abs() < f64::EPSILON);
    let (first, last) = (text(first)?.1, text(last)?.1);
    Some(if first == last { format!("{first} {unit}") } else { format!("{first}-{last} {unit}") })
}

/// The ends of a range such as `70-90 A`, each with its spelling, and its unit.
fn ends(text: &str) -> Option<((f64, &str), (f64, &str), &str)> {
    let (figures, unit) = text.split_once(' ')?;
    let (low, high) = figures.split_once('-').unwrap_or((figures, figures));
    let end = |figure: &str| figure.parse::<f64>().ok();
    Some(((end(low)?, low), (end(high)?, high), unit))
}
