//! Preheat of steel against cold cracking.
//!
//! EN 1011-2 method B is a formula and stands here whole. EN 1011-2 method A and the hydrogen control of AWS D1.1 are
//! tables and graphs: their arithmetic stands here, their figures are the caller's. The preheat table of AWS D1.1 by
//! category is data alone.

use std::fmt;
use std::str::FromStr;

use crate::Result;
use crate::argument::{Argument, result};
use crate::band::{Band, above};
use crate::error::CalcError;
use crate::formula::{Basis, Formula};
use crate::note::{Note, Validity};

const CET: Argument = Argument("CET", "%");
const PCM: Argument = Argument("Pcm", "%");
const THICKNESS: Argument = Argument("thickness", "mm");
const HYDROGEN: Argument = Argument("diffusible hydrogen", "ml/100 g");
const HEAT_INPUT: Argument = Argument("heat input", "kJ/mm");

/// Preheat by method B.
pub const METHOD_B: Formula = Formula {
    name: "preheat-en-1011-2-b",
    equation: "Tp = 697 CET + 160 tanh(d/35) + 62 HD^0.35 + (53 CET - 32) Q - 328   [°C; %, mm, ml/100 g, kJ/mm]",
    source: "EN 1011-2:2001+A1:2003 C.3 (method B)",
    basis: Basis::Published,
    validity: "CET 0.2 to 0.5 %, d 10 to 90 mm, HD 1 to 20 ml/100 g, Q 0.5 to 4 kJ/mm, yield strength up to 1000 MPa (from memory)",
};

/// Combined thickness of method A.
pub const COMBINED_THICKNESS: Formula = Formula {
    name: "combined-thickness",
    equation: "combined thickness = sum of the thicknesses that meet at the weld   [mm; each averaged over 75 mm]",
    source: "EN 1011-2:2001 C.2 (method A)",
    basis: Basis::FromMemory,
    validity: "half of it for fillets on both sides welded at once",
};

/// Susceptibility index of AWS D1.1.
pub const SUSCEPTIBILITY: Formula = Formula {
    name: "susceptibility-index",
    equation: "SI = 12 Pcm + log10 H   [%, ml/100 g]",
    source: "AWS D1.1:2020 annex on preheat, hydrogen control method",
    basis: Basis::FromMemory,
    validity: "H is 5, 10 or 30 ml/100 g for the hydrogen levels H1, H2, H3",
};

/// For what method B is stated to hold; the figures come from a table (EN 1011-2 C.3).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MethodBValidity {
    /// CET, %.
    pub cet_pct: Band,
    /// Thickness of one plate, mm.
    pub thickness_mm: Band,
    /// Diffusible hydrogen, ml/100 g.
    pub hydrogen_ml_100g: Band,
    /// Heat input with k, kJ/mm.
    pub heat_input_kj_mm: Band,
}

/// What method B asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MethodB {
    /// Carbon equivalent CET, %: of the parent metal, or of the weld metal where that governs.
    pub cet_pct: f64,
    /// Thickness of one plate, mm: not the combined thickness.
    pub thickness_mm: f64,
    /// Diffusible hydrogen of the weld metal, ml/100 g.
    pub hydrogen_ml_100g: f64,
    /// Heat input with k, kJ/mm.
    pub heat_input_kj_mm: f64,
}

/// The preheat of method B and what each influence adds to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MethodBPreheat {
    /// Lowest preheating and interpass temperature, °C. Below the ambient temperature no preheat is needed.
    pub temperature_c: f64,
    /// Part of the composition, `750 CET - 150`, °C.
    pub composition_c: f64,
    /// Part of the thickness, `160 tanh(d/35) - 110`, °C.
    pub thickness_c: f64,
    /// Part of the hydrogen, `62 HD^0.35 - 100`, °C.
    pub hydrogen_c: f64,
    /// Part of the heat input, `(53 CET - 32) Q - 53 CET + 32`, °C.
    pub heat_input_c: f64,
}

