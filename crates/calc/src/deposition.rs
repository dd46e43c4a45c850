//! Filler: what a run lays down, and what must be bought for a mass of weld metal.
//!
//! Deposition efficiencies and stub losses come from a table. A published efficiency of covered electrodes may include the
//! stub already: [`Loss`] says which, so that no stub is taken twice.

use std::f64::consts::PI;

use crate::Result;
use crate::argument::{Argument, result, round_up};
use crate::error::Must;
use crate::formula::{Basis, Formula};

const FEED_SPEED: Argument = Argument("wire feed speed", "mm/s");
const DIAMETER: Argument = Argument("diameter", "mm");
const TRAVEL_SPEED: Argument = Argument("travel speed", "mm/s");
const EFFICIENCY: Argument = Argument("deposition efficiency", "");
const DENSITY: Argument = Argument("density", "kg/m³");
const DEPOSITED: Argument = Argument("mass of weld metal", "kg");
const FILLER: Argument = Argument("mass of filler", "kg");
const LENGTH: Argument = Argument("length", "mm");
const STUB: Argument = Argument("stub", "mm");
const STUB_LOSS: Argument = Argument("stub loss", "");
const SPOOL: Argument = Argument("mass of a spool", "kg");
const PER_ELECTRODE: Argument = Argument("weld metal of an electrode", "kg");

/// Deposition rate.
pub const DEPOSITION_RATE: Formula = Formula {
    name: "deposition-rate",
    equation: "M = η π d²/4 w ρ 3600 10^-9   [kg/h; mm, mm/s, kg/m³]",
    source: "balance of mass",
    basis: Basis::CommonPractice,
    validity: "solid wire",
};

/// Filler to buy.
pub const FILLER_MASS: Formula = Formula {
    name: "filler-mass",
    equation: "F = m / η, or m / (η (1 - s)) where η leaves the stub out   [kg; η deposition efficiency, s stub loss]",
    source: "filler metal handbook of a consumables maker, consumption; AWS Welding Handbook",
    basis: Basis::Published,
    validity: "",
};

/// Number of electrodes.
pub const ELECTRODES: Formula = Formula {
    name: "electrodes-needed",
    equation: "n = m / N, rounded up   [m weld metal kg, N weld metal of an electrode kg]",
    source: "electrode consumption handbook of a consumables maker",
    basis: Basis::Published,
    validity: "",
};

/// Area of a round wire's or rod's section in mm²: `π d²/4`.
///
/// The diameter must be greater than 0. 1.2 mm has 1.131 mm².
pub fn wire_area_mm2(diameter_mm: f64) -> Result<f64> {
    let diameter = DIAMETER.positive(diameter_mm)?;
    result("wire section", PI * diameter * diameter / 4.0)
}

/// Area in mm² that a run deposits at a deposition rate: `A1 = M / (3600 v ρ)`, for electrodes and rods.
///
/// Deposition rate must be 0 or more, the others greater than 0. 1.5 kg/h at 3 mm/s and 7850 kg/m³ are 17.7 mm².
pub fn deposited_area_from_rate_mm2(
    deposition_rate_kg_h: f64,
    travel_speed_mm_s: f64,
    density_kg_m3: f64,
) -> Result<f64> {
    let rate = Argument("deposition rate", "kg/h").not_negative(deposition_rate_kg_h)?;
    let speed = TRAVEL_SPEED.positive(travel_speed_mm_s)?;
    result("deposited area", rate / 3600.0 / speed / DENSITY.positive(density_kg_m3)? * 1e9)
}

/// Deposition rate in kg/h of fed wire: `η π d²/4 w ρ`.
///
/// Source: balance of mass; for solid wire. Wire feed speed must be 0 or more, the others greater than 0, efficiency up to 1.
///
/// ```
/// // 1.2 mm steel wire at 8 m/min, all of it deposited
/// let rate = seamwright_calc::deposition::deposition_rate_kg_h(8000.0 / 60.0, 1.2, 7850.0, 1.0)?;
/// assert!((rate - 4.261).abs() < 0.001);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn deposition_rate_kg_h(
    wire_feed_speed_mm_s: f64,
    diameter_mm: f64,
    density_kg_m3: f64,
    efficiency: f64,
) -> Result<f64> {
    let volume = wire_area_mm2(diameter_mm)? * FEED_SPEED.not_negative(wire_feed_speed_mm_s)?;
    let mass = volume * DENSITY.positive(density_kg_m3)? * 3600e-9;
    result("deposition rate", mass * EFFICIENCY.share(efficiency)?)
}

