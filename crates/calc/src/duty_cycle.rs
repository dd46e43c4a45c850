//! Duty cycle of a power source at another current than its rated one.

use crate::Result;
use crate::argument::{Argument, result};
use crate::formula::{Basis, Formula};

const RATED_CURRENT: Argument = Argument("rated current", "A");
const RATED_DUTY: Argument = Argument("rated duty cycle", "%");
const CURRENT: Argument = Argument("current", "A");

/// Length of the period over which a duty cycle is counted, min (IEC 60974-1).
pub const PERIOD_MIN: f64 = 10.0;

/// Duty cycle at another current.
pub const DUTY_CYCLE: Formula = Formula {
    name: "duty-cycle",
    equation: "X = X1 (I1/I)², at most 100 %   [%; A]",
    source: "IEC 60974-1, definition of duty cycle; heat in the windings goes with the square of the current",
    basis: Basis::FromMemory,
    validity: "currents up to the source's maximum; below the rating of 100 % the source runs on",
};

/// A duty cycle and what it means in a period of ten minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DutyCycle {
    /// Duty cycle, %.
    pub duty_cycle_pct: f64,
    /// Arc time in ten minutes, min.
    pub arc_minutes_in_ten: f64,
    /// Rest in ten minutes, min.
    pub rest_minutes_in_ten: f64,
}

/// Duty cycle at a current from the rated one: `X = X1 (I1/I)²`, at most 100 %.
///
/// Source: IEC 60974-1, from memory. Currents must be greater than 0, the rated duty cycle over 0 and up to 100 %.
///
/// ```
/// // A source of 200 A at 60 %, used at 250 A
/// let duty = seamwright_calc::duty_cycle::duty_cycle(200.0, 60.0, 250.0)?;
/// assert!((duty.duty_cycle_pct - 38.4).abs() < 1e-9);
/// assert!((duty.rest_minutes_in_ten - 6.16).abs() < 1e-9);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn duty_cycle(rated_current_a: f64, rated_duty_pct: f64, current_a: f64) -> Result<DutyCycle> {
    let ratio = RATED_CURRENT.positive(rated_current_a)? / CURRENT.positive(current_a)?;
    let rated = RATED_DUTY.within(RATED_DUTY.positive(rated_duty_pct)?, 100.0)?;
    let duty_cycle_pct = (rated * ratio * ratio).min(100.0);
    let arc_minutes_in_ten = PERIOD_MIN * duty_cycle_pct / 100.0;
    Ok(DutyCycle { duty_cycle_pct, arc_minutes_in_ten, rest_minutes_in_ten: PERIOD_MIN - arc_minutes_in_ten })
}

/// Current in A that a source stands at a duty cycle: `I = I1 sqrt(X1/X)`.
///
/// Source and refusals as [`duty_cycle`]. 200 A at 60 % is 154.9 A at 100 %.
pub fn current_at_duty_cycle_a(rated_current_a: f64, rated_duty_pct: f64, duty_pct: f64) -> Result<f64> {
    let rated_current = RATED_CURRENT.positive(rated_current_a)?;
    let rated = RATED_DUTY.within(RATED_DUTY.positive(rated_duty_pct)?, 100.0)?;
    let duty = Argument("duty cycle", "%");
    let duty = duty.within(duty.positive(duty_pct)?, 100.0)?;
    result("current", rated_current * (rated / duty).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn low_currents_run_on_and_the_inverse_gives_the_current_back() {
        assert_eq!(
            duty_cycle(200.0, 60.0, 100.0),
            Ok(DutyCycle { duty_cycle_pct: 100.0, arc_minutes_in_ten: 10.0, rest_minutes_in_ten: 0.0 })
        );
        // IEC 60974-1 rule, from memory: 200 A at 60 % is 154.9 A at 100 %.
        let current = current_at_duty_cycle_a(200.0, 60.0, 100.0).unwrap();
        assert!((current - 154.9).abs() < 0.05);
        assert!((duty_cycle(200.0, 60.0, current).unwrap().duty_cycle_pct - 100.0).abs() < 1e-9);
        assert_eq!(
            duty_cycle(200.0, 0.0, 100.0).unwrap_err().to_string(),
            "rated duty cycle is 0 %, must be greater than 0"
        );
    }
}
