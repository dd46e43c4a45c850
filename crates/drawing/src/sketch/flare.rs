//! A flare, the groove beside a round member, in section and to scale.

use crate::canvas::{Canvas, room_of, sane};
use crate::dimension::{Linear, Seat, Style, leader, linear};
use crate::drawing::{Drawing, Fill, Segment, Stroke, weight};
use crate::fit::fit_clear;
use crate::path::arc;
use crate::point::{Point, add, heading, times};

/// A flare to be drawn; lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct FlareSketch {
    /// Whether both members are round; else the left one is flat.
    pub both: bool,
    /// Whether round members are bars or tubes, drawn whole; else corners of hollow sections.
    pub bar: bool,
    /// Wall of a round member that is hollow; none where it is solid.
    pub wall: Option<f64>,
    /// Outside radius of the round.
    pub radius: f64,
    /// Gap where the members come nearest.
    pub gap: f64,
    /// Depth that is filled, from the top of the round; down to where the members come nearest where absent.
    pub depth: Option<f64>,
    /// Labels of the radius or the diameter, gap and depth, where they are stated.
    pub labels: [Option<String>; 3],
    /// Width of the drawing, mm.
    pub max_width: f64,
    /// Height of the drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

/// The members about the flare.
pub fn flare(sketch: &FlareSketch) -> Drawing {
    let radius = sane(sketch.radius, 0.5, 500.0, 10.0);
    let half = sane(sketch.gap, 0.0, radius, 0.0) / 2.0;
    let depth = sketch.depth.map(|depth| sane(depth, 0.1, radius, radius));
    let size = sane(sketch.text_size, 4.0, 40.0, 8.0);
    let style = Style { size, room: (room_of(sketch.max_width) * 0.4).max(14.0), spread: 1.0, seat: Seat::Usual };
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.2, 4.0, |scale| {
        let mut canvas = Canvas::default();
        // The top of the round is at y = 0, the middle of the gap at x = 0.
        let at = |x: f64, y: f64| (x * scale, y * scale);
        let metal = |canvas: &mut Canvas, path| {
            canvas.path(path, Fill::Hatch(1.4), Some(Stroke::solid(weight::HEAVY)));
        };
        let wall = sketch.wall.map(|wall| sane(wall, 0.1, radius * 0.95, radius * 0.5));
        let rounds: &[f64] = if sketch.both { &[1.0, -1.0] } else { &[1.0] };
        for &side in rounds {
            metal(&mut canvas, round(at, sketch.bar, radius, half, (side, wall)));
            if let Some(wall) = wall.filter(|_| sketch.bar) {
                let bore = arc(at(side * (half + radius), radius), at(radius - wall, 0.0).0, 0.0, 360.0);
                canvas.path(bore, Fill::White, Some(Stroke::solid(weight::HEAVY)));
            }
        }
        if !sketch.both {
            let (left, top, bottom) = (-half - 0.7 * radius, -0.4 * radius, 2.0 * radius);
            let corners = [at(left, top), at(-half, top), at(-half, bottom), at(left, bottom)];
            canvas.polygon(&corners, Fill::Hatch(1.4), Some(Stroke::solid(weight::HEAVY)));
        }
        let [across, gap, deep] = &sketch.labels;
        if let Some((text, depth)) = deep.as_ref().zip(depth) {
            let beyond = if sketch.bar { radius } else { 0.8 * radius };
            let ends = (at(half + radius, 0.0), at(half, depth));
            let offset = beyond * scale + 5.0;
            linear(&mut canvas, Linear { ends, away: (1.0, 0.0), offset, dashed: true }, text, style);
        }
        if let Some(text) = gap.as_ref().filter(|_| half > 0.0) {
            let ends = (at(-half, radius), at(half, radius));
            let offset = radius * scale + 5.0;
            linear(&mut canvas, Linear { ends, away: (0.0, 1.0), offset, dashed: true }, text, style);
        }
        if let Some(text) = across {
            let out = heading(60.0);
            let tip = add(at(half + radius, radius), times(out, radius * scale));
            leader(&mut canvas, tip, add(tip, times(out, 7.0)), text, style);
        }
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}

/// The outline of a round member right (`side` 1) or left (-1) of the gap: a whole circle, or a corner and the walls that
/// run on from it, as thick as the wall of a hollow section.
fn round(
    at: impl Fn(f64, f64) -> Point,
    bar: bool,
    radius: f64,
    half: f64,
    (side, wall): (f64, Option<f64>),
) -> Vec<Segment> {
    let centre = at(side * (half + radius), radius);
    let size = at(radius, 0.0).0;
    if bar {
        let mut path = arc(centre, size, 0.0, 360.0);
        path.push(Segment::Close);
        return path;
    }
    let far = side * (half + 1.8 * radius);
    let mut path = if side > 0.0 { arc(centre, size, 180.0, 90.0) } else { arc(centre, size, 0.0, 90.0) };
    if let Some(wall) = wall {
        let inside = at(radius - wall, 0.0).0;
        let (from, to) = if side > 0.0 { (90.0, 180.0) } else { (90.0, 0.0) };
        path.extend([
            Segment::Line(at(far, 0.0)),
            Segment::Line(at(far, wall)),
            Segment::Line(at(side * (half + radius), wall)),
        ]);
        path.extend(arc(centre, inside, from, to).into_iter().filter(|segment| !matches!(segment, Segment::Move(_))));
        path.extend([
            Segment::Line(at(side * (half + wall), 2.0 * radius)),
            Segment::Line(at(side * half, 2.0 * radius)),
            Segment::Line(at(side * half, radius)),
            Segment::Close,
        ]);
        return path;
    }
    path.extend([
        Segment::Line(at(far, 0.0)),
        Segment::Line(at(far, 2.0 * radius)),
        Segment::Line(at(side * half, 2.0 * radius)),
        Segment::Close,
    ]);
    path
}
