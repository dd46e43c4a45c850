//! Points and directions on paper, and what is reckoned with them.

/// A point or a direction, mm.
pub(crate) type Point = (f64, f64);

/// Sum of two vectors.
pub(crate) fn add(a: Point, b: Point) -> Point {
    (a.0 + b.0, a.1 + b.1)
}

/// Difference of two vectors.
pub(crate) fn sub(a: Point, b: Point) -> Point {
    (a.0 - b.0, a.1 - b.1)
}

/// A vector made `by` times as long.
pub(crate) fn times(a: Point, by: f64) -> Point {
    (a.0 * by, a.1 * by)
}

/// Product of two vectors.
pub(crate) fn dot(a: Point, b: Point) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

/// Half way between two points.
pub(crate) fn middle(a: Point, b: Point) -> Point {
    times(add(a, b), 0.5)
}

/// A vector of length one; to the right where the vector has no length.
pub(crate) fn unit(a: Point) -> Point {
    let length = a.0.hypot(a.1);
    if length > 1e-12 { (a.0 / length, a.1 / length) } else { (1.0, 0.0) }
}

/// The direction at `degrees` from the right, counter-clockwise as seen on paper.
pub(crate) fn heading(degrees: f64) -> Point {
    let radians = degrees.to_radians();
    (radians.cos(), -radians.sin())
}

/// Distance of a point from the stretch between two others, squared.
pub(crate) fn square_away(at: Point, from: Point, to: Point) -> f64 {
    let span = sub(to, from);
    let along = (dot(sub(at, from), span) / dot(span, span).max(1e-18)).clamp(0.0, 1.0);
    let away = sub(at, add(from, times(span, along)));
    dot(away, away)
}
