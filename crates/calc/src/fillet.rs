//! Fillets: legs, throat, face and area.

use crate::Result;
use crate::argument::{Argument, result};
use crate::error::Must;
use crate::formula::{Basis, Formula};
use crate::groove::{Point, bow_area_mm2, finite_points};

const LEG: Argument = Argument("leg", "mm");
const THROAT: Argument = Argument("throat", "mm");
const ANGLE: Argument = Argument("angle between the members", "°");
const CONVEXITY: Argument = Argument("convexity", "mm");

/// Leg and throat of an equal-leg fillet.
pub const LEG_AND_THROAT: Formula = Formula {
    name: "fillet-leg-and-throat",
    equation: "z = a sqrt(2); with unequal legs a = z1 z2 / sqrt(z1² + z2²)   [mm]",
    source: "geometry; ISO 2553, AWS A3.0 for the terms",
    basis: Basis::CommonPractice,
    validity: "members at right angles, flat face",
};

/// Area of a fillet.
pub const FILLET_AREA: Formula = Formula {
    name: "fillet-area",
    equation: "A = z1 z2 sin(ψ)/2 + 2/3 f h   [mm²; ψ angle between the members, f length of the face, h convexity]",
    source: "geometry; welding handbooks of consumables makers for the triangle",
    basis: Basis::Published,
    validity: "",
};

/// The sizes of a fillet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fillet {
    /// Leg on the first member, mm.
    pub leg_1_mm: f64,
    /// Leg on the second member, mm.
    pub leg_2_mm: f64,
    /// Angle between the members, degrees; 90 as a rule.
    pub angle_deg: f64,
    /// Height of the face above the straight line between the toes, mm; less than 0 where the face is hollow.
    pub convexity_mm: f64,
}

/// Leg in mm of an equal-leg fillet between members at right angles: `z = a √2`.
///
/// The throat must be greater than 0.
///
/// ```
/// let leg = seamwright_calc::fillet::leg_from_throat_mm(4.0)?;
/// assert!((leg - 5.657).abs() < 0.001);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn leg_from_throat_mm(throat_mm: f64) -> Result<f64> {
    result("leg", THROAT.positive(throat_mm)? * std::f64::consts::SQRT_2)
}

/// Throat in mm of an equal-leg fillet between members at right angles: `a = z / √2`.
///
/// The leg must be greater than 0. A leg of 6 mm has a throat of 4.24 mm.
pub fn throat_from_leg_mm(leg_mm: f64) -> Result<f64> {
    Ok(LEG.positive(leg_mm)? / std::f64::consts::SQRT_2)
}

impl Fillet {
    /// A flat fillet of equal legs between members at right angles.
    pub fn equal(leg_mm: f64) -> Self {
        Self { leg_1_mm: leg_mm, leg_2_mm: leg_mm, angle_deg: 90.0, convexity_mm: 0.0 }
    }

    /// A flat fillet of unequal legs between members at right angles.
    pub fn unequal(leg_1_mm: f64, leg_2_mm: f64) -> Self {
        Self { leg_1_mm, leg_2_mm, angle_deg: 90.0, convexity_mm: 0.0 }
    }

    fn looked_at(&self) -> Result<&Self> {
        LEG.positive(self.leg_1_mm)?;
        LEG.positive(self.leg_2_mm)?;
        ANGLE.below(ANGLE.positive(self.angle_deg)?, 180.0)?;
        CONVEXITY.finite(self.convexity_mm)?;
        // Equal legs at an angle of next to nothing leave no face.
        Argument("face", "mm").positive(self.face())?;
        Ok(self)
    }

    fn triangle(&self) -> f64 {
        self.leg_1_mm * self.leg_2_mm * self.angle_deg.to_radians().sin() / 2.0
    }

    fn face(&self) -> f64 {
        let angle = self.angle_deg.to_radians();
        // The legs as vectors from the root; the face joins their ends.
        (self.leg_1_mm - self.leg_2_mm * angle.cos()).hypot(self.leg_2_mm * angle.sin())
    }

    /// Theoretical throat in mm: the height of the triangle over its face, without convexity, or with its hollow taken off.
    ///
    /// Refuses legs of 0 or less, an angle between the members outside 0 to 180°, and a hollow so deep that it runs under a leg.
    /// Legs of 6 and 8 mm have a throat of 4.8 mm.
    pub fn throat_mm(&self) -> Result<f64> {
        let throat = 2.0 * self.looked_at()?.triangle() / self.face();
        self.hollow()?;
        result("throat", throat + self.convexity_mm.min(0.0))
    }

    /// Area in mm²: `z1 z2 sin(ψ)/2 + 2/3 face × convexity`, less where the face is hollow.
    ///
    /// Source: geometry; the bow is the parabola that handbook tables use. Refuses what [`Fillet::throat_mm`] does.
    ///
    /// ```
    /// use seamwright_calc::fillet::Fillet;
    /// // Handbook of a consumables maker: 1/2 in legs, 1 ft long, 0.283 lb/in3: 0.424 lb.
    /// let area_in2 = Fillet::equal(12.7).area_mm2()? / (25.4 * 25.4);
    /// assert!((area_in2 * 12.0 * 0.283 - 0.424).abs() < 0.001);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn area_mm2(&self) -> Result<f64> {
        let (triangle, face) = (self.looked_at()?.triangle(), self.face());
        self.hollow()?;
        let bow = bow_area_mm2(result("face", face)?, self.convexity_mm.abs())?;
        result("area", triangle + bow.copysign(self.convexity_mm))
    }

    /// A hollow face must leave the toes between the face's line and the legs: a parabola leaves at `4 h / face`.
    fn hollow(&self) -> Result<()> {
        let (sin, cos) = self.angle_deg.to_radians().sin_cos();
        let toe = |leg: f64, other: f64| {
            let run = leg - other * cos;
            if run > 0.0 { other * sin / run } else { f64::INFINITY }
        };
        let steepest = toe(self.leg_1_mm, self.leg_2_mm).min(toe(self.leg_2_mm, self.leg_1_mm));
        // A parabola of 3/4 of the triangle's height would leave no area: it bounds what rounding leaves of the toes' angles.
        let deepest = (self.face() / 4.0 * steepest).min(0.75 * 2.0 * self.triangle() / self.face());
        if self.convexity_mm < -deepest {
            return Err(CONVEXITY.refuse(self.convexity_mm, Must::Reach(-deepest)));
        }
        Ok(())
    }

    /// The outline in mm as a closed polygon from the root: first member along x, face from toe to toe as a polyline.
    ///
    /// y is downwards, so that the second member stands up; the last point is not the first again.
    pub fn outline(&self) -> Result<Vec<Point>> {
        const STEPS: u32 = 64;
        self.area_mm2()?;
        let angle = self.angle_deg.to_radians();
        let (from, to) = ([self.leg_1_mm, 0.0], [self.leg_2_mm * angle.cos(), -self.leg_2_mm * angle.sin()]);
        let face = self.face();
        // Upright to the face, away from the root.
        let away = [-(to[1] - from[1]) / face, (to[0] - from[0]) / face];
        let mut points = vec![[0.0, 0.0]];
        for step in 0..=STEPS {
            let share = f64::from(step) / f64::from(STEPS);
            let rise = 4.0 * share * (1.0 - share) * self.convexity_mm;
            points.push([
                from[0] + share * (to[0] - from[0]) + rise * away[0],
                from[1] + share * (to[1] - from[1]) + rise * away[1],
            ]);
        }
        finite_points(&points)?;
        Ok(points)
    }
}
