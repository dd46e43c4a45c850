//! Gas: how long a cylinder lasts, what a weld uses, and the purge of a pipe.

use std::f64::consts::PI;

use crate::Result;
use crate::argument::{Argument, result, round_up};
use crate::error::Must;
use crate::formula::{Basis, Formula};

const FLOW: Argument = Argument("gas flow", "l/min");
const CONTENTS: Argument = Argument("contents", "l");
const ARC_TIME: Argument = Argument("arc time", "min");
const STARTS: Argument = Argument("number of starts", "");
const PRE_FLOW: Argument = Argument("pre-flow", "s");
const POST_FLOW: Argument = Argument("post-flow", "s");
const CHANGES: Argument = Argument("volume changes", "");
const VOLUME: Argument = Argument("purge volume", "l");
const PRESSURE: Argument = Argument("pressure", "bar");

/// Time that a cylinder flows.
pub const FLOW_TIME: Formula = Formula {
    name: "gas-flow-time",
    equation: "t = V / (60 q)   [h; V contents l, q flow l/min]",
    source: "arithmetic",
    basis: Basis::CommonPractice,
    validity: "contents and flow counted at one state of the gas",
};

/// Gas that welds use.
pub const GAS_USED: Formula = Formula {
    name: "gas-used",
    equation: "V = q (t + n (pre + post)/60)   [l; q flow l/min, t arc time min, n starts, pre- and post-flow s]",
    source: "arithmetic",
    basis: Basis::CommonPractice,
    validity: "one flow throughout; no surge at the start, no leak",
};

/// Purge of a closed volume.
pub const PURGE: Formula = Formula {
    name: "purge-time",
    equation: "t = n V / q   [min; n volume changes, V volume l, q flow l/min]",
    source: "arithmetic; the number of changes is a rule of the trade",
    basis: Basis::CommonPractice,
    validity: "",
};

/// Oxygen left by a purge.
pub const PURGE_OXYGEN: Formula = Formula {
    name: "purge-oxygen",
    equation: "c = c_gas + (c_air - c_gas) exp(-n); n = ln((c_air - c_gas)/(c - c_gas))   [ppm of volume; n volume changes]",
    source: "balance of a volume that mixes wholly; air holds 20.946 % oxygen",
    basis: Basis::CommonPractice,
    validity: "full mixing: a gas that pushes the air out ahead of it needs fewer changes, a dead corner more",
};

/// Gas in a cylinder.
pub const CYLINDER_CONTENTS: Formula = Formula {
    name: "cylinder-contents",
    equation: "V = Vw p / p0   [l at p0; Vw water capacity l, p filling pressure bar]",
    source: "Boyle's law",
    basis: Basis::CommonPractice,
    validity: "ideal gas at one temperature; at 200 to 300 bar argon holds some percent more, helium less; no liquefied gas",
};

/// Oxygen in dry air, ppm of volume (standard atmosphere).
pub const OXYGEN_OF_AIR_PPM: f64 = 209_460.0;

/// Time in h that a cylinder's contents last at a flow: `t = V / (60 q)`.
///
/// Contents must be 0 or more, flow greater than 0.
///
/// ```
/// // 10.7 m³ at 12 l/min
/// let time = seamwright_calc::gas::flow_time_h(10_700.0, 12.0)?;
/// assert!((time - 14.86).abs() < 0.005);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn flow_time_h(contents_l: f64, flow_l_min: f64) -> Result<f64> {
    result("flow time", CONTENTS.not_negative(contents_l)? / FLOW.positive(flow_l_min)? / 60.0)
}

/// What decides how much gas welds use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GasUse {
    /// Flow, l/min.
    pub flow_l_min: f64,
    /// Arc time, min.
    pub arc_time_min: f64,
    /// How often the arc is started.
    pub starts: f64,
    /// Pre-flow of each start, s.
    pub pre_flow_s: f64,
    /// Post-flow of each stop, s.
    pub post_flow_s: f64,
}

impl GasUse {
    /// Gas used in l: `q (t + n (pre + post)/60)`.
    ///
    /// All must be 0 or more.
    ///
    /// ```
    /// use seamwright_calc::gas::GasUse;
    /// // 12 l/min for 30 min of arc with 20 starts of 0.5 s before and 8 s after: 12 × (30 + 2.833)
    /// let used = GasUse { flow_l_min: 12.0, arc_time_min: 30.0, starts: 20.0, pre_flow_s: 0.5, post_flow_s: 8.0 };
    /// assert!((used.gas_l()? - 394.0).abs() < 0.01);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn gas_l(&self) -> Result<f64> {
        let flow = FLOW.not_negative(self.flow_l_min)?;
        let around = PRE_FLOW.not_negative(self.pre_flow_s)? + POST_FLOW.not_negative(self.post_flow_s)?;
        let time = ARC_TIME.not_negative(self.arc_time_min)? + STARTS.not_negative(self.starts)? * around / 60.0;
        result("gas used", flow * time)
    }
}

