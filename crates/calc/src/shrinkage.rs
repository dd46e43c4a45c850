//! Shrinkage and distortion by published rules of thumb, as information: restraint, sequence and tacks change them at will.

use crate::Result;
use crate::argument::{Argument, result};
use crate::formula::{Basis, Formula};

const AREA: Argument = Argument("cross-section", "mm²");
const THICKNESS: Argument = Argument("thickness", "mm");
const ROOT_GAP: Argument = Argument("root gap", "mm");
const MM_IN: f64 = 25.4;

/// Transverse shrinkage of a butt weld.
pub const TRANSVERSE: Formula = Formula {
    name: "transverse-shrinkage-butt",
    equation: "S = 0.2 A/t + 0.05 g   [mm; A weld cross-section mm², t thickness mm, g root gap mm]",
    source: "Spraragen and Ettinger; welding handbooks",
    basis: Basis::FromMemory,
    validity: "steel, free to move",
};

/// Angular distortion of a fillet.
pub const ANGULAR: Formula = Formula {
    name: "angular-distortion-fillet",
    equation: "Δ = 0.02 W z^1.3 / t²   [in; W width of the flange, z leg, t thickness of the flange, all in]",
    source: "Blodgett, design of weldments",
    basis: Basis::FromMemory,
    validity: "steel, fillets on both sides of a web; Δ is how far the flange's edges come up",
};

/// Transverse shrinkage in mm of a butt weld: `S = 0.2 A/t + 0.05 g`.
///
/// Source: Spraragen and Ettinger, from memory; for steel free to move. Cross-section and gap must be 0 or more, thickness
/// greater than 0.
///
/// ```
/// // 77.5 mm² in 10 mm with a gap of 2 mm: 1.55 + 0.10; handbooks expect 1.5 to 3 mm for a V of 60 degrees.
/// let shrinkage = seamwright_calc::shrinkage::transverse_butt_mm(77.5, 10.0, 2.0)?;
/// assert!((shrinkage - 1.65).abs() < 1e-12);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn transverse_butt_mm(cross_section_mm2: f64, thickness_mm: f64, root_gap_mm: f64) -> Result<f64> {
    let mean_width = AREA.not_negative(cross_section_mm2)? / THICKNESS.positive(thickness_mm)?;
    result("shrinkage", 0.2 * mean_width + 0.05 * ROOT_GAP.not_negative(root_gap_mm)?)
}

/// How far in mm the edges of a flange come up under fillets: `Δ = 0.02 W z^1.3 / t²` in inches.
///
/// Source: Blodgett, from memory. All must be greater than 0. A flange of 200 mm and 12 mm with legs of 6 mm rises by 2.75 mm
/// (own arithmetic).
pub fn angular_fillet_mm(flange_width_mm: f64, leg_mm: f64, flange_thickness_mm: f64) -> Result<f64> {
    let width = Argument("width of the flange", "mm").positive(flange_width_mm)? / MM_IN;
    let leg = Argument("leg", "mm").positive(leg_mm)? / MM_IN;
    let thickness = Argument("thickness of the flange", "mm").positive(flange_thickness_mm)? / MM_IN;
    result("distortion", 0.02 * width * leg.powf(1.3) / thickness / thickness * MM_IN)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_v_of_60_degrees_shrinks_as_published_tables_say() {
        // Published: butt welds with a V of 60 degrees shrink 1.5 to 3 mm; volumes of a handbook's table, 10 to 16 mm.
        for (area, thickness) in [(77.5, 10.0), (107.0, 12.0), (160.0, 15.0), (180.0, 16.0)] {
            let found = transverse_butt_mm(area, thickness, 2.0).unwrap();
            assert!((1.5..=3.0).contains(&found), "{thickness} mm: {found}");
        }
    }

    #[test]
    fn doc_comment_examples_hold() {
        let angular = angular_fillet_mm(200.0, 6.0, 12.0).unwrap();
        assert!((angular - 2.75).abs() < 0.05, "{angular}");
        assert!(angular_fillet_mm(200.0, 8.0, 12.0).unwrap() > angular);
        assert!(angular_fillet_mm(200.0, 6.0, 15.0).unwrap() < angular);
    }

    #[test]
    fn nonsense_is_refused_by_name() {
        assert_eq!(
            transverse_butt_mm(10.0, 0.0, 1.0).unwrap_err().to_string(),
            "thickness is 0 mm, must be greater than 0"
        );
    }
}
