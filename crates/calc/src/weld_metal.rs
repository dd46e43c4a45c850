//! Volume and mass of weld metal, and how many runs lay it.

use crate::Result;
use crate::argument::{Argument, result, round_up};
use crate::formula::{Basis, Formula};

const AREA: Argument = Argument("cross-section", "mm²");
const RUN_AREA: Argument = Argument("cross-section of a run", "mm²");
const LENGTH: Argument = Argument("weld length", "mm");
const DENSITY: Argument = Argument("density", "kg/m³");

/// Mass of weld metal.
pub const MASS: Formula = Formula {
    name: "weld-metal-mass",
    equation: "m = A L ρ 10^-9   [kg; mm², mm, kg/m³]",
    source: "arithmetic",
    basis: Basis::CommonPractice,
    validity: "a weld of one cross-section along its length",
};

/// Runs needed.
pub const RUNS: Formula = Formula {
    name: "runs-needed",
    equation: "n = A / A1, rounded up   [mm²]",
    source: "arithmetic",
    basis: Basis::CommonPractice,
    validity: "runs of one size",
};

/// Volume in cm³: `V = A L / 1000`.
///
/// Cross-section and length must be 0 or more. 77.5 mm² over 1 m are 77.5 cm³.
pub fn volume_cm3(cross_section_mm2: f64, length_mm: f64) -> Result<f64> {
    result("volume", AREA.not_negative(cross_section_mm2)? * LENGTH.not_negative(length_mm)? / 1000.0)
}

/// Mass in kg: `m = A L ρ 10^-9`.
///
/// Cross-section and length must be 0 or more, density greater than 0.
///
/// ```
/// // 77.7 mm² of steel over 1 m
/// let mass = seamwright_calc::weld_metal::mass_kg(77.7, 1000.0, 7850.0)?;
/// assert!((mass - 0.60995).abs() < 1e-5);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn mass_kg(cross_section_mm2: f64, length_mm: f64, density_kg_m3: f64) -> Result<f64> {
    result("mass", volume_cm3(cross_section_mm2, length_mm)? * 1e-6 * DENSITY.positive(density_kg_m3)?)
}

/// Number of runs that fill a cross-section, from the deposited area of one run.
///
/// The cross-section must be 0 or more, the area of a run greater than 0. 77.5 mm² with runs of 18 mm² take 5.
pub fn runs_needed(cross_section_mm2: f64, run_cross_section_mm2: f64) -> Result<u64> {
    round_up("number of runs", AREA.not_negative(cross_section_mm2)? / RUN_AREA.positive(run_cross_section_mm2)?)
}

/// Share of the weld that is melted parent metal, from the areas of a section: `D = melted parent area / weld area`.
///
/// Source: definition of dilution. Areas must be 0 or more and not both 0. 10 mm² melted and 30 mm² deposited give 0.25.
pub fn dilution(melted_parent_mm2: f64, deposited_mm2: f64) -> Result<f64> {
    let melted = Argument("melted parent area", "mm²").not_negative(melted_parent_mm2)?;
    let deposited = Argument("deposited area", "mm²").not_negative(deposited_mm2)?;
    let whole = Argument("weld area", "mm²").positive(melted + deposited)?;
    Ok(melted / whole)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doc_comment_examples_hold() {
        assert_eq!(runs_needed(77.5, 18.0), Ok(5));
        assert_eq!(runs_needed(90.0, 18.0), Ok(5));
        assert_eq!(runs_needed(0.0, 18.0), Ok(0));
        assert!((dilution(10.0, 30.0).unwrap() - 0.25).abs() < 1e-12);
        assert!(dilution(0.0, 0.0).is_err());
    }
}
