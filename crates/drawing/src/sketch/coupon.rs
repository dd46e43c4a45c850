//! A test coupon seen from above, with where each specimen is cut; its width to scale, the specimens spread evenly.

use crate::canvas::{Canvas, room_of, sane};
use crate::dimension::{Linear, Seat, Style, linear};
use crate::drawing::{Anchor, Drawing, Fill, Stroke, weight};
use crate::fit::fit_clear;
use crate::text::Rect;

/// A coupon to be drawn; lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct CouponSketch {
    /// Length along the weld.
    pub length: f64,
    /// Width of each part.
    pub width: f64,
    /// Length that is discarded at each end.
    pub discard: f64,
    /// What stands in each specimen, from the end where welding begins.
    pub specimens: Vec<String>,
    /// Labels of the length, the width of a part and the discard.
    pub labels: [Option<String>; 3],
    /// Width of the drawing, mm.
    pub max_width: f64,
    /// Height of the drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

/// The coupon from above.
pub fn coupon(sketch: &CouponSketch) -> Drawing {
    let length = sane(sketch.length, 20.0, 2000.0, 300.0);
    let width = sane(sketch.width, 10.0, 1000.0, 125.0);
    let discard = sane(sketch.discard, 0.0, length / 4.0, 25.0);
    let size = sane(sketch.text_size, 4.0, 40.0, 8.0);
    let style = Style { size, room: (room_of(sketch.max_width) * 0.4).max(14.0), spread: 1.0, seat: Seat::Usual };
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.02, 1.0, |scale| {
        let mut canvas = Canvas::default();
        let rect = |left: f64, top: f64, right: f64, bottom: f64| Rect {
            left: left * scale,
            top: top * scale,
            right: right * scale,
            bottom: bottom * scale,
        };
        let (heavy, fine) = (Stroke::solid(weight::HEAVY), Stroke::solid(weight::FINE));
        canvas.rect(rect(0.0, -width, length, width), Fill::None, Some(heavy));
        for (left, right) in [(0.0, discard), (length - discard, length)].into_iter().filter(|_| discard > 0.0) {
            canvas.rect(rect(left, -width, right, width), Fill::Hatch(2.0), Some(fine));
        }
        // The weld, with its direction.
        let half = (width * 0.05).max(1.5);
        canvas.rect(rect(0.0, -half, length, half), Fill::Grey(0.85), Some(fine));
        #[expect(clippy::cast_precision_loss, reason = "a few specimens")]
        let pitch = (length - 2.0 * discard) / sketch.specimens.len().max(1) as f64;
        let (mut left, reach) = (discard, width * 0.8);
        for text in &sketch.specimens {
            let own = rect(left + pitch * 0.12, -reach, left + pitch * 0.88, reach);
            canvas.rect(own, Fill::None, Some(Stroke::dashed(weight::MEDIUM)));
            let at = (f64::midpoint(own.left, own.right), -reach * 0.5 * scale);
            canvas.text(at, text, size * 1.2, Anchor::Middle);
            left += pitch;
        }
        canvas.arrow((length * 0.02 * scale, 0.0), (length * 0.1 * scale, 0.0), Stroke::solid(weight::MEDIUM), 2.0);
        let at = |x: f64, y: f64| (x * scale, y * scale);
        let [long, wide, end] = &sketch.labels;
        let mut measure = |ends, away, text: &Option<String>| {
            if let Some(text) = text {
                linear(&mut canvas, Linear { ends, away, offset: 6.0, dashed: false }, text, style);
            }
        };
        measure((at(0.0, width), at(length, width)), (0.0, 1.0), long);
        measure((at(length, -width), at(length, 0.0)), (1.0, 0.0), wide);
        measure((at(0.0, -width), at(discard, -width)), (0.0, -1.0), end);
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}
