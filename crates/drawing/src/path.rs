//! Paths made of points: lines through them, arcs, and curves as straight pieces.

use crate::drawing::Segment;
use crate::point::{Point, add, dot, heading, square_away, sub, times, unit};

/// Farthest that a point which is left out lies beside the line, mm: less than a printer shows.
pub(crate) const HAIR: f64 = 0.008;

/// The points without those that lie on the line between their neighbours.
fn slim(points: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(points.len());
    let mut skipped: Vec<Point> = Vec::new();
    let mut sleeve = Sleeve::default();
    for &point in points {
        let Some(&from) = kept.last() else {
            kept.push(point);
            continue;
        };
        let leaves = || skipped.iter().any(|&at| square_away(at, from, point) > HAIR * HAIR);
        if !sleeve.holds(sub(point, from)) && leaves() {
            kept.extend(skipped.last());
            skipped.clear();
            sleeve = Sleeve::default();
        }
        sleeve.widen(sub(point, kept.last().copied().unwrap_or(point)));
        skipped.push(point);
    }
    kept.extend(skipped.last());
    kept
}

/// How far points reach along the way to the first of them, and beside it: what lies in a straight line needs no look at
/// each of its points.
#[derive(Default)]
struct Sleeve {
    /// Direction of the first point.
    along: Option<Point>,
    /// Nearest and farthest along it.
    from: f64,
    to: f64,
    /// Farthest beside it.
    beside: f64,
}

impl Sleeve {
    fn widen(&mut self, point: Point) {
        let along = *self.along.get_or_insert_with(|| unit(point));
        let (far, beside) = (dot(along, point), dot((-along.1, along.0), point).abs());
        (self.from, self.to) = (self.from.min(far), self.to.max(far));
        self.beside = self.beside.max(beside);
    }

    /// Whether all points surely lie within a hair of the straight line to this one; they may do so where it says no.
    fn holds(&self, point: Point) -> bool {
        let Some(along) = self.along else { return true };
        let length = point.0.hypot(point.1);
        let to = unit(point);
        let (straight, turned) = (dot(along, to), dot((-along.1, along.0), to).abs());
        straight > 0.0
            && straight * self.beside + turned * self.to.max(-self.from) <= HAIR * 0.999
            && straight * self.from - turned * self.beside >= -HAIR * 0.001
            && straight * self.to + turned * self.beside <= length + HAIR * 0.001
    }
}

/// Lines from each point to the next, as the start of a path.
pub(crate) fn open(points: &[Point]) -> Vec<Segment> {
    slim(points)
        .into_iter()
        .enumerate()
        .map(|(index, point)| if index == 0 { Segment::Move(point) } else { Segment::Line(point) })
        .collect()
}

/// An arc as Béziers, from one heading to another, degrees counter-clockwise from the right as seen on paper.
pub(crate) fn arc(centre: Point, radius: f64, from: f64, to: f64) -> Vec<Segment> {
    let sweep = to - from;
    // No piece spans more than an eighth of a circle; 16 pieces at most for any sweep within a full turn or two.
    let pieces = (sweep.abs() / 45.0).ceil().clamp(1.0, 16.0);
    let step = sweep / pieces;
    let pull = 4.0 / 3.0 * (step.to_radians() / 4.0).tan() * radius;
    let at = |degrees: f64| add(centre, times(heading(degrees), radius));
    let tangent = |degrees: f64| heading(degrees + 90.0);
    let mut segments = vec![Segment::Move(at(from))];
    let mut angle = from;
    let mut left = pieces;
    while left > 0.5 {
        let next = angle + step;
        segments.push(Segment::Curve(
            add(at(angle), times(tangent(angle), pull)),
            sub(at(next), times(tangent(next), pull)),
            at(next),
        ));
        angle = next;
        left -= 1.0;
    }
    segments
}

/// The straight pieces of a path; a curve becomes sixteen.
pub(crate) fn flatten(segments: &[Segment]) -> Vec<(Point, Point)> {
    let mut lines = Vec::new();
    let (mut start, mut at) = ((0.0, 0.0), (0.0, 0.0));
    for segment in segments {
        match *segment {
            Segment::Move(to) => (start, at) = (to, to),
            Segment::Line(to) => {
                lines.push((at, to));
                at = to;
            }
            Segment::Curve(a, b, to) => {
                let from = at;
                for step in 1..=16 {
                    let t = f64::from(step) / 16.0;
                    let s = 1.0 - t;
                    let mix = |p: f64, q: f64, r: f64, e: f64| {
                        s * s * s * p + 3.0 * s * s * t * q + 3.0 * s * t * t * r + t * t * t * e
                    };
                    let next = (mix(from.0, a.0, b.0, to.0), mix(from.1, a.1, b.1, to.1));
                    lines.push((at, next));
                    at = next;
                }
            }
            Segment::Close => {
                lines.push((at, start));
                at = start;
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The same with a look at each point.
    fn one_by_one(points: &[Point]) -> Vec<Point> {
        let mut kept: Vec<Point> = Vec::new();
        let mut skipped: Vec<Point> = Vec::new();
        for &point in points {
            let Some(&from) = kept.last() else {
                kept.push(point);
                continue;
            };
            if skipped.iter().any(|&at| square_away(at, from, point) > HAIR * HAIR) {
                kept.extend(skipped.last());
                skipped.clear();
            }
            skipped.push(point);
        }
        kept.extend(skipped.last());
        kept
    }

    proptest! {
        #[test]
        fn a_path_loses_what_lies_on_the_line_between_its_neighbours(
            corners in proptest::collection::vec((-20.0..20.0_f64, -20.0..20.0_f64), 1..6),
            pieces in 1..60_u32,
            rough in prop_oneof![Just(0.0), Just(0.004), Just(0.02), Just(3.0)],
        ) {
            let mut points = Vec::new();
            for pair in corners.windows(2) {
                for piece in 0..pieces {
                    let share = f64::from(piece) / f64::from(pieces);
                    // Beside the line, and now and then back on it.
                    let off = rough * f64::from(piece * 7 % 5) / 4.0;
                    let at = add(pair[0], times(sub(pair[1], pair[0]), if piece % 9 == 8 { share * 0.9 } else { share }));
                    points.push(add(at, (off, -off)));
                }
            }
            points.extend(corners.last());
            prop_assert_eq!(slim(&points), one_by_one(&points));
        }
    }
}
