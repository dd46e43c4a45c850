//! A constitution diagram (WRC-1992) with operating points; its lines come from the caller, this file knows none.

use crate::block::Block;
use crate::canvas::{Canvas, anchor_towards, sane};
use crate::dimension::{Seat, Style, leader};
use crate::drawing::{
    Anchor, Drawing, Fill, Stroke,
    line::{FINE, MEDIUM},
};
use crate::fit::fit_clear;
use crate::point::Point;
use crate::text::{POINT, Rect};

/// A line of equal ferrite number.
#[derive(Debug, Clone, PartialEq)]
pub struct FerriteLine {
    /// Points (chromium equivalent, nickel equivalent), mass percent.
    pub points: Vec<(f64, f64)>,
    /// What stands at its end: the ferrite number.
    pub label: String,
}

/// A composition on the diagram.
#[derive(Debug, Clone, PartialEq)]
pub struct FerritePoint {
    /// Chromium and nickel equivalent, mass percent.
    pub at: (f64, f64),
    /// What it is: "weld metal, FN 8".
    pub label: String,
    /// The point that counts, drawn full; others are rings.
    pub main: bool,
}

/// A constitution diagram to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct FerriteSketch {
    /// Lines of equal ferrite number.
    pub lines: Vec<FerriteLine>,
    /// Boundaries between modes of solidification, dashed.
    pub boundaries: Vec<FerriteLine>,
    /// Parent metals, filler, weld metal.
    pub points: Vec<FerritePoint>,
    /// Range of the chromium equivalent, mass percent.
    pub chromium: (f64, f64),
    /// Range of the nickel equivalent, mass percent.
    pub nickel: (f64, f64),
    /// Text along the chromium axis: the equivalent's formula.
    pub chromium_label: String,
    /// Text along the nickel axis.
    pub nickel_label: String,
    /// Width of the drawing, mm.
    pub max_width: f64,
    /// Height of the drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

impl Default for FerriteSketch {
    fn default() -> Self {
        Self {
            lines: Vec::new(),
            boundaries: Vec::new(),
            points: Vec::new(),
            // The frame of the printed diagram.
            chromium: (17.0, 31.0),
            nickel: (9.0, 18.0),
            chromium_label: String::new(),
            nickel_label: String::new(),
            max_width: 100.0,
            max_height: 80.0,
            text_size: 7.5,
        }
    }
}

/// The part of a straight line inside a rectangle.
fn cut(frame: &Rect, from: Point, to: Point) -> Option<(Point, Point)> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (start, step, low, high) in [(from.0, dx, frame.left, frame.right), (from.1, dy, frame.top, frame.bottom)] {
        if step.abs() < 1e-12 {
            if start < low || start > high {
                return None;
            }
        } else {
            let (a, b) = ((low - start) / step, (high - start) / step);
            enter = enter.max(a.min(b));
            leave = leave.min(a.max(b));
        }
    }
    let at = |share: f64| (from.0 + dx * share, from.1 + dy * share);
    (enter < leave).then(|| (at(enter), at(leave)))
}

