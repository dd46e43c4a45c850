//! The list of all quantities.

use super::unit::{Dimension, Unit};
use super::{
    angle, current, density, deposition_rate, duration, energy, flow, force, frequency, gas_volume, hardness,
    heat_input, heating_rate, hydrogen, length, mass, oxygen, power, pressure, share, speed, stress, temperature,
    voltage,
};

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

/// The names of the formats that [`super::check_format`] knows, sorted.
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

/// The unit that `text` spells, and the quantity that it belongs to.
///
/// A unit of several quantities is taken for the one that it is the base unit of: `MPa` is a stress first, then a
/// pressure.
pub fn find_unit(text: &str) -> Option<(&'static Dimension, &'static Unit)> {
    let named = |dimension: &&'static Dimension| Some((*dimension, dimension.unit(text)?));
    let base = |(dimension, unit): &(&'static Dimension, &'static Unit)| dimension.si.symbol == unit.symbol;
    DIMENSIONS.iter().filter_map(named).find(base).or_else(|| DIMENSIONS.iter().find_map(named))
}
