//! Post-weld heat treatment: holding time by thickness, and the rate that a thickness stands.

use crate::Result;
use crate::argument::{Argument, result};
use crate::formula::{Basis, Formula};

const THICKNESS: Argument = Argument("thickness", "in, or 25 mm");
const HOURS: Argument = Argument("hours for each inch", "h");
const MINUTES: Argument = Argument("minutes", "min");
const RATE: Argument = Argument("rate", "°C/h or °F/h");

/// Minutes in an hour.
const HOUR: f64 = 60.0;

/// Holding time of metal that is counted from nothing.
pub const HOLDING: Formula = Formula {
    name: "holding-time",
    equation: "t = max(60 h s, least)   [min; h hours for each inch or 25 mm, s thickness in inches or 25 mm]",
    source: "ASME BPVC Section VIII Division 1, Table UCS-56; ASME B31.3, Table 331.1.1",
    basis: Basis::Published,
    validity: "",
};

/// Holding time of metal above a bound.
pub const HOLDING_ABOVE: Formula = Formula {
    name: "holding-time-above",
    equation: "t = 60 b + m (s - s0)   [min; b hours at the bound s0, m minutes for each inch or 25 mm above it]",
    source: "ASME BPVC Section VIII Division 1, Table UCS-56 and UCS-56.1; ASME B31.3, Table 331.1.1",
    basis: Basis::Published,
    validity: "",
};

/// Largest rate of heating and cooling.
pub const CHANGE: Formula = Formula {
    name: "heat-treatment-rate",
    equation: "r = max(min(R, R / (s / s1)), least)   [°C/h or °F/h; s thickness, s1 thickness that the rate is divided by]",
    source: "ASME BPVC Section VIII Division 1, UCS-56(d); ASME B31.1, 132.5",
    basis: Basis::FromMemory,
    validity: "",
};

/// Holding time in minutes of a thickness in inches or in 25 mm, by hours for each of them, and at least `least_min`.
///
/// ```
/// let time = seamwright_calc::heat_treatment::holding_min(1.5, 1.0, 15.0)?;
/// assert!((time - 90.0).abs() < 1e-9);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn holding_min(thickness: f64, hours_for_each: f64, least_min: f64) -> Result<f64> {
    let time = HOUR * HOURS.not_negative(hours_for_each)? * THICKNESS.positive(thickness)?;
    result("holding time", time.max(MINUTES.not_negative(least_min)?))
}

/// Holding time in minutes of a thickness above a bound, both in inches or in 25 mm: hours at the bound, and minutes for each
/// inch or 25 mm above it; below the bound the hours alone.
pub fn holding_above_min(thickness: f64, bound: f64, base_h: f64, more_min_for_each: f64) -> Result<f64> {
    let over = (THICKNESS.positive(thickness)? - THICKNESS.not_negative(bound)?).max(0.0);
    let more = MINUTES.not_negative(more_min_for_each)? * over;
    result("holding time", HOUR * HOURS.not_negative(base_h)? + more)
}

/// Largest rate of heating or cooling for a thickness, which divides it by the thickness over `divisor` where that is more than
/// one; no less than `least`.
pub fn rate(most: f64, thickness: f64, divisor: f64, least: f64) -> Result<f64> {
    let share = (THICKNESS.positive(thickness)? / THICKNESS.positive(divisor)?).max(1.0);
    result("rate", (RATE.positive(most)? / share).max(RATE.not_negative(least)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: Result<f64>, expected: f64) {
        let found = found.unwrap();
        assert!((found - expected).abs() < 1e-9, "{found} {expected}");
    }

    // ASME VIII-1 Table UCS-56-1: up to 2 in 1 h for each inch, 15 min at least; above 2 h and 15 min for each inch over 2 in.
    #[test]
    fn holding_goes_with_thickness() {
        near(holding_min(0.125, 1.0, 15.0), 15.0);
        near(holding_min(0.25, 1.0, 15.0), 15.0);
        near(holding_min(2.0, 1.0, 15.0), 120.0);
        near(holding_above_min(2.0, 2.0, 2.0, 15.0), 120.0);
        near(holding_above_min(4.0, 2.0, 2.0, 15.0), 150.0);
        near(holding_above_min(0.5, 1.0, 4.0, 15.0), 240.0);
        assert!(holding_min(0.0, 1.0, 15.0).is_err() && holding_min(f64::NAN, 1.0, 15.0).is_err());
    }

    // ASME VIII-1 UCS-56(d): 400 °F/h over the thickness in inches, 400 at most, 100 need not be gone under.
    #[test]
    fn the_rate_falls_with_thickness() {
        near(rate(400.0, 0.5, 1.0, 100.0), 400.0);
        near(rate(400.0, 2.0, 1.0, 100.0), 200.0);
        near(rate(400.0, 8.0, 1.0, 100.0), 100.0);
        near(rate(600.0, 2.0, 2.0, 0.0), 600.0);
        near(rate(600.0, 4.0, 2.0, 0.0), 300.0);
        assert!(rate(0.0, 1.0, 1.0, 0.0).is_err());
    }
}
