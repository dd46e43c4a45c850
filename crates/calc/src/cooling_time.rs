//! Cooling time from 800 to 500 °C, on which the hardness and toughness of a steel's heat-affected zone depend.
//!
//! Heat flows in three dimensions in a thick plate and in two in a thin one; the thickness at which both formulas give the
//! same is the transition thickness. Shape factors are those of a table (EN 1011-2 D.1).

use std::fmt;

use crate::Result;
use crate::argument::{Argument, result};
use crate::band::Band;
use crate::error::Must;
use crate::formula::{Basis, Formula};

const HEAT_INPUT: Argument = Argument("heat input", "kJ/mm");
const THICKNESS: Argument = Argument("thickness", "mm");
const PREHEAT: Argument = Argument("preheating temperature", "°C");
const F2: Argument = Argument("shape factor F2", "");
const F3: Argument = Argument("shape factor F3", "");
const TIME: Argument = Argument("cooling time", "s");

/// Cooling time with three-dimensional heat flow.
pub const THREE_DIMENSIONAL: Formula = Formula {
    name: "cooling-time-three-dimensional",
    equation: "t8/5 = (6700 - 5 T0) Q (1/(500 - T0) - 1/(800 - T0)) F3   [s; °C, kJ/mm]",
    source: "EN 1011-2:2001 D.5; SEW 088",
    basis: Basis::Published,
    validity: "unalloyed and low-alloy steel; plate thicker than the transition thickness",
};

/// Cooling time with two-dimensional heat flow.
pub const TWO_DIMENSIONAL: Formula = Formula {
    name: "cooling-time-two-dimensional",
    equation: "t8/5 = (4300 - 4.3 T0) 10^5 Q²/d² (1/(500 - T0)² - 1/(800 - T0)²) F2   [s; °C, kJ/mm, mm]",
    source: "EN 1011-2:2001 D.5; SEW 088",
    basis: Basis::Published,
    validity: "unalloyed and low-alloy steel; plate thinner than the transition thickness",
};

/// Transition thickness.
pub const TRANSITION: Formula = Formula {
    name: "transition-thickness",
    equation: "dt = sqrt((4300 - 4.3 T0)/(6700 - 5 T0) 10^5 Q (1/(500 - T0) + 1/(800 - T0)) F2/F3)   [mm; °C, kJ/mm]",
    source: "EN 1011-2:2001 D.4 for equal shape factors; with others, where the two formulas meet",
    basis: Basis::FromMemory,
    validity: "",
};

/// How heat leaves the weld.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HeatFlow {
    /// Through a thin plate: sideways only.
    TwoDimensional,
    /// Into a thick plate: sideways and down.
    ThreeDimensional,
}

impl HeatFlow {
    /// The word for it.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::TwoDimensional => "two-dimensional",
            Self::ThreeDimensional => "three-dimensional",
        }
    }
}

impl fmt::Display for HeatFlow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// Shape factors of a joint for two- and three-dimensional heat flow; 1 and 1 for a run on a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShapeFactors {
    /// For two-dimensional heat flow.
    pub f2: f64,
    /// For three-dimensional heat flow.
    pub f3: f64,
}

impl Default for ShapeFactors {
    fn default() -> Self {
        Self { f2: 1.0, f3: 1.0 }
    }
}

/// The plate that a weld cools in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Preheating (or interpass) temperature T0, °C; below 500.
    pub preheat_c: f64,
    /// Shape factors of the joint.
    pub shape: ShapeFactors,
}

/// A cooling time and how it comes about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoolingTime {
    /// Time from 800 to 500 °C, s.
    pub time_s: f64,
    /// Thickness at which heat flow changes from two- to three-dimensional, mm.
    pub transition_thickness_mm: f64,
    /// Heat flow in this plate.
    pub heat_flow: HeatFlow,
}

/// The time for 1 kJ/mm: of three-dimensional flow per kJ/mm, and of two-dimensional flow per (kJ/mm)².
struct Rates {
    two: f64,
    three: f64,
}

impl Plate {
    fn rates(&self) -> Result<Rates> {
        let t0 = PREHEAT.temperature(self.preheat_c)?;
        if t0 >= 500.0 {
            return Err(PREHEAT.refuse(t0, Must::StayBelow(500.0)));
        }
        let d = THICKNESS.positive(self.thickness_mm)?;
        let (to_500, to_800) = (1.0 / (500.0 - t0), 1.0 / (800.0 - t0));
        let three = (6700.0 - 5.0 * t0) * (to_500 - to_800) * F3.positive(self.shape.f3)?;
        let two =
            (4300.0 - 4.3 * t0) * 1e5 / d / d * (to_500 * to_500 - to_800 * to_800) * F2.positive(self.shape.f2)?;
        Ok(Rates { two: result("cooling time", two)?, three: result("cooling time", three)? })
    }

    /// Cooling time in s by the formula for two-dimensional heat flow, whatever the plate.
    ///
    /// `(4300 - 4.3 T0) 10^5 Q²/d² (1/(500 - T0)² - 1/(800 - T0)²) F2`. Source: EN 1011-2:2001 D.5.
    /// 1 kJ/mm on 10 mm at 20 °C gives 11.37 s.
    pub fn two_dimensional_s(&self, heat_input_kj_mm: f64) -> Result<f64> {
        let q = HEAT_INPUT.positive(heat_input_kj_mm)?;
        result("cooling time", self.rates()?.two * q * q)
    }

