//! Arc time, working time and cost.
//!
//! Arc time follows from the travel speed and from the deposition rate; where a procedure states both, they should agree, and
//! [`ArcTimes`] shows how far they do. Money is in whatever currency the rates are.

use crate::Result;
use crate::argument::{Argument, result};
use crate::formula::{Basis, Formula};

const LENGTH: Argument = Argument("weld length", "mm");
const RUNS: Argument = Argument("number of runs", "");
const TRAVEL_SPEED: Argument = Argument("travel speed", "mm/s");
const DEPOSITED: Argument = Argument("mass of weld metal", "kg");
const RATE: Argument = Argument("deposition rate", "kg/h");
const ARC_TIME: Argument = Argument("arc time", "min");
const OPERATING_FACTOR: Argument = Argument("operating factor", "");
const SOURCE_EFFICIENCY: Argument = Argument("efficiency of the power source", "");

/// Arc time from travel speed.
pub const ARC_TIME_BY_TRAVEL: Formula = Formula {
    name: "arc-time-by-travel-speed",
    equation: "t = n L / (60 v)   [min; n runs, L weld length mm, v travel speed mm/s]",
    source: "arithmetic",
    basis: Basis::CommonPractice,
    validity: "runs along the whole length, without weaving counted apart",
};

/// Arc time from deposition rate.
pub const ARC_TIME_BY_RATE: Formula = Formula {
    name: "arc-time-by-deposition-rate",
    equation: "t = 60 m / M   [min; m weld metal kg, M deposition rate kg/h]",
    source: "textbooks of welding economics",
    basis: Basis::FromMemory,
    validity: "the rate of the current that is used",
};

/// Working time.
pub const WORKING_TIME: Formula = Formula {
    name: "working-time",
    equation: "T = t / OF   [t arc time; OF operating factor, share of the time that the arc burns]",
    source: "textbooks of welding economics",
    basis: Basis::FromMemory,
    validity: "",
};

/// Energy from the mains.
pub const MAINS_ENERGY: Formula = Formula {
    name: "mains-energy",
    equation: "W = U I t / (η 60000) + P0 (T - t)/60   [kWh; V, A, t arc and T working time min, η efficiency of the source, P0 idle power kW]",
    source: "balance of energy",
    basis: Basis::CommonPractice,
    validity: "the source idles between arcs",
};

/// Cost of a weld.
pub const COST: Formula = Formula {
    name: "weld-cost",
    equation: "cost = labour + filler + gas + flux + power, each amount times its rate",
    source: "textbooks of welding economics",
    basis: Basis::FromMemory,
    validity: "without preparation, inspection, heat treatment and overhead that the rates do not hold",
};

/// Arc time in min from travel speed: `t = n L / (60 v)`.
///
/// Length and number of runs must be 0 or more, travel speed greater than 0. Five runs of 1 m at 5 mm/s take 16.7 min.
pub fn arc_time_by_travel_min(length_mm: f64, runs: f64, travel_speed_mm_s: f64) -> Result<f64> {
    let way = LENGTH.not_negative(length_mm)? * RUNS.not_negative(runs)?;
    result("arc time", way / TRAVEL_SPEED.positive(travel_speed_mm_s)? / 60.0)
}

/// Arc time in min from deposition rate: `t = 60 m / M`.
///
/// Source: textbooks of welding economics, from memory. The mass must be 0 or more, the rate greater than 0. 0.61 kg at 2 kg/h
/// take 18.3 min.
pub fn arc_time_by_rate_min(weld_metal_kg: f64, deposition_rate_kg_h: f64) -> Result<f64> {
    result("arc time", DEPOSITED.not_negative(weld_metal_kg)? / RATE.positive(deposition_rate_kg_h)? * 60.0)
}

/// Arc time found in two ways, and how far they disagree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArcTimes {
    /// From travel speed, min.
    pub by_travel_min: f64,
    /// From deposition rate, min.
    pub by_rate_min: f64,
    /// Time by rate over time by travel, less 1, %: above 0 the weld needs more metal than the runs lay.
    pub disagreement_pct: f64,
}

