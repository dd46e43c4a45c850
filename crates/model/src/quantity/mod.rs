//! Physical quantities: one file and one type for each, read from text with exact numbers.
//!
//! To add a quantity, write its file with the macro of `unit.rs` (units with exact factors, their source beside
//! them) and add its lines below. To add a unit, add its row in the file of its quantity.

mod convert;
mod error;
mod exact;
mod parse;
mod print;
mod range;
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
pub use error::{ParseError, ParseErrorKind};
pub use exact::Exact;
pub use parse::alternatives;
pub use range::{Extent, Range};
pub use unit::{Dimension, Home, Quantity, Unit, UnitSystem};

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

/// Every quantity, sorted by the name of its format.
pub static DIMENSIONS: &[&Dimension] = &[
    &angle::DIMENSION,
    &current::DIMENSION,
    &density::DIMENSION,
    &deposition_rate::DIMENSION,
    &energy::DIMENSION,
    &flow::DIMENSION,
    &force::DIMENSION,
    &frequency::DIMENSION,
    &gas_volume::DIMENSION,
    &hardness::DIMENSION,
    &heat_input::DIMENSION,
    &heating_rate::DIMENSION,
    &hydrogen::DIMENSION,
    &length::DIMENSION,
    &mass::DIMENSION,
    &oxygen::DIMENSION,
    &power::DIMENSION,
    &pressure::DIMENSION,
    &share::DIMENSION,
    &speed::DIMENSION,
    &stress::DIMENSION,
    &temperature::DIMENSION,
    &duration::DIMENSION,
    &voltage::DIMENSION,
];

/// The names of the formats that [`check_format`] knows, sorted.
pub static FORMATS: &[&str] = &[
    "angle",
    "current",
    "density",
    "deposition-rate",
    "energy",
    "flow",
    "force",
    "frequency",
    "gas-volume",
    "hardness",
    "heat-input",
    "heating-rate",
    "hydrogen-content",
    "length",
    "mass",
    "oxygen-content",
    "power",
    "pressure",
    "share",
    "speed",
    "stress",
    "temperature",
    "time-span",
    "voltage",
];

/// Reads `text` as the quantity of a JSON Schema `format`; `None` for a format that names no quantity.
pub fn check_format(format: &str, text: &str) -> Option<Result<(), ParseError>> {
    let dimension = *DIMENSIONS.iter().find(|dimension| dimension.format == format)?;
    Some(parse::read(dimension, text).map(|_| ()))
}

/// The unit that `text` spells, and the quantity that it belongs to.
///
/// A unit of several quantities is taken for the one that it is the base unit of: `MPa` is a stress first, then a
/// pressure.
pub fn find_unit(text: &str) -> Option<(&'static Dimension, &'static Unit)> {
    let named = |dimension: &&'static Dimension| Some((*dimension, dimension.unit(text)?));
    let base = |(dimension, unit): &(&'static Dimension, &'static Unit)| dimension.si.symbol == unit.symbol;
    DIMENSIONS.iter().filter_map(named).find(base).or_else(|| DIMENSIONS.iter().find_map(named))
}

#[cfg(test)]
mod tests;
