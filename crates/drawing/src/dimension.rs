//! Dimension lines: linear, angular and leaders, with arrows and a text that stands clear.
//!
//! A dimension too short for its arrows has them outside, pointing in; its text is pushed along until it stands free.

use crate::block::Block;
use crate::canvas::{Canvas, anchor_towards};
use crate::drawing::{Stroke, line::FINE};
use crate::point::{Point, add, dot, heading, middle, sub, times, unit};

/// Shortest dimension with its arrows inside, mm.
const INSIDE: f64 = 5.0;
/// Length of a line that leads to an arrow from outside, mm.
const TAIL: f64 = 4.5;
/// An extension line starts this far from the thing and ends this far beyond the dimension line, mm.
const STANDOFF: f64 = 0.8;

/// A text pushed no farther than this still stands with its dimension, mm.
const NEAR: f64 = 6.0;

/// How a dimension is set.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Style {
    /// Size of the type, pt.
    pub(crate) size: f64,
    /// Widest line of a text, mm.
    pub(crate) room: f64,
    /// How much farther than usual the dimensions stand from the thing: 1 where there is room enough.
    pub(crate) spread: f64,
    /// Where the text of a dimension is tried first.
    pub(crate) seat: Seat,
}

/// Where the text of a linear dimension is tried first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Seat {
    /// Beside an upright line, at the end of a short level one.
    #[default]
    Usual,
    /// Over or under the line, where a long text takes least width.
    Narrow,
}

/// Where a linear dimension stands.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Linear {
    /// The points measured.
    pub(crate) ends: (Point, Point),
    /// Direction from the thing to the dimension line; the distance is measured across it.
    pub(crate) away: Point,
    /// From the farther point to the dimension line, mm.
    pub(crate) offset: f64,
    /// Extension lines dashed: they run through metal.
    pub(crate) dashed: bool,
}

/// Draws the distance between two points, across the direction in which its line is moved away.
pub(crate) fn linear(canvas: &mut Canvas, place: Linear, text: &str, style: Style) {
    let away = unit(place.away);
    let (from, to) = place.ends;
    let level = dot(from, away).max(dot(to, away)) + place.offset;
    let extension = if place.dashed { Stroke { dash: Some((1.0, 0.8)), ..FINE } } else { FINE };
    let mut ends = [from, to];
    for end in &mut ends {
        let far = level - dot(*end, away);
        let foot = add(*end, times(away, far));
        if far > 2.0 * STANDOFF {
            canvas.line(add(*end, times(away, STANDOFF)), add(foot, times(away, STANDOFF)), extension);
        }
        *end = foot;
    }
    let [a, b] = ends;
    let span = sub(b, a);
    let length = span.0.hypot(span.1);
    let along = unit(span);
    let inside = length >= INSIDE;
    let (tail_a, tail_b) = (sub(a, times(along, TAIL)), add(b, times(along, TAIL)));
    if inside {
        canvas.line(a, b, FINE);
        canvas.arrow_head(a, times(along, -1.0));
        canvas.arrow_head(b, along);
    } else {
        canvas.arrow_head(a, along);
        canvas.arrow_head(b, times(along, -1.0));
        canvas.line(tail_a, a, FINE);
        canvas.line(b, tail_b, FINE);
    }
    // Beside the line; else at one of its ends, with the line led on to the text.
    let half = middle(a, b);
    let back = times(away, -1.0);
    let beside = [(half, away, length * 0.4), (half, back, length * 0.4)];
    let (end_a, end_b) = if inside { (a, b) } else { (tail_a, tail_b) };
    let ends = [(end_b, along, 0.0), (end_a, times(along, -1.0), 0.0)];
    let upright = away.0.abs() > 0.7;
    let seats = match (inside, upright) {
        (_, true) if style.seat == Seat::Narrow => vec![ends[0], ends[1], beside[0], beside[1]],
        (false, false) if style.seat == Seat::Narrow => vec![(half, away, 0.0), ends[0], ends[1]],
        (true, _) => vec![beside[0], ends[0], ends[1], beside[1]],
        (false, true) => vec![(half, away, TAIL), ends[0], ends[1]],
        (false, false) => vec![ends[0], ends[1], (half, away, 0.0)],
    };
    let block = Block::new(text, style.size, false, style.room);
    // The first seat that is free near by, else the first that is free further off.
    let mut found = None;
    for (from, out, slide) in seats {
        let Some(place) = canvas.free_place(&block, from, out, slide) else { continue };
        if place.0 <= NEAR {
            found = Some((from, out, place));
            break;
        }
        found = found.or(Some((from, out, place)));
    }
    let (from, out, (push, rect)) = found.unwrap_or_else(|| (half, away, (0.0, block.beyond(half, away))));
    canvas.set(&block, rect, anchor_towards(out), false);
    let leads = dot(out, along).abs() > 0.5;
    if leads && (push > 0.0 || inside) {
        canvas.line(from, add(from, times(out, push)), FINE);
    }
}

