//! Arc energy and heat input.
//!
//! Arc energy E = U I / (1000 v), kJ/mm with U in V, I in A and v in mm/s (ISO/TR 18491). QW-409.1(a) of ASME IX calls
//! the same quantity heat input. Heat input of ISO/TR 17671-1 and EN 1011-1 is Q = k E with the thermal efficiency k of
//! the process.

use crate::error::{CalcError, positive};

/// Arc energy, kJ/mm, from voltage (V), current (A) and travel speed (mm/min).
///
/// Errs where an argument is not a finite number above zero. Source: ISO/TR 18491; ASME BPVC IX QW-409.1(a).
///
/// ```
/// // 20 V, 100 A, 120 mm/min is 2 mm/s: 2000 W over 2 mm/s is 1 kJ/mm.
/// let energy = seamwright_calc::heat_input::arc_energy(20.0, 100.0, 120.0)?;
/// assert!((energy - 1.0).abs() < 1e-12);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn arc_energy(voltage_v: f64, current_a: f64, travel_speed_mm_min: f64) -> Result<f64, CalcError> {
    let power = positive("voltage", voltage_v)? * positive("current", current_a)?;
    from_arc_power(power, travel_speed_mm_min)
}

/// Arc energy, kJ/mm, from the mean instantaneous power of a waveform-controlled arc (W) and travel speed (mm/min).
///
/// Errs where an argument is not a finite number above zero. Source: ISO/TR 18491; ASME BPVC IX QW-409.1(c).
pub fn from_arc_power(power_w: f64, travel_speed_mm_min: f64) -> Result<f64, CalcError> {
    Ok(positive("arc power", power_w)? * 60.0 / (1000.0 * positive("travel speed", travel_speed_mm_min)?))
}

/// Heat input, kJ/mm: arc energy (kJ/mm) times thermal efficiency k.
///
/// Errs where an argument is not a finite number above zero. Source: ISO/TR 17671-1; EN 1011-1.
pub fn heat_input(k: f64, arc_energy_kj_mm: f64) -> Result<f64, CalcError> {
    Ok(positive("thermal efficiency", k)? * positive("arc energy", arc_energy_kj_mm)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    // Published worked answer: 29 V, 325 A, 12.5 in/min, factor 1 gives 45.24 kJ/in (formula of ASME IX QW-409.1).
    #[test]
    fn published_example() {
        let energy = arc_energy(29.0, 325.0, 12.5 * 25.4).unwrap();
        assert!((energy * 25.4 - 45.24).abs() < 0.005, "{}", energy * 25.4);
    }

    #[test]
    fn nonsense_is_refused_by_name() {
        assert_eq!(arc_energy(20.0, 100.0, 0.0), Err(CalcError::NotPositive { name: "travel speed", value: 0.0 }));
        assert!(arc_energy(f64::NAN, 100.0, 100.0).is_err());
    }

    proptest! {
        #[test]
        fn twice_the_current_is_twice_the_energy(u in 5.0..50.0, i in 5.0..600.0, v in 10.0..3000.0) {
            let (one, two) = (arc_energy(u, i, v).unwrap(), arc_energy(u, 2.0 * i, v).unwrap());
            prop_assert!((two - 2.0 * one).abs() < 1e-9 * two);
        }
    }
}
