//! How torch, gun or electrode is held: travel angle from the side, work angle from the end of the seam.
//!
//! Angles are drawn as given; the torch is a picture of its kind, not to scale. A further kind of torch is a variant of
//! [`TorchKind`] and its shape in `tool`.

use crate::canvas::{Canvas, room_of, sane};
use crate::dimension::{Linear, Seat, Style, angular, leader, linear};
use crate::drawing::{
    Drawing, Fill, Segment, Stroke,
    line::{FINE, HEAVY, MEDIUM},
    weight,
};
use crate::fit::fit_clear;
use crate::point::{Point, add, heading, times, unit};
use crate::text::Rect;

/// What carries the arc.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TorchKind {
    /// A torch with a tungsten electrode: 141 and its kin.
    Tungsten,
    /// A gun with a wire: 131, 135, 136, 138, 114.
    Wire,
    /// A holder with a covered electrode: 111.
    Electrode,
}

/// Which way the electrode points along the seam.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pointing {
    /// Forward, away from the finished weld.
    Push,
    /// Back, at the finished weld.
    Drag,
}

/// What the end view shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seam {
    /// Plates in one plane.
    Butt,
    /// A plate that stands on another.
    Tee,
    /// A plate over another.
    Lap,
}

/// The texts of a torch sketch, ready to print; what is absent is not dimensioned.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TorchLabels {
    /// What the arrow of travel says.
    pub travel: Option<String>,
    /// Travel angle.
    pub travel_angle: Option<String>,
    /// Work angle.
    pub work_angle: Option<String>,
    /// Angle of the filler rod to the work.
    pub filler_angle: Option<String>,
    /// Contact tip to work distance, or arc length.
    pub distance: Option<String>,
}

/// A torch to be drawn. Angles in degrees.
#[derive(Debug, Clone, PartialEq)]
pub struct TorchSketch {
    /// What carries the arc.
    pub kind: TorchKind,
    /// Which way it points; upright where absent.
    pub pointing: Option<Pointing>,
    /// Angle from the upright, along the seam.
    pub travel_angle: f64,
    /// Angle from the plate (the lying one), across the seam.
    pub work_angle: f64,
    /// Angle of a filler rod to the work; none where absent.
    pub filler_angle: Option<f64>,
    /// What the end view shows.
    pub seam: Seam,
    /// The texts.
    pub labels: TorchLabels,
    /// Widest drawing, mm.
    pub max_width: f64,
    /// Highest drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

impl Default for TorchSketch {
    fn default() -> Self {
        Self {
            kind: TorchKind::Tungsten,
            pointing: Some(Pointing::Push),
            travel_angle: 12.5,
            work_angle: 90.0,
            filler_angle: None,
            seam: Seam::Butt,
            labels: TorchLabels::default(),
            max_width: 70.0,
            max_height: 60.0,
            text_size: 8.0,
        }
    }
}

fn style(sketch: &TorchSketch) -> Style {
    Style {
        size: sane(sketch.text_size, 4.0, 40.0, 8.0),
        room: (room_of(sketch.max_width) * 0.36).max(14.0),
        spread: 1.0,
        seat: Seat::Usual,
    }
}

/// Points and lengths in the torch's own frame: along the axis from the arc, and across it.
struct Axis {
    at: Point,
    along: Point,
    scale: f64,
}

impl Axis {
    fn point(&self, along: f64, across: f64) -> Point {
        let side = (-self.along.1, self.along.0);
        add(self.at, times(add(times(self.along, along), times(side, across)), self.scale))
    }

