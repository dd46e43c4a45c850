//! What is drawn, all on the one drawing model.
//!
//! Each file takes a plain struct of numbers (mm, degrees) and ready-made label texts and returns a [`Drawing`](crate::Drawing)
//! no larger than asked for. A new sketch is one more file and its line here; it is drawn on a canvas (`canvas.rs`),
//! which finds the labels their place.

pub mod bead;
pub mod cavity;
pub mod coupon;
pub mod ferrite;
pub mod flare;
pub mod groove;
pub mod hookup;
mod joint_sketch;
pub mod position;
mod section;
pub mod symbol;
pub mod torch;
pub mod tungsten;

#[cfg(test)]
mod tests;
