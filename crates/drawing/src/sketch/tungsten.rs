//! The tungsten electrode: its tip much enlarged, and how far it stands out of the nozzle.

use crate::canvas::{Canvas, room_of, sane};
use crate::dimension::{Linear, Seat, Style, angular, leader, linear};
use crate::drawing::{
    Drawing, Fill, Segment,
    line::{FINE, HEAVY, MEDIUM},
};
use crate::fit::fit_clear;
use crate::path::arc;
use crate::point::{Point, heading};
use crate::text::Rect;

/// The end of the electrode.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tip {
    /// Ground to a cone, lengthwise.
    Ground {
        /// Included angle, degrees.
        included_angle: f64,
        /// Diameter of the flat, mm.
        flat: f64,
    },
    /// Melted to a half ball.
    Balled,
}

/// A tip to be drawn. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct TipSketch {
    /// Diameter of the electrode.
    pub diameter: f64,
    /// Its end.
    pub tip: Tip,
    /// Text of the diameter, with the kind of tungsten where the caller wants it.
    pub diameter_label: Option<String>,
    /// Text of the included angle.
    pub angle_label: Option<String>,
    /// Text of the flat.
    pub flat_label: Option<String>,
    /// Widest drawing, mm.
    pub max_width: f64,
    /// Highest drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

impl Default for TipSketch {
    fn default() -> Self {
        Self {
            diameter: 2.4,
            tip: Tip::Ground { included_angle: 30.0, flat: 0.3 },
            diameter_label: None,
            angle_label: None,
            flat_label: None,
            max_width: 45.0,
            max_height: 60.0,
            text_size: 8.0,
        }
    }
}

/// An electrode in its nozzle, to be drawn in section. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct NozzleSketch {
    /// Bore of the nozzle at its mouth.
    pub bore: f64,
    /// Diameter of the electrode.
    pub diameter: f64,
    /// How far it stands out of the nozzle.
    pub stickout: f64,
    /// Included angle of the tip, degrees.
    pub included_angle: f64,
    /// Whether the torch has a gas lens.
    pub gas_lens: bool,
    /// Text of the bore.
    pub bore_label: Option<String>,
    /// Text of the stickout.
    pub stickout_label: Option<String>,
    /// Name of the nozzle.
    pub nozzle_label: Option<String>,
    /// What the gas lens is called.
    pub lens_label: Option<String>,
    /// Widest drawing, mm.
    pub max_width: f64,
    /// Highest drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

impl Default for NozzleSketch {
    fn default() -> Self {
        Self {
            bore: 11.0,
            diameter: 2.4,
            stickout: 6.0,
            included_angle: 30.0,
            gas_lens: false,
            bore_label: None,
            stickout_label: None,
            nozzle_label: None,
            lens_label: None,
            max_width: 60.0,
            max_height: 60.0,
            text_size: 8.0,
        }
    }
}

/// Length of the cone, mm.
fn cone(diameter: f64, flat: f64, angle: f64) -> f64 {
    ((diameter - flat) / 2.0 / (angle / 2.0).to_radians().tan()).max(0.0)
}

