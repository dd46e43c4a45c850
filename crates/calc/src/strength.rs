//! What a fillet carries per length, as information only: the design of a joint is its designer's.

use crate::Result;
use crate::argument::{Argument, result};
use crate::formula::{Basis, Formula};

const THROAT: Argument = Argument("throat", "mm");
const WELD_LENGTH: Argument = Argument("weld length", "mm");

/// Load per length from an allowable stress.
pub const ALLOWABLE_LOAD: Formula = Formula {
    name: "fillet-allowable-load",
    equation: "F = a τ   [N/mm; a throat mm, τ allowable shear stress of the throat N/mm²]",
    source: "AWS D1.1, allowable stress design: τ is 0.30 of the filler's tensile strength",
    basis: Basis::FromMemory,
    validity: "information only; shear on the throat whatever the direction of the load",
};

/// Load in N per mm of a fillet from its throat and an allowable shear stress: `F = a τ`. Information only.
///
/// Source: AWS D1.1, allowable stress design, from memory. Both must be greater than 0.
///
/// ```
/// // A leg of 6 mm with a filler of 490 N/mm²: 4.243 × 0.30 × 490
/// use seamwright_calc::{fillet::throat_from_leg_mm, strength::allowable_load_n_mm};
/// let load = allowable_load_n_mm(throat_from_leg_mm(6.0)?, 0.30 * 490.0)?;
/// assert!((load - 623.7).abs() < 0.1);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn allowable_load_n_mm(throat_mm: f64, allowable_shear_n_mm2: f64) -> Result<f64> {
    let stress = Argument("allowable shear stress", "N/mm²").positive(allowable_shear_n_mm2)?;
    result("load", THROAT.positive(throat_mm)? * stress)
}

/// Load in kN of a length of fillet from its load per mm: `F L / 1000`. Information only.
///
/// Both must be 0 or more. 831 N/mm over 100 mm carry 83.1 kN.
pub fn load_kn(load_n_mm: f64, length_mm: f64) -> Result<f64> {
    let load = Argument("load per length", "N/mm").not_negative(load_n_mm)?;
    result("load", load * WELD_LENGTH.not_negative(length_mm)? / 1000.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doc_comment_examples_hold() {
        assert!((load_kn(831.4, 100.0).unwrap() - 83.14).abs() < 0.01);
        assert_eq!(allowable_load_n_mm(0.0, 100.0).unwrap_err().to_string(), "throat is 0 mm, must be greater than 0");
    }
}
