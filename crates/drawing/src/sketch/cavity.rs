//! A cavity ground or gouged out for a repair, in section and to scale.

use crate::canvas::{Canvas, room_of, sane};
use crate::dimension::{Linear, Seat, Style, angular, linear};
use crate::drawing::{Drawing, Fill, Stroke, weight};
use crate::fit::fit_clear;

/// A cavity to be drawn; lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct CavitySketch {
    /// Thickness of the metal.
    pub thickness: f64,
    /// Depth of the cavity.
    pub depth: f64,
    /// Width at the surface.
    pub width: f64,
    /// Angle between its sides, degrees.
    pub angle: f64,
    /// Labels of thickness, depth, width and angle, where they are stated.
    pub labels: [Option<String>; 4],
    /// Width of the drawing, mm.
    pub max_width: f64,
    /// Height of the drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

/// The cavity in its metal.
pub fn cavity(sketch: &CavitySketch) -> Drawing {
    let depth = sane(sketch.depth, 0.5, 500.0, 5.0);
    let thickness = sane(sketch.thickness, 0.5, 500.0, depth * 1.5).max(depth);
    let angle = sane(sketch.angle, 0.0, 170.0, 0.0);
    let slope = depth * (angle.to_radians() / 2.0).tan();
    let half = sane(sketch.width, 1.0, 1000.0, 20.0).max(2.0 * slope) / 2.0;
    let side = half + thickness.max(half * 0.6);
    let size = sane(sketch.text_size, 4.0, 40.0, 8.0);
    let style = Style { size, room: (room_of(sketch.max_width) * 0.4).max(14.0), spread: 1.0, seat: Seat::Usual };
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.2, 4.0, |scale| {
        let mut canvas = Canvas::default();
        let at = |x: f64, y: f64| (x * scale, y * scale);
        let (left, right) = (at(-(half - slope), depth), at(half - slope, depth));
        // The surface is at y = 0.
        let outline = [
            at(-side, 0.0),
            at(-half, 0.0),
            left,
            right,
            at(half, 0.0),
            at(side, 0.0),
            at(side, thickness),
            at(-side, thickness),
        ];
        canvas.polygon(&outline, Fill::Hatch(1.4), Some(Stroke::solid(weight::HEAVY)));
        let [thick, deep, wide, open] = &sketch.labels;
        let mut measure = |ends, away, offset, text: &Option<String>| {
            if let Some(text) = text {
                linear(&mut canvas, Linear { ends, away, offset, dashed: false }, text, style);
            }
        };
        measure((at(-half, 0.0), at(half, 0.0)), (0.0, -1.0), 5.0, wide);
        measure((at(side, 0.0), at(side, thickness)), (1.0, 0.0), 5.0, thick);
        measure((at(-side, 0.0), at(-(half - slope), depth)), (-1.0, 0.0), 5.0, deep);
        if let Some(text) = open.as_ref().filter(|_| angle > 0.0) {
            // The sides meet below the bottom of the cavity.
            let apex = at(0.0, half / (angle.to_radians() / 2.0).tan());
            let radius = apex.1 + 11.0;
            angular(&mut canvas, apex, radius, (90.0 - angle / 2.0, 90.0 + angle / 2.0), text, style);
        }
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}
