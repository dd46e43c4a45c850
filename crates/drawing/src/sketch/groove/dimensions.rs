//! The dimension lines of a prepared joint.

use super::metal::{backing, chain, metal};
use crate::block::Block;
use crate::canvas::{Canvas, anchor_towards, room_of, sane};
use crate::dimension::{Linear, Seat, Style, angular, leader, linear};
use crate::drawing::{Fill, Stroke, weight};
use crate::fit::{self, fit, is_within};
use crate::point::{Point, add, dot, sub};
use crate::point::{times, unit};
use crate::sketch::joint_sketch::{JointSketch, Section};
use crate::sketch::section::{Geometry, Sizes, section};
use crate::text::lesser;

/// A group of dimensions.
#[derive(Debug, Clone, Copy)]
enum Step {
    Angle,
    Thickness,
    RootFace,
    Gap,
    Radius,
    Legs,
    Throat,
    Backing,
}

/// What stands nearest to the metal is set first; which order leaves every text clear of every line depends on sizes.
const ORDERS: [[Step; 8]; 4] = {
    use Step::{Angle, Backing, Gap, Legs, Radius, RootFace, Thickness, Throat};
    [
        [Angle, Throat, Legs, Thickness, RootFace, Gap, Radius, Backing],
        [Angle, Throat, RootFace, Gap, Radius, Legs, Backing, Thickness],
        [Legs, Throat, Gap, Thickness, Radius, Backing, RootFace, Angle],
        [Radius, Backing, Gap, RootFace, Thickness, Angle, Legs, Throat],
    ]
};

/// Metal thinner than this on paper, mm, gets more of the room from its texts where they can give it.
const LEGIBLE: f64 = 16.0;

/// How many times larger than it fits a joint is drawn at the most, for texts that would cover each other.
const WIDEST: f64 = 32.0;

/// Part of the drawing's width that the line of a text may take, and the part where it is to take little.
const TEXT_ROOM: f64 = 0.36;
const NARROW_ROOM: f64 = 0.2;

/// Where texts stand, the room of their lines and the order in which they are set, for texts that take little room.
const CLOSE: [(Seat, f64, &[Step]); 8] = [
    (Seat::Usual, TEXT_ROOM, &ORDERS[3]),
    (Seat::Narrow, TEXT_ROOM, &ORDERS[2]),
    (Seat::Narrow, TEXT_ROOM, &ORDERS[0]),
    (Seat::Usual, NARROW_ROOM, &ORDERS[3]),
    (Seat::Usual, NARROW_ROOM, &ORDERS[0]),
    (Seat::Narrow, NARROW_ROOM, &ORDERS[2]),
    (Seat::Narrow, NARROW_ROOM, &ORDERS[0]),
    (Seat::Narrow, TEXT_ROOM, &ORDERS[1]),
];

/// The joint at the largest scale at which it fits its room.
pub(super) fn fitted(sketch: &JointSketch) -> Canvas {
    const SCALES: (f64, f64) = (0.02, 14.0);
    let room = (sketch.max_width, sketch.max_height);
    let (scale, usual) = fit(room, SCALES.0, SCALES.1, |scale| build(sketch, scale));
    let apart = |usual| fit::apart(usual, scale, scale * WIDEST, |tried| build(sketch, tried));
    let thickest = sketch.thickness.into_iter().fold(0.1, f64::max);
    if scale * thickest >= LEGIBLE {
        return apart(usual);
    }
    // Long texts may fit at a large scale and not at a small one, so scales are tried one by one, first in large steps.
    let largest = (room_of(sketch.max_height) / thickest).min(SCALES.1);
    let mut scales =
        std::iter::successors(Some(largest), |tried| Some(tried / 1.25)).take_while(|tried| *tried > scale * 1.1);
    let found = scales.find_map(|tried| Some((tried, close(sketch, tried)?)));
    let Some((tried, canvas)) = found else { return apart(usual) };
    [1.16, 1.08].into_iter().find_map(|step| close(sketch, tried * step)).unwrap_or(canvas)
}

