//! What one side of a joint fills.

use crate::point::{Point, add, dot, sub, times, unit};

/// Steps across a region; its curves are drawn with them.
const STEPS: u32 = 140;

/// A fillet's corner and toes.
#[derive(Debug, Clone)]
pub(in crate::sketch) struct Wedge {
    pub(in crate::sketch) apex: Point,
    /// Toes on the first and on the second member.
    pub(in crate::sketch) toes: [Point; 2],
}

/// How the frame of a region lies in that of the joint.
#[derive(Debug, Clone, Copy)]
pub(super) enum Place {
    /// Upright, or head over heels for the second side.
    Groove { up: f64 },
    /// x along the face of a fillet from its second toe to its first, y out of it.
    Wedge { origin: Point, x: Point, y: Point },
}

/// What one side of a joint fills, with its face up: one bottom and one top over every x.
#[derive(Debug, Clone)]
pub(in crate::sketch) struct Region {
    /// x in rising order; an x that comes twice is an upright wall.
    pub(in crate::sketch) xs: Vec<f64>,
    pub(in crate::sketch) bottom: Vec<f64>,
    toes: (Point, Point),
    rise: f64,
    place: Place,
}

impl Region {
    pub(super) fn new(bottom: Vec<Point>, toes: (Point, Point), rise: f64, place: Place) -> Self {
        let width = (toes.1.0 - toes.0.0).max(1e-6);
        let longest = width / f64::from(STEPS);
        let mut xs = Vec::new();
        let mut levels = Vec::new();
        let mut last: Option<Point> = None;
        for (x, y) in bottom {
            if let Some((x0, y0)) = last {
                let pieces = ((x - x0) / longest).ceil().clamp(1.0, f64::from(STEPS));
                let mut piece = 1.0;
                while piece < pieces {
                    let f = piece / pieces;
                    xs.push(x0 + (x - x0) * f);
                    levels.push(y0 + (y - y0) * f);
                    piece += 1.0;
                }
            }
            xs.push(x);
            levels.push(y);
            last = Some((x, y));
        }
        Self { xs, bottom: levels, toes, rise, place }
    }

    pub(super) fn wedge(wedge: &Wedge, rise: Option<f64>) -> Self {
        let [first, second] = wedge.toes;
        let x = unit(sub(first, second));
        let foot = dot(sub(wedge.apex, second), x);
        let origin = add(second, times(x, foot));
        let out = sub(origin, wedge.apex);
        let deep = out.0.hypot(out.1);
        let y = unit(out);
        let chord = sub(first, second);
        let width = chord.0.hypot(chord.1);
        let rise = rise.unwrap_or((0.05 * width).clamp(0.05, 2.0));
        let toes = ((-foot, 0.0), (width - foot, 0.0));
        Self::new(vec![toes.0, (0.0, -deep), toes.1], toes, rise, Place::Wedge { origin, x, y })
    }

    /// Whether it is a fillet.
    pub(in crate::sketch) fn is_wedge(&self) -> bool {
        matches!(self.place, Place::Wedge { .. })
    }

    /// The face over each x: one dome, or scallops between the given cuts (shares of the width, rising).
    pub(in crate::sketch) fn top(&self, cuts: &[f64]) -> Vec<f64> {
        let ((x0, y0), (x1, y1)) = self.toes;
        let width = (x1 - x0).max(1e-9);
        let scalloped = !cuts.is_empty();
        self.xs
            .iter()
            .zip(&self.bottom)
            .map(|(&x, &bottom)| {
                let f = ((x - x0) / width).clamp(0.0, 1.0);
                let dome = 4.0 * f * (1.0 - f);
                let rise = if scalloped {
                    let from = cuts.iter().copied().rfind(|&cut| cut <= f).unwrap_or(0.0);
                    let to = cuts.iter().copied().find(|&cut| cut > f).unwrap_or(1.0);
                    let g = ((f - from) / (to - from).max(1e-9)).clamp(0.0, 1.0);
                    // A scallop is as steep as a single bead of its width would be, within the height of the cap.
                    let scallop = (to - from).max(0.15) * 1.1;
                    self.rise * ((1.0 - scallop.min(0.45)) * dome + scallop.min(0.45) * 4.0 * g * (1.0 - g))
                } else {
                    self.rise * dome
                };
                (y0 + (y1 - y0) * f + rise).max(bottom)
            })
            .collect()
    }

    /// A point of the region in the frame of the joint.
    pub(in crate::sketch) fn in_joint(&self, (x, y): Point) -> Point {
        match self.place {
            Place::Groove { up } => (x, y * up),
            Place::Wedge { origin, x: along, y: out } => add(origin, add(times(along, x), times(out, y))),
        }
    }

    /// The outline in the frame of the joint, with one dome.
    pub(in crate::sketch) fn outline(&self) -> Vec<Point> {
        self.outline_under(&self.top(&[]))
    }

    /// The outline under a face, in the frame of the joint.
    pub(in crate::sketch) fn outline_under(&self, top: &[f64]) -> Vec<Point> {
        let upper = self.xs.iter().zip(top).rev();
        self.xs.iter().zip(&self.bottom).chain(upper).map(|(&x, &y)| self.in_joint((x, y))).collect()
    }
}