/// The tip of the electrode to scale, much enlarged, pointing down.
pub fn tip(sketch: &TipSketch) -> Drawing {
    let diameter = sane(sketch.diameter, 0.3, 12.0, 2.4);
    let half = diameter / 2.0;
    let size = sane(sketch.text_size, 4.0, 40.0, 8.0);
    let style = Style { size, room: (room_of(sketch.max_width) * 0.7).max(14.0), spread: 1.0, seat: Seat::Usual };
    // The shaft is drawn no wider than 16 mm.
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.2, 16.0 / diameter, |scale| {
        let mut canvas = Canvas::default();
        let at = |x: f64, y: f64| (x * scale, y * scale);
        let (depth, flat, angle) = match sketch.tip {
            Tip::Ground { included_angle, flat } => {
                let angle = sane(included_angle, 5.0, 170.0, 30.0);
                let flat = sane(flat, 0.0, diameter * 0.95, 0.0);
                (cone(diameter, flat, angle), flat / 2.0, Some(angle))
            }
            Tip::Balled => (half, 0.0, None),
        };
        // From the shoulder at y = 0 down to the tip, and up to the broken end.
        let top = -0.9 * diameter;
        let mut outline = vec![Segment::Move(at(-half, top)), Segment::Line(at(-half, 0.0))];
        if angle.is_some() {
            outline.push(Segment::Line(at(-flat, depth)));
            outline.push(Segment::Line(at(flat, depth)));
            outline.push(Segment::Line(at(half, 0.0)));
        } else {
            outline.extend(arc(at(0.0, 0.0), half * scale, 180.0, 360.0).into_iter().skip(1));
        }
        outline.push(Segment::Line(at(half, top)));
        let mut ground = outline.clone();
        let broken = Segment::Curve(
            at(half * 0.3, top - diameter * 0.15),
            at(-half * 0.3, top + diameter * 0.15),
            at(-half, top),
        );
        ground.push(broken);
        canvas.path(ground, Fill::Grey(0.93), None);
        canvas.path(vec![Segment::Move(at(half, top)), broken], Fill::None, Some(FINE));
        canvas.path(outline, Fill::None, Some(HEAVY));
        if angle.is_some() {
            canvas.line(at(-half, 0.0), at(half, 0.0), MEDIUM);
            // Grinding marks run lengthwise.
            for step in -2..=2 {
                let share = f64::from(step) / 3.0;
                canvas.line(
                    at(half * share * 0.92, depth * 0.08),
                    at((flat + (half - flat) * 0.12) * share, depth * 0.88),
                    FINE,
                );
            }
        }
        if let Some(text) = &sketch.diameter_label {
            let place = Linear { ends: (at(-half, top), at(half, top)), away: (0.0, -1.0), offset: 4.0, dashed: false };
            linear(&mut canvas, place, text, style);
        }
        if let (Some(text), Some(angle)) = (&sketch.flat_label, angle) {
            let tip = at(flat, depth);
            let tail = (tip.0 + 9.0, tip.1 - (2.0 + 0.25 * angle.min(60.0) * 0.1));
            leader(&mut canvas, tip, tail, text, style);
        }
        if let (Some(text), Some(angle)) = (&sketch.angle_label, angle) {
            // The flanks meet beyond the flat; their lines go on to the other side, where the angle is the same.
            let apex = at(0.0, depth + flat / (angle / 2.0).to_radians().tan());
            let reach = 11.0;
            for side in [-1.0, 1.0] {
                let along = heading(270.0 + side * angle / 2.0);
                let start = at(-side * flat, depth);
                let gap = 0.8;
                canvas.line(
                    (start.0 + along.0 * gap, start.1 + along.1 * gap),
                    (apex.0 + along.0 * (reach + 1.0), apex.1 + along.1 * (reach + 1.0)),
                    FINE,
                );
            }
            angular(&mut canvas, apex, reach, (270.0 - angle / 2.0, 270.0 + angle / 2.0), text, style);
        }
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}

/// The electrode in its nozzle, in section and to scale, pointing down.
pub fn nozzle(sketch: &NozzleSketch) -> Drawing {
    let bore = sane(sketch.bore, 2.0, 40.0, 11.0);
    let diameter = sane(sketch.diameter, 0.3, bore * 0.8, 2.4);
    let stickout = sane(sketch.stickout, 0.0, 60.0, 6.0);
    let angle = sane(sketch.included_angle, 5.0, 170.0, 30.0);
    let size = sane(sketch.text_size, 4.0, 40.0, 8.0);
    let style = Style { size, room: (room_of(sketch.max_width) * 0.36).max(14.0), spread: 1.0, seat: Seat::Usual };
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.2, 4.0, |scale| {
        let mut canvas = Canvas::default();
        let at = |x: f64, y: f64| (x * scale, y * scale);
        let (half, wall, length) = (bore / 2.0, bore * 0.16, bore * 1.5);
        // The mouth is at y = 0.
        for side in [-1.0, 1.0] {
            canvas.polygon(
                &[
                    at(side * half, 0.0),
                    at(side * (half + wall * 0.7), 0.0),
                    at(side * (half + wall), -length * 0.35),
                    at(side * (half + wall), -length),
                    at(side * half, -length),
                ],
                Fill::Hatch(1.1),
                Some(HEAVY),
            );
        }
        // The collet body; a gas lens fills the bore with its screens.
        let body = (diameter * 1.1).max(half * 0.5);
        let body = body.min(half * 0.9);
        let end = if sketch.gas_lens { -length * 0.5 } else { -length * 0.42 };
        canvas.rect(
            Rect { left: -body * scale, top: -length * 1.12 * scale, right: body * scale, bottom: end * scale },
            Fill::White,
            Some(HEAVY),
        );
        if sketch.gas_lens {
            let screen = Rect {
                left: -half * 0.96 * scale,
                top: (end - 0.14 * bore) * scale,
                right: half * 0.96 * scale,
                bottom: end * scale,
            };
            canvas.rect(screen, Fill::White, Some(MEDIUM));
            for step in 1..16 {
                let x = screen.left + screen.width() * f64::from(step) / 16.0;
                canvas.line((x, screen.top), (x, screen.bottom), FINE);
            }
            canvas.line(
                (screen.left, f64::midpoint(screen.top, screen.bottom)),
                (screen.right, f64::midpoint(screen.top, screen.bottom)),
                FINE,
            );
        } else {
            for side in [-1.0, 1.0] {
                let hole: Point = at(side * body, end - bore * 0.16);
                canvas.circle(hole, 0.06 * bore * scale, Fill::White, Some(MEDIUM));
            }
        }
        let r = diameter / 2.0;
        let depth = cone(diameter, diameter * 0.1, angle).min(stickout + length * 0.4);
        canvas.polygon(
            &[
                at(-r, end),
                at(-r, stickout - depth),
                at(-r * 0.1, stickout),
                at(r * 0.1, stickout),
                at(r, stickout - depth),
                at(r, end),
            ],
            Fill::Grey(0.8),
            Some(HEAVY),
        );
        if let Some(text) = &sketch.stickout_label {
            let place = Linear {
                ends: (at(half + wall * 0.7, 0.0), at(r * 0.1, stickout)),
                away: (1.0, 0.0),
                offset: wall * 0.3 * scale + 4.0,
                dashed: false,
            };
            linear(&mut canvas, place, text, style);
        }
        if let Some(text) = &sketch.bore_label {
            let place = Linear {
                ends: (at(-half, 0.0), at(half, 0.0)),
                away: (0.0, 1.0),
                offset: stickout * scale + 4.0,
                dashed: false,
            };
            linear(&mut canvas, place, text, style);
        }
        if let Some(text) = &sketch.nozzle_label {
            let tip = at(half + wall * 0.9, -length * 0.6);
            leader(&mut canvas, tip, (tip.0 + 6.0, tip.1 - 4.0), text, style);
        }
        if let (Some(text), true) = (&sketch.lens_label, sketch.gas_lens) {
            let tip = at(-half * 0.8, end - bore * 0.1);
            leader(&mut canvas, tip, (-(half + wall) * scale - 5.0, tip.1 - 5.0), text, style);
        }
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}
