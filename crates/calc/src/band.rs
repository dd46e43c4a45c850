//! Ranges of figures.

/// A range of figures in one unit, both ends included; an open end is infinite, a single figure is a range of no width.
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

    /// A single figure.
    pub const fn at(figure: f64) -> Self {
        Self::new(figure, figure)
    }

    /// All figures from this one up.
    pub const fn at_least(low: f64) -> Self {
        Self::new(low, f64::INFINITY)
    }

    /// All figures up to this one.
    pub const fn at_most(high: f64) -> Self {
        Self::new(f64::NEG_INFINITY, high)
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

    /// So many times as much.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self { low: self.low * factor, high: self.high * factor }
    }
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
