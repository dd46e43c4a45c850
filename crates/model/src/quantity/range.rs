//! What a file states: a value, a range, or a limit on one side, with its spelling.

use std::str::FromStr;

use super::declare::Quantity;
use super::error::ParseError;
use super::exact::Exact;
use super::extent::Extent;
use super::parts::unquoted;
use super::print;
use super::read::read;
use super::unit::{Dimension, Unit, UnitSystem};

/// What a file states for a quantity; keeps the unit and the spelling as written.
///
/// Equal are ranges with equal ends, whatever their units and spellings.
#[derive(Debug, Clone)]
pub struct Range<Q> {
    extent: Extent<Q>,
    unit: &'static Unit,
    spelled: Box<str>,
}

impl<Q: Quantity> Range<Q> {
    /// Reads a text, as [`FromStr`] does.
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        let (extent, unit) = read(Q::DIMENSION, text)?;
        Ok(Self { extent: extent.map(Q::from_exact), unit, spelled: unquoted(text.trim()).into() })
    }

    /// The value, range or limit.
    pub fn extent(&self) -> Extent<Q> {
        self.extent
    }

    /// The unit as written.
    pub fn unit(&self) -> &'static Unit {
        self.unit
    }

    /// The text as written, without white space around it.
    pub fn spelled(&self) -> &str {
        &self.spelled
    }

    /// The lowest value; `None` where it is open below.
    pub fn low(&self) -> Option<Q> {
        self.extent.low()
    }

    /// The highest value; `None` where it is open above.
    pub fn high(&self) -> Option<Q> {
        self.extent.high()
    }

    /// The one value; `None` for a range of some width and for a limit.
    pub fn single(&self) -> Option<Q> {
        self.low().filter(|low| self.high() == Some(*low))
    }

    /// The middle of the ends; `None` where one is open.
    pub fn middle(&self) -> Option<Q> {
        let (low, high) = (self.low()?, self.high()?);
        if low == high {
            return Some(low);
        }
        low.exact().checked_add(high.exact())?.checked_mul(Exact::new(1, 2)?).map(Q::from_exact)
    }

    /// Whether a value lies in it, ends included.
    pub fn contains(&self, value: Q) -> bool {
        self.low().is_none_or(|low| low <= value) && self.high().is_none_or(|high| value <= high)
    }

    /// Whether all of `other` lies in it.
    pub fn covers(&self, other: &Self) -> bool {
        self.low().is_none_or(|low| other.low().is_some_and(|other| low <= other))
            && self.high().is_none_or(|high| other.high().is_some_and(|other| other <= high))
    }

    /// Text for a sheet: as written where the unit fits the system, else converted and rounded.
    pub fn print(&self, system: UnitSystem) -> String {
        print::any(Q::DIMENSION, &self.spelled, self.unit, self.extent.map(Q::exact), system)
    }
}

impl<Q: Quantity> PartialEq for Range<Q> {
    fn eq(&self, other: &Self) -> bool {
        self.low() == other.low() && self.high() == other.high()
    }
}

impl<Q: Quantity> Eq for Range<Q> {}

impl<Q: Quantity> std::hash::Hash for Range<Q> {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        (self.low(), self.high()).hash(state);
    }
}

impl<Q: Quantity> std::fmt::Display for Range<Q> {
    /// The text as written.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(&self.spelled)
    }
}

impl<Q: Quantity> FromStr for Range<Q> {
    type Err = ParseError;

    fn from_str(text: &str) -> Result<Self, ParseError> {
        Self::parse(text)
    }
}

impl<Q: Quantity> serde::Serialize for Range<Q> {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.spelled)
    }
}

impl<'de, Q: Quantity> serde::Deserialize<'de> for Range<Q> {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor<Q>(std::marker::PhantomData<Q>);

        impl<Q: Quantity> serde::de::Visitor<'_> for Visitor<Q> {
            type Value = Range<Q>;

            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                Q::DIMENSION.expected(f)
            }

            fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Range<Q>, E> {
                text.parse().map_err(E::custom)
            }

            // A bare number has no unit: parsing its text says so.
            fn visit_i64<E: serde::de::Error>(self, number: i64) -> Result<Range<Q>, E> {
                self.visit_str(&number.to_string())
            }

            fn visit_u64<E: serde::de::Error>(self, number: u64) -> Result<Range<Q>, E> {
                self.visit_str(&number.to_string())
            }

            fn visit_f64<E: serde::de::Error>(self, number: f64) -> Result<Range<Q>, E> {
                self.visit_str(&number.to_string())
            }
        }

        deserializer.deserialize_any(Visitor(std::marker::PhantomData))
    }
}

crate::words::inline_schema!(Range<Q> where Q: Quantity, Q::FORMAT, Q::DIMENSION.schema());

impl Dimension {
    /// What a text of it must be, for editors.
    fn schema(&self) -> schemars::Schema {
        let units: Vec<&str> = self.units.iter().map(|unit| unit.symbol).collect();
        schemars::json_schema!({
            "type": "string",
            "format": self.format,
            "description": format!(
                "{}: a value, a range or a limit, with its unit ({})", self.with_article(), units.join(", ")
            ),
            "examples": self.examples,
        })
    }

    /// What was expected where something else stands.
    fn expected(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let [one, two] = self.examples;
        write!(f, "{}, for example `{one}` or `{two}`", self.with_article())
    }
}
