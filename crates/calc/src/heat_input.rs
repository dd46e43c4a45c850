//! Arc energy and heat input.
//!
//! Arc energy is what the arc gives to a length of weld; heat input is the share of it that reaches the metal, by the
//! thermal efficiency k of the process. ASME and AWS use no k.

use crate::Result;
use crate::argument::{Argument, result};
use crate::formula::{Basis, Formula};

const VOLTAGE: Argument = Argument("voltage", "V");
const CURRENT: Argument = Argument("current", "A");
const TRAVEL_SPEED: Argument = Argument("travel speed", "mm/s");
const EFFICIENCY: Argument = Argument("thermal efficiency", "");
const POWER: Argument = Argument("instantaneous power", "W");
const ENERGY: Argument = Argument("instantaneous energy", "J");
const LENGTH: Argument = Argument("weld length", "mm");
const ARC_ENERGY_ARGUMENT: Argument = Argument("arc energy", "kJ/mm");
const BEAD_LENGTH: Argument = Argument("bead length", "mm");
const ELECTRODE_LENGTH: Argument = Argument("electrode length used", "mm");

/// Arc energy from voltage, current and travel speed.
pub const ARC_ENERGY: Formula = Formula {
    name: "arc-energy",
    equation: "E = U I / (1000 v)   [kJ/mm; V, A, mm/s]",
    source: "ISO/TR 18491:2015; ASME BPVC IX QW-409.1(a) without a factor",
    basis: Basis::Published,
    validity: "steady voltage and current; a waveform-controlled arc needs instantaneous energy or power",
};

/// Heat input from arc energy and thermal efficiency.
pub const HEAT_INPUT: Formula = Formula {
    name: "heat-input",
    equation: "Q = k E = k U I / (1000 v)   [kJ/mm; k of the process]",
    source: "ISO/TR 17671-1:2002, EN 1011-1:2009",
    basis: Basis::Published,
    validity: "k is conventional, by process; ASME IX and AWS use no k",
};

/// Arc energy from instantaneous energy.
pub const ARC_ENERGY_FROM_ENERGY: Formula = Formula {
    name: "arc-energy-from-instantaneous-energy",
    equation: "E = IE / (1000 L)   [kJ/mm; J, mm]",
    source: "ISO/TR 18491:2015; ASME BPVC IX QW-409.1(c)(1)",
    basis: Basis::FromMemory,
    validity: "energy summed by the meter of the power source or an external one at the rate that the waveform needs",
};

/// Arc energy from instantaneous power.
pub const ARC_ENERGY_FROM_POWER: Formula = Formula {
    name: "arc-energy-from-instantaneous-power",
    equation: "E = IP / (1000 v) = IP t / (1000 L)   [kJ/mm; W, mm/s, s, mm]",
    source: "ISO/TR 18491:2015; ASME BPVC IX QW-409.1(c)(2)",
    basis: Basis::FromMemory,
    validity: "power as the mean of instantaneous values, never the product of mean voltage and mean current",
};

/// Bead length per electrode length.
pub const BEAD_RATIO: Formula = Formula {
    name: "bead-length-ratio",
    equation: "r = bead length / electrode length used",
    source: "ASME BPVC IX QW-409.1(b)",
    basis: Basis::FromMemory,
    validity: "compares procedures of one electrode type and size; a shorter bead is more heat",
};

/// Arc energy in kJ/mm from voltage, current and travel speed: `E = U I / (1000 v)`.
///
/// Source: ISO/TR 18491:2015; the same without any factor is ASME IX QW-409.1(a). For steady arcs. All arguments
/// must be greater than 0.
///
/// ```
/// use seamwright_calc::heat_input::{arc_energy_kj_mm, kj_in};
/// // Worked answer of an inspectors' forum, ASME IX QW-409.1: 29 V, 325 A, 12.5 in/min give 45.24 kJ/in.
/// let energy = arc_energy_kj_mm(29.0, 325.0, 12.5 * 25.4 / 60.0)?;
/// assert!((kj_in(energy) - 45.24).abs() < 0.005);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn arc_energy_kj_mm(voltage_v: f64, current_a: f64, travel_speed_mm_s: f64) -> Result<f64> {
    let power_w = VOLTAGE.positive(voltage_v)? * CURRENT.positive(current_a)?;
    result("arc energy", power_w / TRAVEL_SPEED.positive(travel_speed_mm_s)? / 1000.0)
}

/// Arc energy in kJ/mm from instantaneous power: `E = IP / (1000 v)`.
///
/// Source: ISO/TR 18491:2015, ASME IX QW-409.1(c)(2), from memory. For waveform-controlled arcs. Both must be
/// greater than 0.
///
/// ```
/// // 4.2 kW at 6 mm/s
/// let energy = seamwright_calc::heat_input::arc_energy_from_power_kj_mm(4200.0, 6.0)?;
/// assert!((energy - 0.7).abs() < 1e-12);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn arc_energy_from_power_kj_mm(power_w: f64, travel_speed_mm_s: f64) -> Result<f64> {
    result("arc energy", POWER.positive(power_w)? / TRAVEL_SPEED.positive(travel_speed_mm_s)? / 1000.0)
}

