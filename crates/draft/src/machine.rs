//! Settings held to the machine of the shop, and choices to what stands on its shelf, where a shop is given.

use seamwright_handbook::Band;
use seamwright_handbook::measure::figure;
use seamwright_handbook::planning;
use seamwright_model::procedure::ArcStart;

use crate::bench::Bench;
use crate::facts::Facts;
use crate::figures::{rule, span};
use crate::page::Said;
use crate::refused::Refused;

/// The first of several candidates that a shop has, else the first.
pub(crate) fn stocked<T>(
    facts: &Facts,
    candidates: impl IntoIterator<Item = T>,
    has: impl Fn(&Bench, &T) -> bool,
) -> Option<T> {
    let mut all: Vec<T> = candidates.into_iter().collect();
    let there = facts.bench.as_ref().and_then(|bench| all.iter().position(|one| has(bench, one)));
    (!all.is_empty()).then(|| all.swap_remove(there.unwrap_or(0)))
}

/// A range of current in A held within what the machine of the shop gives; refused where it gives none of it, or too little to
/// be a range.
pub(crate) fn reached(facts: &Facts, current_a: Band) -> Result<Band, Refused> {
    let Some(bench) = &facts.bench else { return Ok(current_a) };
    let Some(own) = bench.current_a(facts.process.number) else { return Ok(current_a) };
    let (least, _) = rule(planning::MACHINE_RANGE_LEAST);
    let both = own.overlap(current_a).filter(|both| *both == current_a || both.high >= least.high * both.low);
    both.ok_or_else(|| {
        Refused::shop(format!(
            "{} gives {}, and {} of {} takes {}: a machine that gives {} A does",
            bench.machine().name,
            span(own, "A"),
            facts.thickness,
            facts.metal.specification,
            span(current_a, "A"),
            figure(current_a.high)
        ))
    })
}

/// The first polarity of several that the machine of the shop gives.
pub(crate) fn polarity<'p>(facts: &Facts, suited: &[&'p str]) -> Result<Option<&'p str>, Refused> {
    let first = suited.first().copied();
    let Some(bench) = facts.bench.as_ref().filter(|bench| !bench.machine().polarity.is_empty()) else {
        return Ok(first);
    };
    let gives: Vec<&str> = bench.machine().polarity.iter().map(|own| own.as_str()).collect();
    match suited.iter().copied().find(|own| gives.contains(own)) {
        None if first.is_some() => Err(Refused::shop(format!(
            "{} gives {}, and {} on {} takes {}",
            bench.machine().name,
            gives.join(", "),
            facts.process.number,
            facts.metal.specification,
            suited.join(" or ")
        ))),
        found => Ok(found),
    }
}

/// How the arc is started: as the machine does it, else the usual way of the current.
pub(crate) fn arc_start(facts: &Facts, alternating: bool) -> (ArcStart, Said) {
    let wanted: &[ArcStart] = if alternating {
        &[ArcStart::HighFrequency, ArcStart::Lift]
    } else {
        &[ArcStart::Lift, ArcStart::HighFrequency, ArcStart::Scratch]
    };
    match facts.bench.as_ref().and_then(|bench| Some((bench, bench.start(wanted)?))) {
        Some((bench, start)) => (start, Said::Follows(format!("{} has it", bench.machine().name).into())),
        None => (wanted[0], Said::Decide("what the machine has: high-frequency, lift or scratch".into())),
    }
}