/// What is lost of a filler between shop and weld.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Loss {
    /// A deposition efficiency (0 to 1) that is all there is: of wire, or of electrodes with the stub included.
    Efficiency(f64),
    /// A deposition efficiency without the stub, and the share of the electrode that the stub is (0 to 1).
    EfficiencyAndStub {
        /// Deposition efficiency of what is melted, 0 to 1.
        efficiency: f64,
        /// Stub loss, 0 to 1.
        stub_loss: f64,
    },
}

impl Loss {
    /// Share of the filler that becomes weld metal, 0 to 1: `η` or `η (1 - s)`.
    ///
    /// Refuses an efficiency outside 0 to 1 or of 0, and a stub loss outside 0 to 1 or of 1.
    pub fn yield_share(self) -> Result<f64> {
        match self {
            Self::Efficiency(efficiency) => EFFICIENCY.share(efficiency),
            Self::EfficiencyAndStub { efficiency, stub_loss } => {
                let stub = STUB_LOSS.below(STUB_LOSS.not_negative(stub_loss)?, 1.0)?;
                Ok(EFFICIENCY.share(efficiency)? * (1.0 - stub))
            }
        }
    }
}

/// Share of an electrode that its stub is, 0 to 1: `stub / length`.
///
/// Source: AWS Welding Handbook, from memory. The stub must be 0 or more and shorter than the electrode. 50 mm of 350 mm
/// is 0.143.
pub fn stub_loss(electrode_length_mm: f64, stub_mm: f64) -> Result<f64> {
    let length = LENGTH.positive(electrode_length_mm)?;
    let stub = STUB.not_negative(stub_mm)?;
    if stub >= length {
        return Err(STUB.refuse(stub, Must::StayBelowOther("the length", length)));
    }
    Ok(stub / length)
}

/// Mass of filler to buy in kg for a mass of weld metal: divided by the share that becomes weld metal.
///
/// Source: filler metal handbook of a consumables maker. The mass must be 0 or more.
///
/// ```
/// use seamwright_calc::deposition::{Loss, filler_mass_kg};
/// // 10 kg of weld metal: an efficiency of 62 % with the stub of a 350 mm electrode in it.
/// assert!((filler_mass_kg(10.0, Loss::Efficiency(0.62))? - 16.13).abs() < 0.005);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn filler_mass_kg(weld_metal_kg: f64, loss: Loss) -> Result<f64> {
    result("mass of filler", DEPOSITED.not_negative(weld_metal_kg)? / loss.yield_share()?)
}

/// Weld metal in kg of one covered electrode: core wire without its stub, times recovery.
///
/// Recovery is the mass of weld metal per mass of core wire melted, as EN ISO 2560 has it; it is over 1 where the covering holds
/// iron powder. All must be greater than 0, the stub may be 0. A 3.2 × 350 mm core of steel with a 50 mm stub and a recovery of
/// 1 gives 18.9 g.
pub fn electrode_weld_metal_kg(rod: Rod, recovery: f64) -> Result<f64> {
    let recovery = Argument("recovery", "").positive(recovery)?;
    result("weld metal of an electrode", rod.melted_kg()? * recovery)
}

/// Number of electrodes for a mass of weld metal, from the weld metal that one gives.
///
/// Source: electrode consumption handbook of a consumables maker. 0.6 kg with 18.9 g each take 32.
pub fn electrodes_needed(weld_metal_kg: f64, weld_metal_of_one_kg: f64) -> Result<u64> {
    round_up(
        "number of electrodes",
        DEPOSITED.not_negative(weld_metal_kg)? / PER_ELECTRODE.positive(weld_metal_of_one_kg)?,
    )
}

/// A rod, or the core wire of an electrode.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rod {
    /// Diameter, mm.
    pub diameter_mm: f64,
    /// Length, mm.
    pub length_mm: f64,
    /// What is thrown away of its length, mm.
    pub stub_mm: f64,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
}

impl Rod {
    /// Mass in kg of the whole rod. A rod of 2.4 × 1000 mm of steel weighs 35.5 g.
    pub fn mass_kg(&self) -> Result<f64> {
        let length = LENGTH.positive(self.length_mm)?;
        let density = DENSITY.positive(self.density_kg_m3)?;
        result("mass of a rod", wire_area_mm2(self.diameter_mm)? * length * density * 1e-9)
    }

