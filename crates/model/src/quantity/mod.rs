//! Physical quantities: one file and one type for each, read from text with exact numbers.
//!
//! To add a quantity, write its file with the macro of `declare.rs` (units with exact factors, their source beside
//! them) and add its lines below and in `list.rs`. To add a unit, add its row in the file of its quantity.

mod convert;
mod declare;
mod error;
mod exact;
mod extent;
mod fault;
mod list;
mod parse;
mod parts;
mod print;
mod range;
mod read;
mod unit;

mod angle;
mod current;
mod density;
mod deposition_rate;
mod duration;
mod energy;
mod flow;
mod force;
mod frequency;
mod gas_volume;
mod hardness;
mod heat_input;
mod heating_rate;
mod hydrogen;
mod length;
mod mass;
mod oxygen;
mod power;
mod pressure;
mod share;
mod speed;
mod stress;
mod temperature;
mod voltage;

pub use convert::{Conversion, convert, equal, in_unit_of, unit_of};
pub use declare::Quantity;
pub use error::{ParseError, ParseErrorKind};
pub use exact::Exact;
pub use extent::Extent;
pub use list::{DIMENSIONS, FORMATS, find_unit};
pub use parse::alternatives;
pub use range::Range;
pub use unit::{Dimension, Home, Unit, UnitSystem};

pub use angle::Angle;
pub use current::Current;
pub use density::Density;
pub use deposition_rate::DepositionRate;
pub use duration::Duration;
pub use energy::Energy;
pub use flow::Flow;
pub use force::Force;
pub use frequency::Frequency;
pub use gas_volume::GasVolume;
pub use hardness::Hardness;
pub use heat_input::HeatInput;
pub use heating_rate::HeatingRate;
pub use hydrogen::Hydrogen;
pub use length::Length;
pub use mass::Mass;
pub use oxygen::Oxygen;
pub use power::Power;
pub use pressure::Pressure;
pub use share::Share;
pub use speed::Speed;
pub use stress::Stress;
pub use temperature::Temperature;
pub use voltage::Voltage;

/// Reads `text` as the quantity of a JSON Schema `format`; `None` for a format that names no quantity.
pub fn check_format(format: &str, text: &str) -> Option<Result<(), ParseError>> {
    let dimension = *DIMENSIONS.iter().find(|dimension| dimension.format == format)?;
    Some(read::read(dimension, text).map(|_| ()))
}

#[cfg(test)]
mod tests;