/// The joint at a scale with its texts close by, if it fits its room and every text stands clear.
fn close(sketch: &JointSketch, scale: f64) -> Option<Canvas> {
    let room = (sketch.max_width, sketch.max_height);
    let bare = Bare::new(sketch, scale);
    if !is_within(&bare.canvas, room) {
        return None;
    }
    CLOSE.into_iter().find_map(|(seat, share, order)| {
        let canvas = bare.dimensioned(order, Style { seat, ..style(sketch, 1.0, share) });
        (is_within(&canvas, room) && canvas.clashes() == 0).then_some(canvas)
    })
}

fn size_of(sketch: &JointSketch) -> f64 {
    sane(sketch.text_size, 4.0, 40.0, 8.0)
}

fn style(sketch: &JointSketch, spread: f64, share: f64) -> Style {
    Style { size: size_of(sketch), room: (room_of(sketch.max_width) * share).max(16.0), spread, seat: Seat::Usual }
}

fn build(sketch: &JointSketch, scale: f64) -> Canvas {
    let mut best: Option<(usize, Canvas)> = None;
    let bare = Bare::new(sketch, scale);
    for spread in [1.0, 1.8, 3.0] {
        for order in ORDERS {
            let canvas = bare.dimensioned(&order, style(sketch, spread, TEXT_ROOM));
            let clashes = canvas.clashes();
            if clashes == 0 {
                return canvas;
            }
            if best.as_ref().is_none_or(|(least, _)| clashes < *least) {
                best = Some((clashes, canvas));
            }
        }
    }
    let mut canvas = best.map(|(_, canvas)| canvas).unwrap_or_default();
    canvas.break_lines();
    canvas
}

/// The joint at a scale without its dimensions, which are tried on it one way after another.
struct Bare<'s> {
    sketch: &'s JointSketch,
    scale: f64,
    sizes: Sizes,
    geometry: Geometry,
    canvas: Canvas,
}

impl<'s> Bare<'s> {
    fn new(sketch: &'s JointSketch, scale: f64) -> Self {
        let sizes = Sizes::of(sketch);
        // Room for the dimensions of a broken-off plate.
        let geometry = section(&sizes, 7.0 / scale, 0.5);
        let mut canvas = Canvas::default();
        let gas = sketch.labels.gas.as_deref().unwrap_or_default();
        backing(&mut canvas, &sizes, &geometry, scale, Some((gas, size_of(sketch))));
        metal(&mut canvas, &geometry, scale, true);
        if sizes.is_fillet() {
            for region in &geometry.regions {
                let outline: Vec<Point> = region.outline().into_iter().map(|at| geometry.on_paper(at, scale)).collect();
                canvas.polygon(&outline, Fill::Grey(0.88), Some(Stroke::solid(weight::MEDIUM)));
            }
        }
        Self { sketch, scale, sizes, geometry, canvas }
    }

    fn dimensioned(&self, order: &[Step], style: Style) -> Canvas {
        let Self { sketch, scale, ref sizes, ref geometry, .. } = *self;
        let mut canvas = self.canvas.clone();
        let place = |at: Point| geometry.on_paper(at, scale);
        let turn = |direction: Point| geometry.turn(direction);
        let labels = &sketch.labels;
        for step in order {
            match step {
                Step::Angle => angle(&mut canvas, sketch, geometry, scale, style),
                Step::Thickness => {
                    for (text, ends, away) in [
                        (&labels.thickness[1], geometry.thickness[1], geometry.thickness_away[1]),
                        (&labels.thickness[0], geometry.thickness[0], geometry.thickness_away[0]),
                    ] {
                        let Some(text) = text else { continue };
                        outside(&mut canvas, (place(ends.0), place(ends.1)), turn(away), 4.0, false, text, style);
                    }
                }
                Step::RootFace => {
                    // From the edge of the groove through the metal to the outside.
                    for (text, ends) in [(&labels.root_face, geometry.root_face), (&labels.depth, geometry.depth)] {
                        let (Some(text), Some((a, b))) = (text, ends) else { continue };
                        outside(&mut canvas, (place(a), place(b)), turn((-1.0, 0.0)), 3.5, true, text, style);
                    }
                }
                Step::Gap => {
                    let (Some(text), Some((a, b))) = (&labels.gap, geometry.gap) else { continue };
                    outside(&mut canvas, (place(a), place(b)), turn((0.0, -1.0)), 4.0, false, text, style);
                }
                Step::Radius => {
                    let (Some(text), Some((tip, centre))) = (&labels.radius, geometry.radius) else { continue };
                    let out = unit(sub(place(tip), place(centre)));
                    // Through the metal and out at the root side.
                    let below = turn((0.0, -1.0));
                    let depth = metal_reach(geometry, below, scale) - dot(place(tip), below);
                    let length = (depth + 4.0 * style.spread) / dot(out, below).max(0.35);
                    leader(&mut canvas, place(tip), add(place(tip), times(out, length)), text, style);
                }
                Step::Legs => legs(&mut canvas, sketch, geometry, scale, style),
                Step::Throat => throat(&mut canvas, sketch, geometry, scale, style),
                Step::Backing => {
                    let (Some(text), Some(at)) = (&labels.backing, geometry.backing_mark(sizes)) else { continue };
                    let tip = place(at);
                    let below = turn((0.0, -1.0));
                    let reach = metal_reach(geometry, below, scale) - dot(tip, below);
                    let lean = turn((-0.45, -1.0));
                    leader(
                        &mut canvas,
                        tip,
                        add(tip, times(unit(lean), reach.max(0.0) + 7.0 * style.spread)),
                        text,
                        style,
                    );
                }
            }
        }
        if let Section::Pipe { .. } = sketch.section {
            pipe(&mut canvas, sketch, geometry, scale, style);
        }
        canvas
    }
}

