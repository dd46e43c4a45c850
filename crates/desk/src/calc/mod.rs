//! Calculations, one file each: what it takes, and its [`Answer`] with equation, the numbers put in, result and source.

mod answer;
pub mod carbon_equivalent;
pub mod convert;
pub mod cooling_time;
pub mod duty_cycle;
pub mod ferrite;
pub mod filler;
pub mod gas_supply;
pub mod hardness;
pub mod heat_input;
pub mod heat_treatment;
pub mod preheat;
pub mod purge;
pub mod shrinkage;
pub mod throat;
pub mod weld_metal;

pub use answer::{Answer, Figure};