    fn shape(&self, points: &[(f64, f64)]) -> Vec<Point> {
        points.iter().map(|&(along, across)| self.point(along, across)).collect()
    }
}

/// A round bar or hose along a line of Béziers or straights: an outline of white on black.
fn tube(canvas: &mut Canvas, segments: &[Segment], width: f64) {
    canvas.path(segments.to_vec(), Fill::None, Some(Stroke::solid(width + weight::HEAVY)));
    canvas.path(
        segments.to_vec(),
        Fill::None,
        Some(Stroke { width: (width - weight::HEAVY).max(0.1), dash: None, grey: 1.0 }),
    );
}

/// Length of the tool above the work, and of its straight part, in its own units.
const LENGTH: f64 = 30.0;

/// Draws the tool; `side` is +1 or -1 for the side on which its handle leaves, 0 where none is seen.
fn tool(canvas: &mut Canvas, kind: TorchKind, axis: &Axis, side: f64) {
    let scale = axis.scale;
    // Along a bent line from the axis out to the handle.
    let bent = |from: f64, corner: f64, out: f64, lift: f64| {
        vec![
            Segment::Move(axis.point(from, 0.0)),
            Segment::Curve(
                axis.point(corner, 0.0),
                axis.point(corner + lift * 0.3, side * out * 0.35),
                axis.point(corner + lift, side * out),
            ),
        ]
    };
    match kind {
        TorchKind::Tungsten => {
            if side != 0.0 {
                tube(canvas, &bent(17.0, 20.0, 17.0, 7.0), 4.2 * scale);
            }
            canvas.polygon(
                &axis.shape(&[(19.0, -2.6), (19.0, 2.6), (28.0, 1.9), (28.0, -1.9)]),
                Fill::White,
                Some(HEAVY),
            );
            canvas.polygon(
                &axis.shape(&[(14.0, -3.4), (14.0, 3.4), (20.5, 3.4), (20.5, -3.4)]),
                Fill::White,
                Some(HEAVY),
            );
            canvas.polygon(
                &axis.shape(&[(4.6, -3.0), (4.6, 3.0), (10.0, 4.4), (14.0, 4.4), (14.0, -4.4), (10.0, -4.4)]),
                Fill::White,
                Some(HEAVY),
            );
            canvas.polygon(
                &axis.shape(&[(1.4, 0.0), (3.2, 0.55), (4.6, 0.55), (4.6, -0.55), (3.2, -0.55)]),
                Fill::Black,
                None,
            );
        }
        TorchKind::Wire => {
            let neck = if side == 0.0 {
                vec![Segment::Move(axis.point(20.0, 0.0)), Segment::Line(axis.point(29.0, 0.0))]
            } else {
                bent(20.0, 26.0, 16.0, 7.0)
            };
            tube(canvas, &neck, 4.0 * scale);
            canvas.polygon(
                &axis.shape(&[(6.0, -4.0), (6.0, 4.0), (9.0, 4.8), (21.0, 4.8), (21.0, -4.8), (9.0, -4.8)]),
                Fill::White,
                Some(HEAVY),
            );
            // The contact tip inside the nozzle.
            canvas.polygon(
                &axis.shape(&[(CONTACT, -1.0), (CONTACT, 1.0), (12.0, 1.8), (18.0, 1.8), (18.0, -1.8), (12.0, -1.8)]),
                Fill::Grey(0.85),
                Some(Stroke { dash: Some((0.9, 0.6)), ..MEDIUM }),
            );
            canvas.line(axis.point(1.2, 0.0), axis.point(CONTACT, 0.0), Stroke::solid(0.6));
        }
        TorchKind::Electrode => {
            if side != 0.0 {
                tube(
                    canvas,
                    &[Segment::Move(axis.point(26.0, -side * 1.0)), Segment::Line(axis.point(30.0, side * 17.0))],
                    4.0 * scale,
                );
            }
            canvas.polygon(
                &axis.shape(&[(1.6, -1.2), (1.6, 1.2), (24.0, 1.2), (24.0, -1.2)]),
                Fill::Grey(0.85),
                Some(MEDIUM),
            );
            canvas.polygon(
                &axis.shape(&[(24.0, -0.7), (24.0, 0.7), (29.0, 0.7), (29.0, -0.7)]),
                Fill::White,
                Some(MEDIUM),
            );
            canvas.polygon(
                &axis.shape(&[(24.6, -2.2), (24.6, 2.2), (28.2, 2.6), (28.2, -2.6)]),
                Fill::White,
                Some(HEAVY),
            );
        }
    }
    // The arc.
    canvas.polygon(&axis.shape(&[(1.4, 0.0), (0.1, 1.3), (0.1, -1.3)]), Fill::Grey(0.7), None);
}

/// Where the contact tip of a wire gun ends, in the tool's units.
const CONTACT: f64 = 8.0;

/// The tool from the side: travel angle, push or drag, filler rod.
pub fn travel(sketch: &TorchSketch) -> Drawing {
    let angle = sane(sketch.travel_angle, 0.0, 60.0, 0.0);
    let lean = match sketch.pointing {
        // The weld grows to the right: a tool that pushes leans back over the finished weld.
        Some(Pointing::Push) => angle,
        Some(Pointing::Drag) => -angle,
        None => 0.0,
    };
    let style = style(sketch);
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.3, 2.4, |scale| {
        let mut canvas = Canvas::default();
        let at = |x: f64, y: f64| (x * scale, y * scale);
        let plate = Rect { left: -26.0 * scale, top: 0.0, right: 30.0 * scale, bottom: 5.0 * scale };
        canvas.rect(plate, Fill::Hatch(1.5), Some(HEAVY));
        // The finished weld behind the arc, and the pool.
        canvas.path(
            vec![
                Segment::Move(at(-26.0, 0.0)),
                Segment::Line(at(-26.0, -1.5)),
                Segment::Line(at(-3.0, -1.5)),
                Segment::Curve(at(0.0, -1.4), at(2.0, -0.6), at(2.6, 0.0)),
                Segment::Close,
            ],
            Fill::Grey(0.88),
            Some(MEDIUM),
        );
        for ripple in 1..6 {
            let x = -f64::from(ripple) * 4.2;
            canvas.path(
                vec![
                    Segment::Move(at(x - 0.9, -1.5)),
                    Segment::Curve(at(x + 0.4, -1.2), at(x + 0.4, -0.4), at(x, 0.0)),
                ],
                Fill::None,
                Some(FINE),
            );
        }
        if let Some(filler) = sketch.filler_angle {
            let filler = sane(filler, 1.0, 80.0, 15.0);
            let along = heading(filler);
            let start = at(2.2, -0.5);
            canvas.line(start, add(start, times(along, 24.0 * scale)), Stroke::solid(0.9));
            if let Some(text) = &sketch.labels.filler_angle {
                angular(&mut canvas, start, 17.0 * scale, (0.0, filler), text, style);
            }
        }
        let axis = Axis { at: at(0.0, 0.0), along: heading(90.0 + lean), scale };
        // The handle leaves on the side away from the upright line.
        tool(&mut canvas, sketch.kind, &axis, if lean < 0.0 { 1.0 } else { -1.0 });
        if let (Some(text), true) = (&sketch.labels.travel_angle, lean.abs() > 0.5) {
            let radius = (LENGTH + 3.0) * scale;
            canvas.line(at(0.0, -2.0), at(0.0, -LENGTH - 4.5), Stroke { dash: Some((1.6, 1.0)), ..FINE });
            canvas.line(axis.point(28.6, 0.0), axis.point(LENGTH + 4.5, 0.0), FINE);
            let ends = if lean > 0.0 { (90.0, 90.0 + lean) } else { (90.0 + lean, 90.0) };
            angular(&mut canvas, axis.at, radius, ends, text, style);
        }
        if let Some(text) = &sketch.labels.distance {
            let from = if sketch.kind == TorchKind::Wire { axis.point(CONTACT, 0.0) } else { axis.point(1.4, 0.0) };
            let side = if lean < 0.0 { 180.0 } else { 0.0 } + lean;
            if sketch.kind == TorchKind::Wire {
                let place = Linear { ends: (from, axis.at), away: heading(side), offset: 9.0 * scale, dashed: false };
                linear(&mut canvas, place, text, style);
            } else {
                let tail = add(
                    axis.point(0.7, 0.0),
                    times(heading(side + if lean < 0.0 { -25.0 } else { 25.0 }), 14.0 * scale),
                );
                leader(&mut canvas, axis.point(0.7, 0.0), tail, text, style);
            }
        }
        let arrow = (at(-14.0, 9.0), at(14.0, 9.0));
        canvas.arrow(arrow.0, arrow.1, HEAVY, 3.2);
        if let Some(word) = &sketch.labels.travel {
            canvas.text_beyond(at(0.0, 9.6), (0.0, 1.0), word, style.size, 100.0);
        }
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}

/// The tool from the end of the seam: work angle.
pub fn work(sketch: &TorchSketch) -> Drawing {
    let angle = sane(sketch.work_angle, 5.0, 175.0, 90.0);
    let style = style(sketch);
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.3, 2.4, |scale| {
        let mut canvas = Canvas::default();
        let at = |x: f64, y: f64| (x * scale, y * scale);
        let rect = |left: f64, top: f64, right: f64, bottom: f64| Rect {
            left: left * scale,
            top: top * scale,
            right: right * scale,
            bottom: bottom * scale,
        };
        let bead = |points: &[Point]| points.iter().map(|at| times(*at, scale)).collect::<Vec<_>>();
        match sketch.seam {
            Seam::Butt => {
                canvas.rect(rect(-22.0, 0.0, 0.0, 5.0), Fill::Hatch(1.5), Some(HEAVY));
                canvas.rect(rect(0.0, 0.0, 26.0, 5.0), Fill::Hatch(2.1), Some(HEAVY));
                canvas.path(
                    vec![
                        Segment::Move(at(-3.0, 0.0)),
                        Segment::Line(at(0.0, 4.0)),
                        Segment::Line(at(3.0, 0.0)),
                        Segment::Close,
                    ],
                    Fill::Grey(0.88),
                    Some(MEDIUM),
                );
            }
            Seam::Tee => {
                canvas.rect(rect(-16.0, 0.0, 30.0, 5.0), Fill::Hatch(1.5), Some(HEAVY));
                canvas.rect(rect(-5.0, -22.0, 0.0, 0.0), Fill::Hatch(2.1), Some(HEAVY));
                canvas.polygon(&bead(&[(0.0, -4.0), (0.0, 0.0), (4.0, 0.0)]), Fill::Grey(0.88), Some(MEDIUM));
            }
            Seam::Lap => {
                canvas.rect(rect(-14.0, 0.0, 30.0, 4.0), Fill::Hatch(1.5), Some(HEAVY));
                canvas.rect(rect(-24.0, -4.0, 0.0, 0.0), Fill::Hatch(2.1), Some(HEAVY));
                canvas.polygon(&bead(&[(0.0, -4.0), (0.0, 0.0), (4.0, 0.0)]), Fill::Grey(0.88), Some(MEDIUM));
            }
        }
        let along = heading(angle);
        let foot = match sketch.seam {
            Seam::Butt => 0.0,
            Seam::Tee | Seam::Lap => 2.9,
        };
        let axis = Axis { at: times(along, foot * scale), along, scale };
        tool(&mut canvas, sketch.kind, &axis, 0.0);
        if let Some(text) = &sketch.labels.work_angle {
            // Beyond the tool, where no line of it is in the way; a bare electrode leaves room nearer.
            let reach = if sketch.kind == TorchKind::Electrode { 20.0 } else { foot + LENGTH + 3.0 };
            if sketch.kind != TorchKind::Electrode {
                canvas.line(axis.point(30.0, 0.0), axis.point(LENGTH + 4.5, 0.0), FINE);
                canvas.line(at(30.8, 0.0), at(reach + 1.5, 0.0), FINE);
            }
            angular(&mut canvas, at(0.0, 0.0), reach * scale, (0.0, angle), text, style);
        }
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}

/// The direction at a right angle to another, to its left as seen along it.
pub(super) fn left_of(along: Point) -> Point {
    let along = unit(along);
    (along.1, -along.0)
}
