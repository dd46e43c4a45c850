//! What to write so that a finding goes: taken from its limit and its hint, and proved on the changed text.

use seamwright_check::Outcome;
use seamwright_handbook::measure::figure;
use seamwright_model::Loaded;
use seamwright_model::edit::{Edit, Edited};
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::load::{Plain, load_plain};
use seamwright_model::source::NodeKind;
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
    /// It is proved: with it the document is read, the finding is gone, and no error or caution comes that was not there.
    pub fn fix(&self, loaded: &Loaded, outcome: &Outcome, named: &Named, finding: &Finding) -> Option<Fix> {
        let candidates = candidates(loaded, finding);
        if candidates.is_empty() {
            return None;
        }
        let plain = Plain::read(&loaded.source.text).ok()?;
        candidates.into_iter().find_map(|(pointer, value)| {
            let there = loaded.tree.at(&pointer).is_some();
            let change = if there {
                Edit::Set { pointer: pointer.clone(), value: value.clone() }
            } else {
                Edit::Insert { pointer: pointer.clone(), value: value.clone(), before: None }
            };
            let (changed, replaced, by) = plain.edit(&change).ok()?;
            let (again, _) = load_plain(&loaded.source.name, &changed).ok()?;
            let after = self.check(&again, named).ok()?;
            let same = |one: &Finding, other: &Finding| one.check == other.check && one.pointer == other.pointer;
            let gone = !after.findings.iter().any(|own| same(own, finding));
            let no_worse = after
                .findings
                .iter()
                .all(|own| own.severity < Severity::Caution || outcome.findings.iter().any(|old| same(old, own)));
            let edited = Edited { text: changed.text().to_owned(), replaced, by };
            (gone && no_worse).then_some(Fix { pointer, value, edited })
        })
    }
}

/// Where a document says what is there or was decided, not how it is welded: no limit tells what to write.
const FACTS: &[&str] =
    &["/parent_metals", "/identification", "/revisions", "/qualification", "/inspection", "/weld_size"];

/// Words of a hint that gives an example or leaves a choice.
const CHOICES: &[&str] = &["for example", "such as", "that is used", "where ", " or `"];

/// What may be tried: pointers and values, the best first.
fn candidates(loaded: &Loaded, finding: &Finding) -> Vec<(String, Value)> {
    let (pointer, hint) = (&finding.pointer, finding.hint.as_deref().unwrap_or_default());
    if FACTS.iter().any(|facts| pointer.starts_with(facts)) {
        return Vec::new();
    }
    let mut all = Vec::new();
    let mut add = |pointer: String, text: &str| all.push((pointer, Value::String(text.to_owned())));
    // What stands between backticks is every second part.
    let written: Vec<&str> = hint.split('`').skip(1).step_by(2).collect();
    if let ([one], false) = (written.as_slice(), CHOICES.iter().any(|word| hint.contains(word)))
        && let Some((key, value)) = one.split_once(": ")
        && !value.contains(" or ")
        && !value.starts_with(['{', '['])
        && value != NONE
    {
        if pointer.rsplit('/').next() == Some(key) {
            add(pointer.clone(), value);
        } else {
            add(format!("{pointer}/{key}"), value);
        }
    }
    let single = loaded.tree.at(pointer).is_some_and(|node| matches!(node.kind, NodeKind::Scalar(_)));
    let within = hint.split_once("within ").map(|(_, rest)| rest.split(", or ").next().unwrap_or(rest));
    if let (true, Some(limit), Some(stated)) = (single, within, finding.stated.as_deref())
        && let Some(inside) = inside(stated, limit)
    {
        add(pointer.clone(), &inside);
        add(pointer.clone(), limit);
    }
    all
}

/// The word by which a document says that there is none of a thing.
const NONE: &str = "none";

/// The part of a stated range that lies within a limit; where it has none, the range moved in as far as it must be.
fn inside(stated: &str, limit: &str) -> Option<String> {
    let ((low, high, unit), (least, most, other)) = (ends(stated)?, ends(limit)?);
    if unit != other {
        return None;
    }
    let width = (high - low).min(most - least);
    let (first, last) = match (low.max(least), high.min(most)) {
        (first, last) if first <= last => (first, last),
        _ if high < least => (least, least + width),
        _ => (most - width, most),
    };
    let (first, last) = (figure(first), figure(last));
    Some(if first == last { format!("{first} {unit}") } else { format!("{first}-{last} {unit}") })
}

/// The ends of a range such as `70-90 A` and its unit.
fn ends(text: &str) -> Option<(f64, f64, &str)> {
    let (figures, unit) = text.split_once(' ')?;
    let (low, high) = figures.split_once('-').unwrap_or((figures, figures));
    Some((low.parse().ok()?, high.parse().ok()?, unit))
}

#[cfg(test)]
mod tests {
    use super::inside;

    #[test]
    fn a_range_is_cut_to_its_limit_or_moved_into_it() {
        for (stated, limit, inside_it) in [
            ("60-100 A", "70-110 A", Some("70-100 A")),
            ("100-120 A", "70-110 A", Some("100-110 A")),
            ("130-140 A", "70-110 A", Some("100-110 A")),
            ("20 A", "70-110 A", Some("70 A")),
            ("20-200 A", "70-110 A", Some("70-110 A")),
            ("1-2.25 m/min", "5-12.5 m/min", Some("5-6.25 m/min")),
            ("20 in", "70-110 mm", None),
            ("20 A maximum", "70-110 A", None),
            ("spray", "70-110 A", None),
        ] {
            assert_eq!(inside(stated, limit).as_deref(), inside_it, "{stated} in {limit}");
        }
    }
}
