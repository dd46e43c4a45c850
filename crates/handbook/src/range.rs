//! Ranges of figures, and the two ranges that a check compares a value with.

use std::fmt;

use serde::de::{Error, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use seamwright_model::finding::SourceRef;

/// A closed range of figures in the unit of its column; a single figure is a range of no width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Lowest figure.
    pub low: f64,
    /// Highest figure.
    pub high: f64,
}

impl Range {
    /// A range from low to high.
    pub const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// Whether a figure lies in the range, ends included.
    pub fn contains(&self, figure: f64) -> bool {
        self.low <= figure && figure <= self.high
    }

    /// Whether the whole of `other` lies in the range.
    pub fn covers(&self, other: Self) -> bool {
        self.low <= other.low && other.high <= self.high
    }

    /// The narrowest range that holds both.
    #[must_use]
    pub fn hull(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// What two ranges have in common, if anything.
    pub fn overlap(self, other: Self) -> Option<Self> {
        let both = Self { low: self.low.max(other.low), high: self.high.min(other.high) };
        (both.low <= both.high).then_some(both)
    }

    /// The middle of the range.
    pub fn middle(&self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

impl<'de> Deserialize<'de> for Range {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(AsWritten)
    }
}

/// Reads `7` or `[5, 7.5]`: thousands of ranges are read for one document, so nothing is buffered to try which it is.
struct AsWritten;

impl<'de> Visitor<'de> for AsWritten {
    type Value = Range;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a figure or a pair of figures")
    }

    fn visit_f64<E: Error>(self, figure: f64) -> Result<Range, E> {
        Ok(Range::new(figure, figure))
    }

    #[expect(clippy::cast_precision_loss, reason = "figures of the tables are far below 2^53")]
    fn visit_u64<E: Error>(self, figure: u64) -> Result<Range, E> {
        self.visit_f64(figure as f64)
    }

    #[expect(clippy::cast_precision_loss, reason = "figures of the tables are far below 2^53")]
    fn visit_i64<E: Error>(self, figure: i64) -> Result<Range, E> {
        self.visit_f64(figure as f64)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut pair: A) -> Result<Range, A::Error> {
        match (pair.next_element()?, pair.next_element()?, pair.next_element::<f64>()?) {
            (Some(low), Some(high), None) => Ok(Range::new(low, high)),
            _ => Err(Error::custom("a range is a pair of figures")),
        }
    }
}

impl Serialize for Range {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        [self.low, self.high].serialize(serializer)
    }
}

/// The limits of a value: outside `envelope` is an error, outside `usual` a caution.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// The widest range that any source allows.
    pub envelope: Range,
    /// The narrower range on which sources agree, where they do.
    pub usual: Option<Range>,
    /// Where the limits are written.
    pub source: SourceRef,
    /// Why they are not beyond doubt, where they are not.
    pub doubt: Option<String>,
}

/// A range that is usual but limits nothing: outside it a value is a caution at most.
#[derive(Debug, Clone, PartialEq)]
pub struct Usual {
    /// The usual range.
    pub range: Range,
    /// Where it is written.
    pub source: SourceRef,
    /// Why it is not beyond doubt, where it is not.
    pub doubt: Option<String>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_single_figure_is_a_range_of_no_width() {
        let range: Range = serde_json::from_str("7").unwrap();
        assert_eq!(range, Range::new(7.0, 7.0));
        assert_eq!(serde_json::from_str::<Range>("[5, 7.5]").unwrap(), Range::new(5.0, 7.5));
        assert_eq!(serde_json::from_str::<Range>("-20").unwrap(), Range::new(-20.0, -20.0));
        for wrong in ["[5]", "[5, 6, 7]", "\"5\"", "null"] {
            assert!(serde_json::from_str::<Range>(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn overlap_of_apart_ranges_is_nothing() {
        assert_eq!(Range::new(1.0, 2.0).overlap(Range::new(3.0, 4.0)), None);
        assert_eq!(Range::new(1.0, 3.0).overlap(Range::new(2.0, 4.0)), Some(Range::new(2.0, 3.0)));
    }
}
