//! The face of a groove above its root face.

use crate::sketch::canvas::Point;

/// Steps of the round part of a U or J flank.
const ROUND: u32 = 14;

/// The face of a groove above its root face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Flank {
    /// At an angle from the upright, radians.
    Straight(f64),
    /// A quarter round that runs into a straight face.
    Round { angle: f64, radius: f64 },
}

impl Flank {
    /// How far the face has gone sideways at a height above the root face.
    pub(super) fn aside(self, height: f64) -> f64 {
        let height = height.max(0.0);
        match self {
            Self::Straight(angle) => height * angle.tan(),
            Self::Round { angle, radius } => {
                let end = radius * (1.0 - angle.sin());
                if height < end {
                    (2.0 * radius * height - height * height).max(0.0).sqrt()
                } else {
                    radius * angle.cos() + (height - end) * angle.tan()
                }
            }
        }
    }

    /// The height above the root face at which the face has gone so far sideways.
    pub(super) fn height(self, aside: f64) -> f64 {
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

    /// Points (aside, height) from the root face up to `top`.
    pub(super) fn points(self, top: f64) -> Vec<Point> {
        let mut points = vec![(0.0, 0.0)];
        if let Self::Round { angle, radius } = self {
            let full = std::f64::consts::FRAC_PI_2 - angle;
            for step in 1..=ROUND {
                let turn = full * f64::from(step) / f64::from(ROUND);
                let height = radius * (1.0 - turn.cos());
                if height < top {
                    points.push((radius * turn.sin(), height));
                }
            }
        }
        points.push((self.aside(top), top));
        points
    }

    pub(super) fn is_upright(self) -> bool {
        matches!(self, Self::Straight(angle) if angle < 1e-6)
    }

    /// Direction of the straight part, outwards and up.
    pub(super) fn direction(self) -> Point {
        let (Self::Straight(angle) | Self::Round { angle, .. }) = self;
        (angle.sin(), angle.cos())
    }
}
