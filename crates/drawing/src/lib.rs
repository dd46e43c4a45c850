//! Drawings in millimetres on paper: the joint, its runs, the hook-up, the torch; and how wide their lettering is.
//!
//! What a drawing is for is not known here: a sketch takes numbers and finished words.
//!
//! - [`Drawing`]: filled and stroked paths and text, which [`svg`] writes and a page of a PDF paints; [`Drawn`]: one that is kept
//! - [`sketch`]: what is drawn, one file each; `canvas.rs` finds labels their place, `fit.rs` the scale, and
//!   `dimension.rs` draws dimension lines
//! - [`face`]: the type of every sheet and how wide it is; [`text`]: the room that a label takes; [`no_break`]: what stays
//!   on one line
//!
//! ```
//! use seamwright_drawing::sketch::groove::{JointSketch, joint};
//! use seamwright_drawing::svg::svg;
//! use seamwright_model::procedure::Preparation;
//!
//! let sketch = JointSketch { preparation: Some(Preparation::SingleV), gap: 2.0, max_width: 60.0, ..JointSketch::default() };
//! let drawing = joint(&sketch);
//! assert!(drawing.width <= 60.0);
//! assert!(svg(&drawing, "joint", "Joint", "Single V").unwrap().starts_with("<svg"));
//! ```

mod block;
mod canvas;
mod dimension;
mod drawing;
mod drawn;
pub mod face;
mod fit;
pub mod no_break;
mod path;
mod point;
pub mod sketch;
pub mod svg;
pub mod text;

pub use drawing::{Anchor, Drawing, Fill, Item, Label, Segment, Stroke, weight};
pub use drawn::Drawn;
