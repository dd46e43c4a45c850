//! The formulas of a weld procedure: pure functions, one family a file.
//!
//! Every argument is an `f64` whose name carries its unit; more than four of them stand in a small struct. What a table
//! knows (a density, a thermal efficiency, a shape factor, a limit of composition) comes as an argument. An argument that
//! is not finite or cannot be is refused with [`CalcError`], which names it; a value outside a formula's validity still
//! computes, and a [`Note`] says so. No result is ever NaN.
//!
//! To add a family: a file with the functions, a [`Formula`] (equation, source, basis, validity) beside each that an answer
//! shows, and its line below.

mod argument;
pub mod band;
pub mod carbon_equivalent;
pub mod composition;
pub mod cooling_time;
pub mod deposition;
pub mod duty_cycle;
pub mod error;
pub mod ferrite;
pub mod fillet;
pub mod flank;
pub mod flare;
pub mod formula;
pub mod fusion;
pub mod gas;
pub mod groove;
pub mod hardness;
pub mod heat_input;
pub mod heat_treatment;
pub mod note;
mod number;
pub mod preheat;
pub mod shrinkage;
pub mod spread;
pub mod strength;
pub mod time_cost;
pub mod weld_metal;

pub use band::Band;
pub use composition::{Composition, Element};
pub use error::{CalcError, Result};
pub use flank::Flank;
pub use formula::{Basis, Formula};
pub use groove::{Groove, Preparation};
pub use note::{Note, Noted};
pub use spread::Spread;