impl ArcTimes {
    /// Compares two arc times in min; both must be greater than 0.
    ///
    /// ```
    /// let times = seamwright_calc::time_cost::ArcTimes::new(16.0, 18.0)?;
    /// assert!((times.disagreement_pct - 12.5).abs() < 1e-12);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn new(by_travel_min: f64, by_rate_min: f64) -> Result<Self> {
        let travel = Argument("arc time by travel speed", "min").positive(by_travel_min)?;
        let rate = Argument("arc time by deposition rate", "min").positive(by_rate_min)?;
        let disagreement_pct = result("disagreement", (rate / travel - 1.0) * 100.0)?;
        Ok(Self { by_travel_min: travel, by_rate_min: rate, disagreement_pct })
    }
}

/// Working time in min from arc time and operating factor: `T = t / OF`.
///
/// Source: textbooks of welding economics, from memory. Arc time must be 0 or more, the factor over 0 and up to 1. 18 min at
/// 0.3 are 60 min.
pub fn working_time_min(arc_time_min: f64, operating_factor: f64) -> Result<f64> {
    result("working time", ARC_TIME.not_negative(arc_time_min)? / OPERATING_FACTOR.share(operating_factor)?)
}

/// What decides the energy that a weld takes from the mains.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mains {
    /// Arc voltage, V.
    pub voltage_v: f64,
    /// Current, A.
    pub current_a: f64,
    /// Arc time, min.
    pub arc_time_min: f64,
    /// Working time, min; the source idles when the arc does not burn.
    pub working_time_min: f64,
    /// Efficiency of the power source, over 0 and up to 1.
    pub source_efficiency: f64,
    /// Power of the idle source, kW.
    pub idle_power_kw: f64,
}

impl Mains {
    /// Energy in kWh: arc power over efficiency for the arc time, idle power for the rest.
    ///
    /// Source: balance of energy. All must be 0 or more, the efficiency over 0 and up to 1, the working time no less than the arc
    /// time.
    ///
    /// ```
    /// use seamwright_calc::time_cost::Mains;
    /// // 25 V, 200 A for 18 of 60 min at 85 %, idling at 50 W: 1.765 + 0.035
    /// let mains = Mains {
    ///     voltage_v: 25.0, current_a: 200.0, arc_time_min: 18.0, working_time_min: 60.0,
    ///     source_efficiency: 0.85, idle_power_kw: 0.05,
    /// };
    /// assert!((mains.energy_kwh()? - 1.8).abs() < 0.001);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn energy_kwh(&self) -> Result<f64> {
        let power_w = Argument("voltage", "V").not_negative(self.voltage_v)?
            * Argument("current", "A").not_negative(self.current_a)?;
        let arc_time = ARC_TIME.not_negative(self.arc_time_min)?;
        let idle_time = Argument("working time", "min").reaches(self.working_time_min, arc_time)? - arc_time;
        let idle_power = Argument("idle power", "kW").not_negative(self.idle_power_kw)?;
        let arc = power_w * arc_time / SOURCE_EFFICIENCY.share(self.source_efficiency)? / 60_000.0;
        result("energy", arc + idle_power * idle_time / 60.0)
    }
}

/// Amounts that a weld uses up.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Amounts {
    /// Working time, h.
    pub working_time_h: f64,
    /// Filler bought, kg.
    pub filler_kg: f64,
    /// Gas, m³.
    pub gas_m3: f64,
    /// Flux, kg.
    pub flux_kg: f64,
    /// Energy from the mains, kWh.
    pub energy_kwh: f64,
}

/// What the amounts cost, in one currency.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Rates {
    /// Of an hour of labour.
    pub labour_per_h: f64,
    /// Of a kilogram of filler.
    pub filler_per_kg: f64,
    /// Of a cubic metre of gas.
    pub gas_per_m3: f64,
    /// Of a kilogram of flux.
    pub flux_per_kg: f64,
    /// Of a kilowatt hour.
    pub energy_per_kwh: f64,
}