/// A dimension outside everything that is drawn so far.
fn outside(
    canvas: &mut Canvas,
    ends: (Point, Point),
    away: Point,
    distance: f64,
    dashed: bool,
    text: &str,
    style: Style,
) {
    let far = dot(ends.0, away).max(dot(ends.1, away));
    let offset = (canvas_reach(canvas, away) - far).max(0.0) + distance * style.spread;
    linear(canvas, Linear { ends, away, offset, dashed }, text, style);
}

/// How far the ink reaches in a direction along an axis of the paper.
fn canvas_reach(canvas: &Canvas, away: Point) -> f64 {
    let bounds = canvas.bounds();
    dot(
        (if away.0 > 0.0 { bounds.right } else { bounds.left }, if away.1 > 0.0 { bounds.bottom } else { bounds.top }),
        away,
    )
}

fn metal_reach(geometry: &Geometry, away: Point, scale: f64) -> f64 {
    geometry
        .members
        .iter()
        .take(1)
        .flat_map(|member| member.outline.iter())
        .map(|&at| dot(geometry.on_paper(at, scale), away))
        .fold(f64::NEG_INFINITY, f64::max)
}

fn angle(canvas: &mut Canvas, sketch: &JointSketch, geometry: &Geometry, scale: f64, style: Style) {
    let (Some(text), Some(faces)) = (&sketch.labels.angle, &geometry.faces) else { return };
    let [left, right] = faces.map(|(at, direction)| (geometry.on_paper(at, scale), unit(geometry.turn(direction))));
    // Where the two faces would meet.
    let cross = left.1.0 * right.1.1 - left.1.1 * right.1.0;
    if cross.abs() < 1e-3 {
        return;
    }
    let between = sub(right.0, left.0);
    let reach = (between.0 * right.1.1 - between.1 * right.1.0) / cross;
    let apex = add(left.0, times(left.1, reach));
    let far = |at: Point| sub(at, apex).0.hypot(sub(at, apex).1);
    let radius = far(left.0).max(far(right.0)) + 5.0 * style.spread;
    for (at, direction) in [left, right] {
        let start = far(at) + 0.8;
        canvas.line(
            add(apex, times(direction, start)),
            add(apex, times(direction, radius + 0.8)),
            Stroke::solid(weight::FINE),
        );
    }
    let degrees = |direction: Point| (-direction.1).atan2(direction.0).to_degrees();
    let (from, to) = (degrees(left.1), degrees(right.1));
    let sweep = (to - from + 540.0).rem_euclid(360.0) - 180.0;
    let ends = if sweep > 0.0 { (from, from + sweep) } else { (from + sweep, from) };
    angular(canvas, apex, radius, ends, text, style);
}

