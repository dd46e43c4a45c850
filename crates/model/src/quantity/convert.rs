//! Converts a text of any quantity into another unit, exactly.

use super::error::ParseError;
use super::exact::Exact;
use super::extent::Extent;
use super::parts::split;
use super::read::read;
use super::unit::{Dimension, Home, Unit};
use super::{list, parse, print};

/// A text of some quantity in another unit.
#[derive(Debug, Clone)]
pub struct Conversion {
    /// The quantity that was found by its unit.
    pub dimension: &'static Dimension,
    /// The exact value or range, as a number of `unit`.
    pub extent: Extent<Exact>,
    /// The unit that was asked for.
    pub unit: &'static Unit,
}

impl Conversion {
    /// The value as a figure; `None` for a range and for a limit.
    pub fn value(&self) -> Option<f64> {
        match self.extent {
            Extent::Single(value) => Some(value.to_f64()),
            _ => None,
        }
    }

    /// The lowest and the highest figure; `None` where it is open.
    pub fn ends(&self) -> (Option<f64>, Option<f64>) {
        (self.extent.low().map(Exact::to_f64), self.extent.high().map(Exact::to_f64))
    }

    /// Text with all digits where twelve decimals write it, else with nine.
    pub fn print(&self) -> String {
        let number = |exact: Exact| exact.decimal(exact.decimals(12).unwrap_or(9));
        match self.extent {
            Extent::Single(value) => self.unit.join(&number(value)),
            Extent::Between(low, high) => self.unit.join(&format!("{} to {}", number(low), number(high))),
            Extent::Minimum(value) => self.unit.join(&number(value)) + " minimum",
            Extent::Maximum(value) => self.unit.join(&number(value)) + " maximum",
        }
    }
}

/// Converts `text` into `to_unit`; the quantity is found by its unit.
///
/// Fails where the text states no quantity, or the unit does not belong to it.
pub fn convert(text: &str, to_unit: &str) -> Result<Conversion, ParseError> {
    let refuse = |fault| ParseError::new(None, text, fault);
    let parts = split(text).map_err(refuse)?;
    let to_unit = to_unit.trim();
    // A unit of several quantities means the one that the other unit belongs to as well.
    let both =
        list::DIMENSIONS.iter().find(|one| one.unit(parts.unit).is_some() && one.unit(to_unit).is_some()).copied();
    let dimension = both
        .or_else(|| list::find_unit(parts.unit).map(|(dimension, _)| dimension))
        .ok_or_else(|| refuse(parse::unknown_unit(None, parts.unit)))?;
    let (extent, _) = read(dimension, text)?;
    let unit = dimension.unit(to_unit).ok_or_else(|| ParseError::target_unit(dimension, to_unit))?;
    let extent = extent.try_map(|value| value.into_unit(unit)).ok_or_else(|| ParseError::overflow(text))?;
    Ok(Conversion { dimension, extent, unit })
}

/// Whether two texts state the same quantity: the same value, range or limit, in whatever units.
pub fn equal(one: &str, other: &str) -> bool {
    let (Ok(own), Ok(its)) = (split(one), split(other)) else { return false };
    let both =
        |dimension: &&&'static Dimension| dimension.unit(own.unit).is_some() && dimension.unit(its.unit).is_some();
    list::DIMENSIONS.iter().filter(both).any(|dimension| match (read(dimension, one), read(dimension, other)) {
        (Ok((own, _)), Ok((its, _))) => own.low() == its.low() && own.high() == its.high(),
        _ => false,
    })
}

/// The unit of a text that states a quantity, as it is spelled there.
pub fn unit_of(text: &str) -> Option<&str> {
    split(text).ok().map(|parts| parts.unit)
}

/// A quantity in the unit of another one, rounded inwards, where the two are of different systems; nothing where they are
/// not, or where one of them is no quantity.
///
/// `0-4 mm` beside `3/16 in` is `0–5/32 in`.
pub fn in_unit_of(text: &str, other: &str) -> Option<String> {
    let (own, its) = (split(text).ok()?, split(other).ok()?);
    if own.unit == its.unit {
        return None;
    }
    let dimension = list::DIMENSIONS
        .iter()
        // Many limits are no quantities: that of the stated value, which is one, sorts out most dimensions.
        .find(|dimension| dimension.unit(its.unit).is_some() && dimension.unit(own.unit).is_some())?;
    let unit = dimension.unit(its.unit)?;
    let (extent, from) = read(dimension, text).ok()?;
    if from.home == unit.home || from.home == Home::Shared || unit.home == Home::Shared {
        return None;
    }
    print::in_unit(extent, unit)
}
