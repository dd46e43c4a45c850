//! The face of a groove above its root face: what a weld's area is counted from, and what a sketch of the joint follows.
//!
//! Lengths in mm, angles in radians from the upright. A flank starts at the upper edge of the root face; `height` is above
//! that edge, `aside` is how far the face has gone from the upright through it. The round of a U or a J starts level and
//! runs into the straight part as a tangent.

use std::f64::consts::FRAC_PI_2;

/// The face of a groove above its root face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Flank {
    /// Straight, at an angle from the upright, radians.
    Straight(f64),
    /// An arc that runs into a straight part.
    Round {
        /// Angle of the straight part from the upright, radians.
        angle: f64,
        /// Radius of the arc, mm.
        radius: f64,
    },
}

impl Flank {
    /// A square edge.
    pub const UPRIGHT: Self = Self::Straight(0.0);

    /// How far it has gone sideways at a height, mm.
    pub fn aside(self, height: f64) -> f64 {
        let height = height.max(0.0);
        match self {
            Self::Straight(angle) => height * angle.tan(),
            Self::Round { angle, radius } => {
                let end = radius * (1.0 - angle.sin());
                if height <= end {
                    (height * (2.0 * radius - height)).max(0.0).sqrt()
                } else {
                    radius * angle.cos() + (height - end) * angle.tan()
                }
            }
        }
    }

    /// The height at which it has gone so far sideways, mm; no higher than its arc where it stands upright above it.
    pub fn height(self, aside: f64) -> f64 {
        match self {
            Self::Straight(angle) => {
                if angle.tan() > 1e-9 {
                    aside / angle.tan()
                } else {
                    0.0
                }
            }
            Self::Round { angle, radius } => {
                let reach = radius * angle.cos();
                if aside < reach {
                    radius - (radius * radius - aside * aside).max(0.0).sqrt()
                } else if angle.tan() > 1e-9 {
                    radius * (1.0 - angle.sin()) + (aside - reach) / angle.tan()
                } else {
                    radius
                }
            }
        }
    }

    /// The area between it and the upright from the root face to a height, mm².
    pub fn area(self, height: f64) -> f64 {
        match self {
            Self::Straight(angle) => height * height * angle.tan() / 2.0,
            Self::Round { angle, radius } => {
                let end = radius * (1.0 - angle.sin());
                let turn = Self::turn(angle, radius, height);
                let arc = radius * radius / 2.0 * (turn - turn.sin() * turn.cos());
                let above = (height - end).max(0.0);
                arc + radius * angle.cos() * above + above * above * angle.tan() / 2.0
            }
        }
    }

    /// Points (aside, height) from the root face up to a height; the whole arc in so many steps.
    pub fn points(self, top: f64, steps: u32) -> Vec<(f64, f64)> {
        let mut points = vec![(0.0, 0.0)];
        if let Self::Round { angle, radius } = self {
            let full = FRAC_PI_2 - angle;
            for step in 1..=steps {
                let turn = full * f64::from(step) / f64::from(steps);
                let height = radius * (1.0 - turn.cos());
                if height < top {
                    points.push((radius * turn.sin(), height));
                }
            }
        }
        points.push((self.aside(top), top));
        points
    }

    /// Whether it is a square edge.
    pub fn is_upright(self) -> bool {
        matches!(self, Self::Straight(angle) if angle < 1e-6)
    }

    /// Direction of the straight part, outwards and up, as (aside, height) of length one.
    pub fn direction(self) -> (f64, f64) {
        let (Self::Straight(angle) | Self::Round { angle, .. }) = self;
        (angle.sin(), angle.cos())
    }

    /// How far an arc turns up to a height, radians: from level to the flank's slope, or to where the surface cuts it.
    pub(crate) fn turn(angle: f64, radius: f64, height: f64) -> f64 {
        let full = FRAC_PI_2 - angle;
        if height >= radius * (1.0 - angle.sin()) { full } else { (1.0 - height / radius).clamp(-1.0, 1.0).acos() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FLANKS: [Flank; 4] = [
        Flank::Straight(0.6),
        Flank::Round { angle: 0.15, radius: 6.0 },
        Flank::Round { angle: 0.0, radius: 4.0 },
        Flank::Round { angle: 0.35, radius: 8.0 },
    ];

    #[test]
    fn a_height_leads_back_from_its_distance() {
        for flank in FLANKS {
            for height in [0.5, 2.0, 3.9] {
                let back = flank.height(flank.aside(height));
                assert!((back - height).abs() < 1e-9, "{flank:?} at {height}: {back}");
            }
        }
    }

    #[test]
    fn the_area_is_that_under_the_points() {
        for flank in FLANKS {
            for top in [1.0, 5.0, 20.0] {
                let points = flank.points(top, 2000);
                let under: f64 = points.windows(2).map(|two| (two[1].1 - two[0].1) * (two[0].0 + two[1].0) / 2.0).sum();
                assert!((under - flank.area(top)).abs() < 1e-4 * under, "{flank:?} to {top}: {under}");
            }
        }
    }
}
