//! Ranges of figures, and the two ranges that a check compares a value with.

use serde::{Serialize, Serializer};

use seamwright_model::finding::SourceRef;

/// A closed range of figures in the unit of its column; a single figure is a range of no width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Lowest figure.
    pub low: f64,
    /// Highest figure.
    pub high: f64,
}

impl Band {
    /// A range from low to high.
    pub const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// Whether it is a single figure.
    pub fn is_single(&self) -> bool {
        self.high <= self.low
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

impl Serialize for Band {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        [self.low, self.high].serialize(serializer)
    }
}

/// The limits of a value: outside `envelope` is an error, outside `usual` a caution.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// The widest range that any source allows.
    pub envelope: Band,
    /// The narrower range on which sources agree, where they do.
    pub usual: Option<Band>,
    /// Where the limits are written.
    pub source: SourceRef,
    /// Why they are not beyond doubt, where they are not.
    pub doubt: Option<&'static str>,
}

/// A range that is usual but limits nothing: outside it a value is a caution at most.
#[derive(Debug, Clone, PartialEq)]
pub struct Usual {
    /// The usual range.
    pub range: Band,
    /// Where it is written.
    pub source: SourceRef,
    /// Why it is not beyond doubt, where it is not.
    pub doubt: Option<&'static str>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn overlap_of_apart_ranges_is_nothing() {
        assert_eq!(Band::new(1.0, 2.0).overlap(Band::new(3.0, 4.0)), None);
        assert_eq!(Band::new(1.0, 3.0).overlap(Band::new(2.0, 4.0)), Some(Band::new(2.0, 3.0)));
    }
}