/// The cost of a weld, in the currency of the rates.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Cost {
    /// Labour.
    pub labour: f64,
    /// Filler.
    pub filler: f64,
    /// Gas.
    pub gas: f64,
    /// Flux.
    pub flux: f64,
    /// Energy.
    pub energy: f64,
    /// All of it.
    pub total: f64,
}

impl Amounts {
    /// The cost of the amounts: each times its rate. All amounts and rates must be 0 or more.
    ///
    /// ```
    /// use seamwright_calc::time_cost::{Amounts, Rates};
    /// let amounts = Amounts { working_time_h: 1.5, filler_kg: 2.0, gas_m3: 0.4, flux_kg: 0.0, energy_kwh: 3.0 };
    /// let rates = Rates { labour_per_h: 48.0, filler_per_kg: 4.5, gas_per_m3: 9.0, flux_per_kg: 2.0, energy_per_kwh: 0.25 };
    /// assert!((amounts.cost(&rates)?.total - 85.35).abs() < 1e-9);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn cost(&self, rates: &Rates) -> Result<Cost> {
        let of = |amount: Argument, value: f64, rate: &'static str, per: f64| -> Result<f64> {
            result("cost", amount.not_negative(value)? * Argument(rate, "").not_negative(per)?)
        };
        let labour = of(Argument("working time", "h"), self.working_time_h, "labour rate", rates.labour_per_h)?;
        let filler = of(Argument("mass of filler", "kg"), self.filler_kg, "filler price", rates.filler_per_kg)?;
        let gas = of(Argument("amount of gas", "m³"), self.gas_m3, "gas price", rates.gas_per_m3)?;
        let flux = of(Argument("mass of flux", "kg"), self.flux_kg, "flux price", rates.flux_per_kg)?;
        let energy = of(Argument("energy", "kWh"), self.energy_kwh, "energy price", rates.energy_per_kwh)?;
        let total = result("cost", labour + filler + gas + flux + energy)?;
        Ok(Cost { labour, filler, gas, flux, energy, total })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deposition::{deposited_area_from_rate_mm2, deposition_rate_kg_h};
    use crate::weld_metal::mass_kg;

    #[test]
    fn both_ways_agree_where_the_runs_fill_the_joint() {
        // A joint of exactly what five runs of fed wire lay.
        let (feed, diameter, travel, efficiency, density) = (120.0, 1.2, 6.0, 0.95, 7850.0);
        let rate = deposition_rate_kg_h(feed, diameter, density, efficiency).unwrap();
        let area = 5.0 * deposited_area_from_rate_mm2(rate, travel, density).unwrap();
        let mass = mass_kg(area, 2000.0, density).unwrap();
        let times = ArcTimes::new(
            arc_time_by_travel_min(2000.0, 5.0, travel).unwrap(),
            arc_time_by_rate_min(mass, rate).unwrap(),
        );
        assert!(times.unwrap().disagreement_pct.abs() < 1e-9);
    }

    #[test]
    fn doc_comment_examples_hold() {
        assert!((arc_time_by_travel_min(1000.0, 5.0, 5.0).unwrap() - 16.667).abs() < 0.001);
        assert!((arc_time_by_rate_min(0.61, 2.0).unwrap() - 18.3).abs() < 1e-9);
        assert!((working_time_min(18.0, 0.3).unwrap() - 60.0).abs() < 1e-9);
    }

    #[test]
    fn nonsense_is_refused_by_name() {
        assert_eq!(
            working_time_min(18.0, 0.0).unwrap_err().to_string(),
            "operating factor is 0, must be greater than 0"
        );
        let rates = Rates { gas_per_m3: -1.0, ..Rates::default() };
        assert_eq!(Amounts::default().cost(&rates).unwrap_err().to_string(), "gas price is -1, must be 0 or more");
    }
}