/// Number of cylinders that hold an amount of gas.
///
/// The amount must be 0 or more, the contents of a cylinder greater than 0. 394 l from cylinders of 10 700 l take 1.
pub fn cylinders_needed(gas_l: f64, contents_l: f64) -> Result<u64> {
    let gas = Argument("amount of gas", "l").not_negative(gas_l)?;
    round_up("number of cylinders", gas / CONTENTS.positive(contents_l)?)
}

/// Contents in l of a cylinder at the pressure `reference_bar` (1 bar as a rule): `V = Vw p / p0`, both pressures absolute.
///
/// Source: Boyle's law; real gas differs by some percent at 200 bar. All must be greater than 0. 50 l at 200 bar are 10 000 l
/// (a supplier's chart has 10 700 l of argon).
pub fn cylinder_contents_l(water_capacity_l: f64, pressure_bar: f64, reference_bar: f64) -> Result<f64> {
    let water = Argument("water capacity", "l").positive(water_capacity_l)?;
    let reference = Argument("reference pressure", "bar").positive(reference_bar)?;
    result("contents", water * PRESSURE.positive(pressure_bar)? / reference)
}

/// Volume in l of a length of pipe: `π d²/4 L`.
///
/// The inside diameter must be greater than 0, the length 0 or more. 100 mm inside and 300 mm between the dams are 2.36 l.
pub fn pipe_volume_l(inside_diameter_mm: f64, length_mm: f64) -> Result<f64> {
    let diameter = Argument("inside diameter", "mm").positive(inside_diameter_mm)?;
    let length = Argument("length of the purged pipe", "mm").not_negative(length_mm)?;
    result("purge volume", PI / 4.0 * diameter * diameter * length * 1e-6)
}

/// Time in min for a number of volume changes: `t = n V / q`.
///
/// Volume and changes must be 0 or more, flow greater than 0.
///
/// ```
/// // 2.36 l changed six times at 10 l/min
/// let time = seamwright_calc::gas::purge_time_min(2.36, 6.0, 10.0)?;
/// assert!((time - 1.416).abs() < 1e-9);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn purge_time_min(volume_l: f64, volume_changes: f64, flow_l_min: f64) -> Result<f64> {
    result("purge time", purge_gas_l(volume_l, volume_changes)? / FLOW.positive(flow_l_min)?)
}

/// Gas in l for a number of volume changes: `n V`.
///
/// Both must be 0 or more.
pub fn purge_gas_l(volume_l: f64, volume_changes: f64) -> Result<f64> {
    result("purge gas", VOLUME.not_negative(volume_l)? * CHANGES.not_negative(volume_changes)?)
}

/// Volume changes after which a target of oxygen in ppm is met, with full mixing: `ln((c_air - c_gas)/(c - c_gas))`.
///
/// The target must be above what the gas itself brings; a target of air or more needs none. 100 ppm with a clean gas need 7.65.
pub fn volume_changes_for_oxygen(target_oxygen_ppm: f64, gas_oxygen_ppm: f64) -> Result<f64> {
    let own = gas_oxygen(gas_oxygen_ppm)?;
    let target = Argument("oxygen target", "ppm").exceeds(target_oxygen_ppm, own)?;
    result("volume changes", ((OXYGEN_OF_AIR_PPM - own) / (target - own)).ln().max(0.0))
}

fn gas_oxygen(ppm: f64) -> Result<f64> {
    let argument = Argument("oxygen of the purge gas", "ppm");
    let ppm = argument.not_negative(ppm)?;
    if ppm >= OXYGEN_OF_AIR_PPM {
        return Err(argument.refuse(ppm, Must::StayBelowOther("that of air", OXYGEN_OF_AIR_PPM)));
    }
    Ok(ppm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn contents_of_cylinders_are_near_the_suppliers_charts() {
        // Chart of gas suppliers, from memory: litres and bar, m³ of argon; argon is a real gas, within 8 %.
        for (water, pressure, cubic_metres) in
            [(10.0, 200.0, 2.1), (20.0, 200.0, 4.3), (50.0, 200.0, 10.7), (50.0, 230.0, 12.2), (50.0, 300.0, 15.2)]
        {
            let found = cylinder_contents_l(water, pressure, 1.0).unwrap() / 1000.0;
            assert!((found / cubic_metres - 1.0).abs() < 0.08, "{found} against {cubic_metres}");
        }
    }

    #[test]
    fn a_purge_has_its_volume_and_its_changes() {
        assert!((volume_changes_for_oxygen(100.0, 0.0).unwrap() - 7.647).abs() < 0.001);
        assert_eq!(volume_changes_for_oxygen(300_000.0, 5.0), Ok(0.0));
        assert!((pipe_volume_l(100.0, 300.0).unwrap() - 2.356).abs() < 0.001);
    }

    #[test]
    fn nonsense_is_refused_by_name() {
        assert_eq!(flow_time_h(1000.0, 0.0).unwrap_err().to_string(), "gas flow is 0 l/min, must be greater than 0");
        assert_eq!(
            volume_changes_for_oxygen(5.0, 10.0).unwrap_err().to_string(),
            "oxygen target is 5 ppm, must be greater than 10"
        );
        assert_eq!(cylinders_needed(20_000.0, 10_700.0), Ok(2));
    }
}