    /// Mass in kg of the rod without its stub.
    pub fn melted_kg(&self) -> Result<f64> {
        Ok(self.mass_kg()? * (1.0 - stub_loss(self.length_mm, self.stub_mm)?))
    }

    /// Number of rods for a mass of weld metal, with the deposition efficiency of what is melted.
    ///
    /// The mass must be 0 or more, the efficiency over 0 and up to 1.
    pub fn needed(&self, weld_metal_kg: f64, efficiency: f64) -> Result<u64> {
        let each = PER_ELECTRODE.positive(self.melted_kg()? * EFFICIENCY.share(efficiency)?)?;
        round_up("number of rods", DEPOSITED.not_negative(weld_metal_kg)? / each)
    }
}

/// Number of packs (spools, packets) that hold a mass of filler.
///
/// The mass must be 0 or more, that of a pack greater than 0. 31 kg on spools of 15 kg take 3.
pub fn spools_needed(filler_kg: f64, spool_kg: f64) -> Result<u64> {
    round_up("number of spools", FILLER.not_negative(filler_kg)? / SPOOL.positive(spool_kg)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn core() -> Rod {
        Rod { diameter_mm: 3.2, length_mm: 350.0, stub_mm: 50.0, density_kg_m3: 7850.0 }
    }

    #[test]
    fn doc_comment_examples_hold() {
        let each = electrode_weld_metal_kg(core(), 1.0).unwrap();
        assert!((each - 0.018_94).abs() < 1e-5, "{each}");
        assert_eq!(electrodes_needed(0.6, each), Ok(32));
        assert_eq!(core().needed(0.6, 1.0), Ok(32));
        assert!((deposited_area_from_rate_mm2(1.5, 3.0, 7850.0).unwrap() - 17.69).abs() < 0.01);
        let rod = Rod { diameter_mm: 2.4, length_mm: 1000.0, stub_mm: 0.0, density_kg_m3: 7850.0 };
        assert!((rod.mass_kg().unwrap() - 0.0355).abs() < 5e-5);
        assert_eq!(spools_needed(31.0, 15.0), Ok(3));
        assert_eq!(spools_needed(30.0, 15.0), Ok(2));
    }

    #[test]
    fn a_stub_is_taken_once() {
        // AWS Welding Handbook, from memory: a 50 mm stub of 300, 350 and 450 mm is 17, 14 and 11 %.
        for (length, percent) in [(300.0, 17.0), (350.0, 14.0), (450.0, 11.0)] {
            assert!((stub_loss(length, 50.0).unwrap() * 100.0 - percent).abs() < 0.5);
        }
        // A filler metal handbook's figures with the stub in them, 59, 62 and 66 %, come of one efficiency without it.
        let without: Vec<f64> = [(300.0, 0.59), (350.0, 0.62), (450.0, 0.66)]
            .into_iter()
            .map(|(length, with)| with / (1.0 - stub_loss(length, 50.0).unwrap()))
            .collect();
        for efficiency in &without {
            assert!((efficiency - 0.72).abs() < 0.03, "{without:?}");
        }
        let both = Loss::EfficiencyAndStub { efficiency: 0.72, stub_loss: stub_loss(350.0, 50.0).unwrap() };
        assert!((both.yield_share().unwrap() - 0.62).abs() < 0.01);
    }

    #[test]
    fn rate_and_area_say_the_same() {
        let (feed, travel) = (120.0, 6.0);
        let area = 0.95 * wire_area_mm2(1.2).unwrap() * feed / travel;
        let rate = deposition_rate_kg_h(feed, 1.2, 7850.0, 0.95).unwrap();
        assert!((deposited_area_from_rate_mm2(rate, travel, 7850.0).unwrap() / area - 1.0).abs() < 1e-12);
    }

    #[test]
    fn nonsense_is_refused_by_name() {
        assert_eq!(
            filler_mass_kg(1.0, Loss::Efficiency(0.0)).unwrap_err().to_string(),
            "deposition efficiency is 0, must be greater than 0"
        );
        assert_eq!(stub_loss(50.0, 50.0).unwrap_err().to_string(), "stub is 50 mm, must be less than the length (50)");
        let all_stub = Loss::EfficiencyAndStub { efficiency: 0.7, stub_loss: 1.0 };
        assert_eq!(all_stub.yield_share().unwrap_err().to_string(), "stub loss is 1, must be less than 1");
        assert!(electrodes_needed(1e300, 1e-300).is_err());
    }
}