fn legs(canvas: &mut Canvas, sketch: &JointSketch, geometry: &Geometry, scale: f64, style: Style) {
    let Some(wedge) = &geometry.wedge else { return };
    let apex = geometry.on_paper(wedge.apex, scale);
    let toes = wedge.toes.map(|toe| geometry.on_paper(toe, scale));
    for (index, text) in sketch.labels.leg.iter().enumerate() {
        let (Some(text), Some(&toe), Some(&other)) = (text, toes.get(index), toes.get(1 - index)) else { continue };
        let away = unit(sub(other, apex));
        let reach = sub(other, apex);
        let offset = reach.0.hypot(reach.1) + 4.0 * style.spread;
        linear(canvas, Linear { ends: (apex, toe), away, offset, dashed: false }, text, style);
    }
}

fn throat(canvas: &mut Canvas, sketch: &JointSketch, geometry: &Geometry, scale: f64, style: Style) {
    let (Some(wedge), Some(text)) = (&geometry.wedge, &sketch.labels.throat) else { return };
    let apex = geometry.on_paper(wedge.apex, scale);
    let toes = wedge.toes.map(|toe| geometry.on_paper(toe, scale));
    let chord = unit(sub(toes[1], toes[0]));
    let foot = add(toes[0], times(chord, dot(sub(apex, toes[0]), chord)));
    let span = sub(foot, apex);
    let out = unit(span);
    if span.0.hypot(span.1) > 5.0 {
        canvas.line(apex, foot, Stroke::solid(weight::FINE));
        canvas.arrow_head(apex, times(out, -1.0));
        canvas.arrow_head(foot, out);
    } else {
        canvas.arrow_head(foot, times(out, -1.0));
    }
    let leg = sub(toes[0], apex);
    let end = add(foot, times(out, 0.45 * leg.0.hypot(leg.1) + 8.0 * style.spread));
    canvas.line(foot, end, Stroke::solid(weight::FINE));
    let level = if out.0 < 0.0 { (-1.0, 0.0) } else { (1.0, 0.0) };
    let push = canvas.text_beside(end, level, 4.0, text, style.size, style.room);
    if push > 0.0 {
        canvas.line(end, add(end, times(level, push)), Stroke::solid(weight::FINE));
    }
}

/// Draws the centre line and the diameter of a pipe, broken off: the diameter itself is not to scale.
fn pipe(canvas: &mut Canvas, sketch: &JointSketch, geometry: &Geometry, scale: f64, style: Style) {
    let inside = geometry.turn((0.0, -1.0));
    let along = geometry.turn(geometry.pipe_end);
    let surface = geometry.on_paper(geometry.pipe_surface, scale);
    let axis = canvas_reach(canvas, inside) + 5.0;
    let bounds = canvas.bounds();
    let beyond = canvas_reach(canvas, along) + 5.0;
    // The dimension line: from the outer surface past the centre line.
    let on_line = |level: f64| add(times(along, beyond), times(inside, level));
    let level = dot(surface, inside);
    let fine = Stroke::solid(weight::FINE);
    canvas.line(add(surface, times(along, 0.8)), add(on_line(level), times(along, 0.8)), fine);
    canvas.line(on_line(level), on_line(axis + 4.5), fine);
    canvas.arrow_head(on_line(level), times(inside, -1.0));
    let back = if along.0 + along.1 > 0.0 {
        dot((bounds.left, bounds.top), along)
    } else {
        dot((bounds.right, bounds.bottom), along)
    };
    chain(canvas, add(times(along, back), times(inside, axis)), add(on_line(axis), times(along, 3.0)));
    if let Some(text) = &sketch.labels.diameter {
        if along.1.abs() > 0.5 {
            canvas.text_beyond(on_line(f64::midpoint(level, axis)), along, text, style.size, style.room);
        } else {
            // Beyond the centre line, where it takes no width from the joint.
            let foot = on_line(axis + 0.5 * (Block::new(text, style.size, false, style.room).height() + 1.5));
            canvas.text_beyond(foot, times(along, -1.0), text, style.size, style.room);
        }
    }
    let Some(name) = &sketch.labels.centre_line else { return };
    let start = add(times(along, back), times(inside, axis));
    let block = Block::new(name, lesser(style.size, 0.9), false, style.room);
    let foot = add(start, times(along, block.width() / 2.0 * along.0.abs() + block.height() / 2.0 * along.1.abs()));
    if let Some((_, rect)) = canvas.free_place(&block, foot, inside, 0.0) {
        canvas.set(&block, rect, anchor_towards(inside), false);
    }
}
