//! Flares: the groove that a round member leaves beside a flat or another round one.

use crate::Result;
use crate::argument::{Argument, result};
use crate::error::Must;
use crate::formula::{Basis, Formula};

const RADIUS: Argument = Argument("outside radius", "mm");
const DEPTH: Argument = Argument("depth", "mm");
const GAP: Argument = Argument("root gap", "mm");

/// Cross-section of a flare.
pub const FLARE_AREA: Formula = Formula {
    name: "flare-area",
    equation: "A = n (r d - r²/2 arccos((r - d)/r) + (r - d)/2 sqrt(r² - (r - d)²)) + b d   [mm²; r outside radius, d depth from the top of the round, b gap, n = 1 beside a flat member, 2 between two round ones]",
    source: "geometry: what a round leaves of the square about it",
    basis: Basis::CommonPractice,
    validity: "down to where the members come nearest: d = r, A = n (1 - π/4) r² + b r",
};

/// A flare; both members of a flare V have the same radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flare {
    /// How many members are round: 1 or 2.
    pub round: u8,
    /// Outside radius of the round, mm.
    pub radius_mm: f64,
    /// Depth that is filled, from the top of the round, mm.
    pub depth_mm: f64,
    /// Gap where the members come nearest, mm.
    pub root_gap_mm: f64,
}

impl Flare {
    /// What is filled, in mm².
    ///
    /// The depth may be no greater than the radius, below which a flare opens again.
    ///
    /// ```
    /// // A bar of 20 mm on a plate, filled flush: a square of 10 mm less the quarter of its circle.
    /// let bar = seamwright_calc::flare::Flare { round: 1, radius_mm: 10.0, depth_mm: 10.0, root_gap_mm: 0.0 };
    /// assert!((bar.area_mm2()? - 21.46).abs() < 0.01);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn area_mm2(&self) -> Result<f64> {
        let (r, d) = (RADIUS.positive(self.radius_mm)?, DEPTH.positive(self.depth_mm)?);
        if d > r {
            return Err(DEPTH.refuse(d, Must::StayWithinOther("the outside radius", r)));
        }
        let gap = GAP.not_negative(self.root_gap_mm)?;
        let rest = r - d;
        let metal = r * r / 2.0 * (rest / r).acos() - rest / 2.0 * (r * r - rest * rest).sqrt();
        result("cross-section", f64::from(self.round) * (r * d - metal) + gap * d)
    }

    /// Width of the flare at the top of the round, mm.
    pub fn width_mm(&self) -> Result<f64> {
        let width = f64::from(self.round) * RADIUS.positive(self.radius_mm)? + GAP.not_negative(self.root_gap_mm)?;
        result("width", width)
    }
}
