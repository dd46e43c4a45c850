//! ISO 15614-1: ranges of a procedure test of steel and nickel, levels 1 and 2.

use seamwright_handbook::iso_15614_1::{self as tables, Covers};
use seamwright_handbook::measure::figure;
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::test_record::TestRecord;
use seamwright_weld::view::Metal;

use crate::codes::changed::Changed;
use crate::codes::code::{Code, Judge, Refusal};
use crate::codes::iso_15614::{Part, group, label};
use crate::codes::range::{Bounds, Qualified};
use crate::codes::summary::{ProcessSummary, Summary, Value};
use crate::codes::words::{clause, own_name};

/// The code.
pub(super) struct Iso15614;

impl Code for Iso15614 {
    fn word(&self) -> &'static str {
        "iso-15614-1"
    }

    fn ranges(&self, record: &TestRecord, tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
        ranges(record, tested)
    }

    fn judge(&self) -> Judge {
        Judge { label, variables: |process, toughness| part(("2017", "2")).changes(process, toughness), counts }
    }

    fn levels(&self) -> Option<&'static str> {
        Some(setting_limits::ISO_15614_1_LEVEL)
    }

    /// Of steels whose heat affected zone hardens, all but groups 1.1 and 8 (note of `coupon-tests`).
    fn asks_hardness(&self, tested: &Summary<'_>) -> bool {
        tested.view.metals.iter().any(|metal| {
            let group = metal.known.and_then(|known| known.iso_group).unwrap_or_default();
            tables::covered_by(group).is_some() && group != "1.1" && group.split('.').next() != Some("8")
        })
    }

    fn limits_hardness(&self) -> bool {
        true
    }

    fn heat<'s>(&self, process: &'s ProcessSummary<'_>) -> &'s [Value<Band>] {
        &process.heat_input
    }

    fn groove_covers_fillets(&self) -> bool {
        false
    }

    /// A lower heat input comes from hardness tests and binds always; so does all else.
    fn without_impact_tests(&self, range: &Qualified, bounds: &Bounds) -> Option<Bounds> {
        match (range.variable, bounds) {
            ("heat_input", Bounds::Span { span, .. }) if span.band.low.is_finite() => bounds.uncapped(true),
            ("heat_input", _) => None,
            _ => Some(bounds.clone()),
        }
    }
}

/// Whether a change counts, at the level of the procedure.
fn counts(change: &Changed<'_>) -> bool {
    let qualification = change.pair.new.procedure.qualification.as_ref();
    let first = qualification.is_some_and(|own| own.level.as_deref() == Some("1"));
    part(("2017", if first { "1" } else { "2" })).counts(change)
}

/// The part with the figures of an edition and a level.
fn part(issue: tables::Issue) -> Part {
    Part { title: "ISO 15614-1", issue, range: tables::range, rules: tables::rules, variables: tables::variables }
}

/// The ranges of a record, and the edition.
fn ranges(record: &TestRecord, tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
    let old = record.edition().is_some_and(|edition| edition.starts_with("2004"));
    let level = if record.level() == Some("1") && !old { "1" } else { "2" };
    let issue = (if old { "2004" } else { "2017" }, level);
    let part = part(issue);
    let steel_or_nickel = |whole| !(21..=38).contains(&whole) && whole < 51;
    let instead = |whole| match whole {
        21..=26 => "write `code: iso-15614-2`, which is for aluminium",
        _ => "name the part of ISO 15614 for this metal; its ranges are not in the handbook",
    };
    part.refuse(tested, steel_or_nickel, ("no steel and no nickel alloy", instead))?;
    let mut ranges = part.ranges(record, tested, covered);
    // Equal or lower yield strength stands beside the groups.
    let place = ranges.iter().position(|range| range.variable == "base_metal_group").map_or(0, |at| at + 1);
    ranges.splice(place..place, yield_strength(tested));
    Ok((format!("{}, level {level}", issue.0), ranges))
}

/// Equal or lower yield strength, where the group's rule says so on both sides.
fn yield_strength(tested: &Summary<'_>) -> Option<Qualified> {
    let metals = &tested.view.metals;
    let (first, last) = (metals.first()?, metals.last()?);
    let by_yield = |metal: &Metal<'_>| {
        let row = tables::covered_by(group(metal)?)?;
        (row.covers == Covers::EqualOrLowerYield).then_some(row)
    };
    let row = by_yield(first).filter(|_| by_yield(last).is_some())?;
    let highest = [first, last].iter().filter_map(|metal| metal.known?.yield_min_mpa).reduce(f64::max)?;
    let source = row.origin.source_ref();
    let range = Qualified::span("yield_strength", &clause(&row.origin), Band::at_most(highest), "MPa", source);
    let note = "specified least yield strength of the base metal, within the group";
    Some(range.tested(format!("{} MPa", figure(highest))).note(note))
}

/// Groups that a test of this metal covers.
fn covered(metal: &Metal<'_>) -> Vec<String> {
    let Some(group) = group(metal) else { return vec![own_name(metal)] };
    let Some(rule) = tables::covered_by(group) else { return vec![group.to_owned()] };
    if rule.covers == Covers::SameSubgroup {
        return vec![group.to_owned()];
    }
    let Some((whole, sub)) = group.split_once('.') else { return vec![group.to_owned()] };
    let mut words: Vec<String> = tables::groups()
        .iter()
        .filter(|row| row.group.split_once('.').is_some_and(|(own, below)| own == whole && below <= sub))
        .map(|row| row.group.to_owned())
        .collect();
    if words.is_empty() {
        words.push(group.to_owned());
    }
    words
}
