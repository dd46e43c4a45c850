//! Figures of the planning rules, rounded as a welder sets them, and ranges in words.

use seamwright_calc::band::{whole_down, whole_up};
use seamwright_handbook::measure::{MM_IN, figure};
use seamwright_handbook::{Band, Rule, SourceRef};

/// Millimetres in a thousandth of an inch, in which rules of thumb for current count.
pub(crate) const THOUSANDTH_MM: f64 = MM_IN / 1e3;

/// A range with its unit: `70-90 A`, or one value where both ends are equal.
pub(crate) fn span(range: Band, unit: &str) -> String {
    let (low, high) = (figure(range.low), figure(range.high));
    if low == high { format!("{low} {unit}") } else { format!("{low}-{high} {unit}") }
}

/// Both ends rounded to a step, inwards so that they stay within a limit, as long as something is left.
pub(crate) fn rounded(range: Band, step: f64) -> Band {
    let (low, high) = (whole_up(range.low / step) * step, whole_down(range.high / step) * step);
    if low <= high { Band::new(low, high) } else { range }
}

/// A range about the middle of a narrower one, wide enough to weld by: its high end is a ratio over its low end at the least,
/// and both are steps.
pub(crate) fn opened(range: Band, ratio: f64, step: f64) -> Band {
    if range.high >= ratio * range.low {
        return range;
    }
    let low = 2.0 * range.middle() / (1.0 + ratio);
    let nearest = |end: f64| (end / step).round() * step;
    Band::new(nearest(low), nearest(low * ratio))
}

/// A current in amperes that is wide enough to weld by, in steps of a machine's scale where they leave it so.
pub(crate) fn opened_current(range: Band, ratio: f64) -> Band {
    let coarse = opened(range, ratio, 5.0);
    if range.low >= 40.0 && coarse.high >= 1.1 * coarse.low { coarse } else { opened(range, ratio, 1.0) }
}

/// A range rounded to a step and held inside a limit.
pub(crate) fn within(range: Band, limit: Band) -> Band {
    range.overlap(limit).unwrap_or_else(|| {
        let end = if range.high < limit.low { limit.low } else { limit.high };
        Band::at(end)
    })
}

/// The part of a range: 0 is its low end, 1 its high end.
pub(crate) fn part(range: Band, share: Band) -> Band {
    let at = |share: f64| range.low + share * (range.high - range.low);
    Band::new(at(share.low), at(share.high))
}

/// Where a range lies in another, as shares of it; the inverse of [`part`].
pub(crate) fn share(range: Band, of: Band) -> Band {
    let width = of.high - of.low;
    if width <= 0.0 {
        return Band::at(0.5);
    }
    let at = |figure: f64| ((figure - of.low) / width).clamp(0.0, 1.0);
    Band::new(at(range.low), at(range.high))
}

/// A travel speed in steps that a hand can tell apart.
pub(crate) fn stepped(range: Band) -> Band {
    rounded(range, if range.high > 100.0 { 10.0 } else { 5.0 })
}

/// The figure of a planning rule, and where it comes from.
pub(crate) fn rule(own: &Rule) -> (Band, SourceRef) {
    (own.value, own.origin.source_ref())
}
