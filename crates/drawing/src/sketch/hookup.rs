//! The hook-up: which cable goes on which terminal, and which way the gas goes.
//!
//! Everything follows from the process, the polarity and what stands in the shop. The torch's terminal is drawn over
//! that of the work, so that the cables never cross; which of the two is plus stands in the terminals and in words.

mod picture;
mod sketch;

pub use self::sketch::{ArcCarrier, ArcStart, GasPath, HookupNames, HookupSketch, Polarity, Remote};

use self::picture::build;
use crate::drawing::Drawing;
use crate::fit::fit_clear;

/// The hook-up diagram, at most as large as the sketch allows.
pub fn hookup(sketch: &HookupSketch) -> Drawing {
    let room = (sketch.max_width, sketch.max_height);
    let canvas = fit_clear(room, 0.35, 2.4, |scale| build(sketch, scale));
    canvas.finish(sketch.max_width, sketch.max_height)
}