/// The diagram with its operating points.
pub fn ferrite(sketch: &FerriteSketch) -> Drawing {
    let size = sane(sketch.text_size, 4.0, 40.0, 7.5);
    let range = |(low, high): (f64, f64), otherwise: (f64, f64)| {
        let (low, high) = (sane(low, 0.0, 99.0, otherwise.0), sane(high, 0.5, 100.0, otherwise.1));
        if high - low > 0.5 { (low, high) } else { otherwise }
    };
    let chromium = range(sketch.chromium, (17.0, 31.0));
    let nickel = range(sketch.nickel, (9.0, 18.0));
    let spans = (chromium.1 - chromium.0, nickel.1 - nickel.0);
    // A percent is as wide as it is high or a little wider, so that the diagram keeps its usual look.
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.2, 40.0, |scale| {
        let mut canvas = Canvas::default();
        let place = |at: Point| ((at.0 - chromium.0) * scale, (nickel.1 - at.1) * scale * 0.9);
        let frame = Rect { left: 0.0, top: 0.0, right: spans.0 * scale, bottom: spans.1 * scale * 0.9 };
        // No thinner marks than the type can name.
        let em = size * POINT;
        for (axis, (low, high)) in [chromium, nickel].into_iter().enumerate() {
            let step =
                [1.0, 2.0, 5.0, 10.0, 20.0, 50.0].into_iter().find(|step| step * scale > em * 2.6).unwrap_or(50.0);
            let mut value = (low / step).ceil() * step;
            while value <= high + 1e-9 {
                let at = if axis == 0 { (place((value, 0.0)).0, frame.bottom) } else { (0.0, place((0.0, value)).1) };
                let out = if axis == 0 { (0.0, 1.0) } else { (-1.0, 0.0) };
                canvas.line(at, (at.0 + out.0 * 1.2, at.1 + out.1 * 1.2), FINE);
                let from = (at.0 + out.0 * 1.0, at.1 + out.1 * 1.0);
                canvas.text_beyond(from, out, &format!("{value:.0}"), size, 20.0);
                value += step;
            }
        }
        let mut ends: Vec<(Point, Point, &str)> = Vec::new();
        for (lines, stroke) in
            [(&sketch.lines, FINE), (&sketch.boundaries, Stroke { dash: Some((2.0, 1.2)), ..MEDIUM })]
        {
            for line in lines {
                let points: Vec<Point> = line
                    .points
                    .iter()
                    .filter(|at| at.0.is_finite() && at.1.is_finite())
                    .map(|&(x, y)| place((x.clamp(-500.0, 500.0), y.clamp(-500.0, 500.0))))
                    .collect();
                let mut last = None;
                for pair in points.windows(2) {
                    let [from, to] = pair else { continue };
                    if let Some((a, b)) = cut(&frame, *from, *to) {
                        canvas.line(a, b, stroke);
                        last = Some((a, b));
                    }
                }
                if let Some((a, b)) = last {
                    ends.push((b, (b.0 - a.0, b.1 - a.1), line.label.as_str()));
                }
            }
        }
        canvas.rect(frame, Fill::None, Some(MEDIUM));
        // A line is named where it leaves the frame, where there is room for its name.
        for (end, _, label) in ends {
            let out = if (end.0 - frame.right).abs() < 1e-6 { (1.0, 0.0) } else { (0.0, -1.0) };
            let block = Block::new(label, size * 0.9, false, 30.0);
            let rect = block.beyond(end, out);
            if !label.is_empty() && canvas.is_free(&rect) {
                canvas.set(&block, rect, anchor_towards(out), false);
            }
        }
        let bounds = canvas.bounds();
        let middle = f64::midpoint(frame.left, frame.right);
        canvas.text_beyond((middle, bounds.bottom), (0.0, 1.0), &sketch.chromium_label, size, frame.width().max(20.0));
        let block = Block::new(&sketch.nickel_label, size, false, frame.width().max(20.0));
        let rect = block.at(bounds.left, bounds.top - 1.0 - block.height());
        canvas.set(&block, rect, Anchor::Start, false);
        let style = Style { size, room: 34.0, spread: 1.0, seat: Seat::Usual };
        let marks = |point: &FerritePoint| {
            let (x, y) = (sane(point.at.0, -500.0, 500.0, 0.0), sane(point.at.1, -500.0, 500.0, 0.0));
            let at = place((x, y));
            // What lies outside stands at the edge; its label says the numbers.
            (at.0.clamp(frame.left, frame.right), at.1.clamp(frame.top, frame.bottom))
        };
        for point in &sketch.points {
            let (x, y) = marks(point);
            canvas.reserve(Rect { left: x, top: y, right: x, bottom: y }.grown(1.2));
        }
        for point in &sketch.points {
            let at = marks(point);
            let fill = if point.main { Fill::Black } else { Fill::White };
            named(&mut canvas, at, fill, point, &frame, style);
        }
        canvas.break_lines();
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}

/// A mark with its name on white ground: the lines of the diagram are everywhere.
fn named(canvas: &mut Canvas, at: Point, fill: Fill, point: &FerritePoint, frame: &Rect, style: Style) {
    let block = Block::new(&point.label, style.size, point.main, style.room.min(frame.width() * 0.6));
    let mut best: Option<Rect> = None;
    // Around the mark, near it first.
    let ways = [(1.0, -1.0), (1.0, 1.0), (-1.0, -1.0), (-1.0, 1.0), (1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0)];
    for (dx, dy) in [1.0, 2.2, 3.6, 5.0].iter().flat_map(|far| ways.map(|(dx, dy)| (dx, dy * far))) {
        let centre = (at.0 + dx * (block.width() / 2.0 + 3.0), at.1 + dy * (block.height() / 2.0 + 2.0));
        let rect = block.at(centre.0 - block.width() / 2.0, centre.1 - block.height() / 2.0);
        let inside =
            rect.left > frame.left && rect.right < frame.right && rect.top > frame.top && rect.bottom < frame.bottom;
        if inside && canvas.is_clear_of_texts(&rect) {
            best = Some(rect);
            break;
        }
    }
    if let Some(rect) = best {
        let near = (at.0.clamp(rect.left - 0.6, rect.right + 0.6), at.1.clamp(rect.top, rect.bottom));
        canvas.line(at, near, FINE);
        canvas.set(&block, rect, Anchor::Start, true);
    } else {
        let out = frame.bottom + 6.0;
        leader(canvas, at, (at.0, out), &point.label, style);
    }
    canvas.circle(at, 1.0, fill, Some(MEDIUM));
}
