//! The formulas of a weld procedure: pure functions, one family a file, figures in and out in the units of their names.
//!
//! Knows no table: thermal efficiency, density and the like come as arguments. To add a family: one file with equation,
//! units, validity, source and a worked example in its doc comment, and its line here.

pub mod error;
pub mod heat_input;

pub use error::CalcError;