    /// Cooling time in s by the formula for three-dimensional heat flow, whatever the plate.
    ///
    /// `(6700 - 5 T0) Q (1/(500 - T0) - 1/(800 - T0)) F3`. Source: EN 1011-2:2001 D.5.
    /// 1 kJ/mm at 20 °C gives 5.29 s.
    pub fn three_dimensional_s(&self, heat_input_kj_mm: f64) -> Result<f64> {
        result("cooling time", self.rates()?.three * HEAT_INPUT.positive(heat_input_kj_mm)?)
    }

    /// The thickness in mm at which both formulas give the same; thinner plates cool in two dimensions.
    ///
    /// Source: EN 1011-2:2001 D.4, from memory. With unequal shape factors it is where the two formulas meet. The plate's own
    /// thickness does not matter. 1 kJ/mm at 20 °C gives 14.66 mm.
    pub fn transition_thickness_mm(&self, heat_input_kj_mm: f64) -> Result<f64> {
        let q = HEAT_INPUT.positive(heat_input_kj_mm)?;
        let rates = Self { thickness_mm: 1.0, ..*self }.rates()?;
        result("transition thickness", (rates.two * q / rates.three).sqrt())
    }

    /// Cooling time from 800 to 500 °C for a heat input with k, by the formula that the plate's thickness asks for.
    ///
    /// Source: EN 1011-2:2001 annex D. Heat input, thickness and shape factors must be greater than 0, T0 below 500 °C.
    ///
    /// ```
    /// use seamwright_calc::cooling_time::{HeatFlow, Plate, ShapeFactors};
    /// // 1 kJ/mm on 20 mm at 20 °C: 5.29 s, heat flow in three dimensions.
    /// let plate = Plate { thickness_mm: 20.0, preheat_c: 20.0, shape: ShapeFactors::default() };
    /// let cooling = plate.cooling_time(1.0)?;
    /// assert!((cooling.time_s - 5.29).abs() < 0.005);
    /// assert_eq!(cooling.heat_flow, HeatFlow::ThreeDimensional);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn cooling_time(&self, heat_input_kj_mm: f64) -> Result<CoolingTime> {
        let (two, three) = (self.two_dimensional_s(heat_input_kj_mm)?, self.three_dimensional_s(heat_input_kj_mm)?);
        let transition_thickness_mm = self.transition_thickness_mm(heat_input_kj_mm)?;
        let (time_s, heat_flow) =
            if two > three { (two, HeatFlow::TwoDimensional) } else { (three, HeatFlow::ThreeDimensional) };
        Ok(CoolingTime { time_s, transition_thickness_mm, heat_flow })
    }

    /// The heat input in kJ/mm (with k) that gives a cooling time in s.
    ///
    /// The inverse of [`Plate::cooling_time`], which rises with heat input all the way. The time must be greater than 0.
    pub fn heat_input_for_kj_mm(&self, time_s: f64) -> Result<f64> {
        let time = TIME.positive(time_s)?;
        let rates = self.rates()?;
        result("heat input", (time / rates.three).min((time / rates.two).sqrt()))
    }

    /// The window of heat input in kJ/mm (with k) that keeps the cooling time within a range of s.
    ///
    /// ```
    /// use seamwright_calc::{Band, cooling_time::{Plate, ShapeFactors}};
    /// let plate = Plate { thickness_mm: 25.0, preheat_c: 100.0, shape: ShapeFactors::default() };
    /// let window = plate.heat_input_window_kj_mm(Band::new(10.0, 20.0))?;
    /// assert!((plate.cooling_time(window.low)?.time_s - 10.0).abs() < 1e-9);
    /// assert!((plate.cooling_time(window.high)?.time_s - 20.0).abs() < 1e-9);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn heat_input_window_kj_mm(&self, time_s: Band) -> Result<Band> {
        time_s.try_map(|time| self.heat_input_for_kj_mm(time))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plate(thickness_mm: f64, preheat_c: f64) -> Plate {
        Plate { thickness_mm, preheat_c, shape: ShapeFactors::default() }
    }

    #[test]
    fn doc_comment_examples_hold() {
        assert!((plate(10.0, 20.0).two_dimensional_s(1.0).unwrap() - 11.37).abs() < 0.01);
        assert!((plate(10.0, 20.0).three_dimensional_s(1.0).unwrap() - 5.29).abs() < 0.005);
        assert!((plate(10.0, 20.0).transition_thickness_mm(1.0).unwrap() - 14.66).abs() < 0.01);
    }

    #[test]
    fn nonsense_is_refused_by_name() {
        let text = |plate: Plate| plate.cooling_time(1.0).unwrap_err().to_string();
        assert_eq!(text(plate(20.0, 500.0)), "preheating temperature is 500 °C, must be less than 500");
        assert_eq!(text(plate(-2.0, 20.0)), "thickness is -2 mm, must be greater than 0");
        assert_eq!(
            plate(20.0, 20.0).cooling_time(0.0).unwrap_err().to_string(),
            "heat input is 0 kJ/mm, must be greater than 0"
        );
    }
}