/// Arc energy in kJ/mm from instantaneous energy and weld length: `E = IE / (1000 L)`.
///
/// Source: ISO/TR 18491:2015, ASME IX QW-409.1(c)(1), from memory. For waveform-controlled arcs. Both must be
/// greater than 0.
///
/// ```
/// // 210 kJ over 300 mm
/// let energy = seamwright_calc::heat_input::arc_energy_from_energy_kj_mm(210_000.0, 300.0)?;
/// assert!((energy - 0.7).abs() < 1e-12);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn arc_energy_from_energy_kj_mm(energy_j: f64, length_mm: f64) -> Result<f64> {
    result("arc energy", ENERGY.positive(energy_j)? / LENGTH.positive(length_mm)? / 1000.0)
}

/// Heat input in kJ/mm from arc energy and thermal efficiency k: `Q = k E`.
///
/// Source: ISO/TR 17671-1:2002, EN 1011-1:2009. Arc energy must be greater than 0, k too and up to 1.
///
/// ```
/// // 25 V, 200 A, 5 mm/s with k = 0.8
/// use seamwright_calc::heat_input::{arc_energy_kj_mm, heat_input_kj_mm};
/// let heat = heat_input_kj_mm(arc_energy_kj_mm(25.0, 200.0, 5.0)?, 0.8)?;
/// assert!((heat - 0.8).abs() < 1e-12);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn heat_input_kj_mm(arc_energy_kj_mm: f64, thermal_efficiency: f64) -> Result<f64> {
    Ok(ARC_ENERGY_ARGUMENT.positive(arc_energy_kj_mm)? * EFFICIENCY.share(thermal_efficiency)?)
}

/// Bead length per length of electrode, the measure of heat input of QW-409.1(b): less is more heat.
///
/// Source: ASME IX QW-409.1(b), from memory. Lengths must be greater than 0. A 200 mm bead from 280 mm of electrode gives
/// 0.714.
pub fn bead_length_ratio(bead_length_mm: f64, electrode_length_mm: f64) -> Result<f64> {
    result("bead length ratio", BEAD_LENGTH.positive(bead_length_mm)? / ELECTRODE_LENGTH.positive(electrode_length_mm)?)
}

/// kJ/mm as kJ/cm: times 10, exact.
pub fn kj_cm(energy_kj_mm: f64) -> f64 {
    energy_kj_mm * 10.0
}

/// kJ/mm as kJ/in: times 25.4, exact by the definition of the inch.
pub fn kj_in(energy_kj_mm: f64) -> f64 {
    energy_kj_mm * 25.4
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn power_and_energy_agree_with_power_and_speed() {
        let by_speed = arc_energy_from_power_kj_mm(4200.0, 6.0).unwrap();
        let by_energy = arc_energy_from_energy_kj_mm(4200.0 * 50.0, 300.0).unwrap();
        assert!((by_speed - by_energy).abs() < 1e-12);
        assert!((arc_energy_kj_mm(21.0, 200.0, 6.0).unwrap() - by_speed).abs() < 1e-12);
    }

    #[test]
    fn nonsense_is_refused_by_name() {
        let text = |outcome: Result<f64>| outcome.unwrap_err().to_string();
        assert_eq!(text(arc_energy_kj_mm(20.0, 100.0, 0.0)), "travel speed is 0 mm/s, must be greater than 0");
        assert_eq!(text(arc_energy_kj_mm(0.0, 100.0, 1.0)), "voltage is 0 V, must be greater than 0");
        assert_eq!(text(arc_energy_kj_mm(20.0, -5.0, 1.0)), "current is -5 A, must be greater than 0");
        assert_eq!(text(arc_energy_kj_mm(f64::NAN, 100.0, 1.0)), "voltage is not a finite number");
        assert_eq!(text(arc_energy_from_power_kj_mm(0.0, 6.0)), "instantaneous power is 0 W, must be greater than 0");
        assert_eq!(
            text(arc_energy_from_energy_kj_mm(0.0, 300.0)),
            "instantaneous energy is 0 J, must be greater than 0"
        );
        assert_eq!(text(heat_input_kj_mm(0.0, 0.8)), "arc energy is 0 kJ/mm, must be greater than 0");
        assert_eq!(text(heat_input_kj_mm(1.0, 1.2)), "thermal efficiency is 1.2, must be 1 or less");
        assert_eq!(text(arc_energy_kj_mm(1e200, 1e200, 1.0)), "arc energy is too large to compute from these values");
    }
}