/// Draws the angle between two headings (degrees counter-clockwise from the right, `from` below `to`) around a point.
pub(crate) fn angular(canvas: &mut Canvas, apex: Point, radius: f64, (from, to): (f64, f64), text: &str, style: Style) {
    let sweep = to - from;
    let length = sweep.to_radians() * radius;
    // An arrow head is straight: it is turned by the angle that the arc covers in half its length.
    let turn = (1.0 / radius.max(1.0)).to_degrees();
    let at = |angle: f64| add(apex, times(heading(angle), radius));
    if length >= INSIDE {
        canvas.arc(apex, radius, from, to, FINE);
        canvas.arrow_head(at(from), heading(from - 90.0 + turn));
        canvas.arrow_head(at(to), heading(to + 90.0 - turn));
    } else {
        let tail = (TAIL / radius.max(1.0)).to_degrees();
        canvas.arc(apex, radius, from - tail, from, FINE);
        canvas.arc(apex, radius, to, to + tail, FINE);
        canvas.arrow_head(at(from), heading(from + 90.0 - turn));
        canvas.arrow_head(at(to), heading(to - 90.0 + turn));
    }
    let mid = f64::midpoint(from, to);
    canvas.text_beyond(at(mid), heading(mid), text, style.size, style.room);
}

/// Draws an arrow to a point from a text that stands at the other end of the line; where that place is taken, the line
/// is made longer or leans otherwise.
pub(crate) fn leader(canvas: &mut Canvas, tip: Point, tail: Point, text: &str, style: Style) {
    let reach = sub(tail, tip);
    let block = Block::new(text, style.size, false, style.room);
    // Beside the line's end, whichever way it leans: a text over or under it would look like another line's.
    let level = |along: Point| {
        let along = unit(along);
        if along.0.abs() < 0.26 {
            along
        } else if along.0 < 0.0 {
            (-1.0, 0.0)
        } else {
            (1.0, 0.0)
        }
    };
    let mut found = None;
    'search: for longer in [1.0, 1.5, 2.2, 3.0, 4.0] {
        for lean in [0.0_f64, 15.0, -15.0, 30.0, -30.0, 45.0, -45.0] {
            let (sine, cosine) = lean.to_radians().sin_cos();
            let turned = (reach.0 * cosine - reach.1 * sine, reach.0 * sine + reach.1 * cosine);
            let tail = add(tip, times(turned, longer));
            if canvas.line_is_free(tip, tail)
                && let Some((push, rect)) = canvas.free_place(&block, tail, level(turned), 0.0)
                && push < 6.0
            {
                found = Some((tail, push, rect));
                break 'search;
            }
        }
    }
    let (tail, push, rect) = found.unwrap_or_else(|| (tail, 0.0, block.beyond(tail, level(reach))));
    let along = sub(tail, tip);
    canvas.arrow_head(tip, times(along, -1.0));
    canvas.line(tip, tail, FINE);
    if push > 0.0 {
        canvas.line(tail, add(tail, times(level(along), push)), FINE);
    }
    canvas.set(&block, rect, anchor_towards(level(along)), false);
}
