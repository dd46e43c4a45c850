//! The prepared joint to scale: metal in section, backing, dimension lines.
//!
//! A preparation is a variant of `Preparation` (of the model) and its flanks in `section.rs`; everything else follows from
//! the outline that comes from there. Sizes are drawn at the value given; the labels say what is dimensioned, so that a
//! range is drawn at its middle and labelled as the range.

mod dimensions;
mod metal;

pub(super) use self::metal::{backing, metal};
pub use super::joint_sketch::{Backing, FilletSize, JointKind, JointLabels, JointSketch, Layer, RunBead, Section};

use self::dimensions::fitted;
use crate::drawing::Drawing;

/// The prepared joint with its dimensions, at most as large as the sketch allows.
pub fn joint(sketch: &JointSketch) -> Drawing {
    fitted(sketch).finish(sketch.max_width, sketch.max_height)
}
