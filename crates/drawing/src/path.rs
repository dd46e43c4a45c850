//! Paths made of points: lines through them, arcs, and curves as straight pieces.

use crate::drawing::Segment;
use crate::point::{Point, add, heading, square_away, sub, times};

/// Farthest that a point which is left out lies beside the line, mm: less than a printer shows.
pub(crate) const HAIR: f64 = 0.008;

/// The points without those that lie on the line between their neighbours.
fn slim(points: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(points.len());
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