impl MethodB {
    /// The preheating temperature by method B of EN 1011-2, with what each influence adds.
    ///
    /// `Tp = 697 CET + 160 tanh(d/35) + 62 HD^0.35 + (53 CET - 32) Q - 328`, °C. Source: EN 1011-2:2001 C.3; for what it
    /// holds see [`MethodB::notes`]. All arguments must be greater than 0; 100 % CET and more are refused.
    ///
    /// ```
    /// use seamwright_calc::preheat::MethodB;
    /// // Own arithmetic: 278.80 + 111.17 + 108.90 - 10.80 - 328 (no published example with inputs and answer is known).
    /// let found = MethodB { cet_pct: 0.4, thickness_mm: 30.0, hydrogen_ml_100g: 5.0, heat_input_kj_mm: 1.0 }.preheat()?;
    /// assert!((found.temperature_c - 160.1).abs() < 0.1);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn preheat(&self) -> Result<MethodBPreheat> {
        CET.below(CET.positive(self.cet_pct)?, 100.0)?;
        THICKNESS.positive(self.thickness_mm)?;
        HYDROGEN.positive(self.hydrogen_ml_100g)?;
        HEAT_INPUT.positive(self.heat_input_kj_mm)?;
        let slope = 53.0 * self.cet_pct - 32.0;
        let composition_c = 750.0 * self.cet_pct - 150.0;
        let thickness_c = 160.0 * (self.thickness_mm / 35.0).tanh() - 110.0;
        let hydrogen_c = 62.0 * self.hydrogen_ml_100g.powf(0.35) - 100.0;
        let heat_input_c = slope * self.heat_input_kj_mm - slope;
        let temperature_c = result("preheating temperature", composition_c + thickness_c + hydrogen_c + heat_input_c)?;
        Ok(MethodBPreheat { temperature_c, composition_c, thickness_c, hydrogen_c, heat_input_c })
    }

    /// A note for every argument outside of what the method is stated to hold for; the preheat still computes.
    pub fn notes(&self, validity: &MethodBValidity) -> Vec<Note> {
        [
            (CET, self.cet_pct, validity.cet_pct),
            (THICKNESS, self.thickness_mm, validity.thickness_mm),
            (HYDROGEN, self.hydrogen_ml_100g, validity.hydrogen_ml_100g),
            (HEAT_INPUT, self.heat_input_kj_mm, validity.heat_input_kj_mm),
        ]
        .into_iter()
        .filter_map(|(Argument(argument, unit), given, holds)| Validity { argument, unit, holds }.note(given))
        .collect()
    }
}

/// Combined thickness in mm: the sum of the thicknesses that meet at the weld.
///
/// Source: EN 1011-2:2001 C.2 (method A), from memory: each thickness is averaged over 75 mm from the weld line; a web that
/// runs on both ways counts twice; of fillets welded on both sides at once, half. Each must be greater than 0.
///
/// ```
/// use seamwright_calc::preheat::combined_thickness_mm;
/// // A butt weld of two 20 mm plates, and a fillet of a 10 mm web on a 12 mm flange that runs on both ways.
/// assert_eq!(combined_thickness_mm(&[20.0, 20.0], false)?, 40.0);
/// assert_eq!(combined_thickness_mm(&[12.0, 12.0, 10.0], false)?, 34.0);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn combined_thickness_mm(thicknesses_mm: &[f64], both_sides_at_once: bool) -> Result<f64> {
    if thicknesses_mm.is_empty() {
        return Err(CalcError::Empty { argument: "combined thickness" });
    }
    let mut sum = 0.0;
    for thickness in thicknesses_mm {
        sum += THICKNESS.positive(*thickness)?;
    }
    result("combined thickness", if both_sides_at_once { sum / 2.0 } else { sum })
}

/// Susceptibility index of the hydrogen control method: `SI = 12 Pcm + log10 H`.
///
/// Source: AWS D1.1 annex on preheat, from memory; H is 5, 10 or 30 ml/100 g by hydrogen level. Both must be greater than 0.
///
/// ```
/// // Pcm 0.25 with hydrogen level H1
/// let index = seamwright_calc::preheat::susceptibility_index(0.25, 5.0)?;
/// assert!((index - 3.699).abs() < 0.001);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn susceptibility_index(pcm_pct: f64, hydrogen_ml_100g: f64) -> Result<f64> {
    let pcm = PCM.within(PCM.positive(pcm_pct)?, 100.0)?;
    Ok(12.0 * pcm + HYDROGEN.positive(hydrogen_ml_100g)?.log10())
}

/// The place in a rising list of upper bounds that a susceptibility index falls into: 0 is group A.
///
/// The bounds come from a table and belong to the group below; nothing is rounded. `None` above all.
pub fn susceptibility_group(index: f64, upper_bounds: &[f64]) -> Result<Option<usize>> {
    let index = Argument("susceptibility index", "").finite(index)?;
    Ok(upper_bounds.iter().position(|bound| !above(index, *bound)))
}

/// How firmly a joint is held while its weld shrinks (AWS D1.1 annex on preheat).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Restraint {
    /// Members that move freely.
    Low,
    /// Members that are part of the structure but still move a little.
    Medium,
    /// Members that hardly move: repairs, thick joints in a rigid frame.
    High,
}

impl Restraint {
    /// All of them, rising.
    pub const ALL: [Self; 3] = [Self::Low, Self::Medium, Self::High];

    /// The word for it.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Low => "low",
            Self::Medium => "medium",
            Self::High => "high",
        }
    }
}

impl fmt::Display for Restraint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

impl FromStr for Restraint {
    type Err = CalcError;

    fn from_str(text: &str) -> Result<Self> {
        Self::ALL
            .into_iter()
            .find(|restraint| restraint.as_str() == text)
            .ok_or_else(|| CalcError::UnknownWord { text: text.to_owned(), of: "restraint" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const CASE: MethodB = MethodB { cet_pct: 0.4, thickness_mm: 30.0, hydrogen_ml_100g: 5.0, heat_input_kj_mm: 1.0 };

    #[test]
    fn parts_add_up_to_the_formula_as_printed() {
        // The two printed forms of EN 1011-2 C.3 are one: additive parts, and the closed form.
        for (cet, thickness, hydrogen, heat) in [(0.2, 10.0, 1.0, 0.5), (0.35, 40.0, 7.0, 2.0), (0.5, 90.0, 20.0, 4.0)]
        {
            let case =
                MethodB { cet_pct: cet, thickness_mm: thickness, hydrogen_ml_100g: hydrogen, heat_input_kj_mm: heat };
            let closed = 697.0 * cet
                + 160.0 * (thickness / 35.0_f64).tanh()
                + 62.0 * hydrogen.powf(0.35)
                + (53.0 * cet - 32.0) * heat
                - 328.0;
            assert!((case.preheat().unwrap().temperature_c - closed).abs() < 1e-9);
        }
    }

    #[test]
    fn outside_validity_computes_with_a_note_each() {
        // EN 1011-2:2001 C.3, from memory.
        let validity = MethodBValidity {
            cet_pct: Band::new(0.2, 0.5),
            thickness_mm: Band::new(10.0, 90.0),
            hydrogen_ml_100g: Band::new(1.0, 20.0),
            heat_input_kj_mm: Band::new(0.5, 4.0),
        };
        assert_eq!(CASE.notes(&validity), []);
        let far = MethodB { cet_pct: 0.18, thickness_mm: 8.0, hydrogen_ml_100g: 25.0, heat_input_kj_mm: 5.0 };
        assert!(far.preheat().is_ok());
        assert_eq!(
            far.notes(&validity).iter().map(ToString::to_string).collect::<Vec<_>>(),
            [
                "CET is 0.18 %, the formula holds from 0.2 to 0.5 %",
                "thickness is 8 mm, the formula holds from 10 to 90 mm",
                "diffusible hydrogen is 25 ml/100 g, the formula holds from 1 to 20 ml/100 g",
                "heat input is 5 kJ/mm, the formula holds from 0.5 to 4 kJ/mm",
            ]
        );
        let error = MethodB { thickness_mm: -1.0, ..CASE }.preheat().unwrap_err();
        assert_eq!(error.to_string(), "thickness is -1 mm, must be greater than 0");
        assert!(MethodB { cet_pct: 100.0, ..CASE }.preheat().is_err());
    }

    #[test]
    fn susceptibility_groups_follow_the_table_of_pcm_and_hydrogen() {
        // AWS D1.1 annex, from memory: bands of SI, and the group by Pcm and hydrogen level. Its steps of Pcm are coarse:
        // within a step the index may fall into a neighbouring group.
        let bounds = [3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 7.0];
        for (row, pcm) in [0.155, 0.205, 0.255, 0.305, 0.355].into_iter().enumerate() {
            for (column, hydrogen) in [5.0, 10.0, 30.0].into_iter().enumerate() {
                let index = susceptibility_index(pcm, hydrogen).unwrap();
                let group = susceptibility_group(index, &bounds).unwrap().unwrap();
                assert!(group.abs_diff(row + column) <= 1, "{pcm} {hydrogen}: {index}");
            }
        }
        assert_eq!(susceptibility_group(7.2, &bounds), Ok(None));
        assert_eq!(susceptibility_group(3.0, &bounds), Ok(Some(0)));
    }
}
