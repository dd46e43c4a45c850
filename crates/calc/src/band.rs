//! Ranges of figures.

/// A range of figures in one unit, both ends included; an open end is infinite, a single figure is a range of no width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Lowest figure.
    pub low: f64,
    /// Highest figure.
    pub high: f64,
}

/// Which side of a range another one leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Outside {
    /// Under the low end.
    pub below: bool,
    /// Over the high end.
    pub above: bool,
}

impl Outside {
    /// Whether it leaves one side or the other.
    pub fn either(self) -> bool {
        self.below || self.above
    }
}

/// A conversion between units and a product may leave the last digit off: so much of a figure, and of 1 where it is less.
pub const SLACK: f64 = 1e-9;

/// Whether a figure lies under a limit, the last digit aside.
pub fn below(figure: f64, limit: f64) -> bool {
    figure < limit - SLACK * figure.abs().min(limit.abs()).max(1.0)
}

/// Whether a figure lies over a limit, the last digit aside.
pub fn above(figure: f64, limit: f64) -> bool {
    below(limit, figure)
}

/// The whole number at or above a figure, the last digit aside.
pub fn whole_up(figure: f64) -> f64 {
    (figure - SLACK * figure.abs().max(1.0)).ceil()
}

/// The whole number at or below a figure, the last digit aside.
pub fn whole_down(figure: f64) -> f64 {
    -whole_up(-figure)
}

impl Band {
    /// All figures.
    pub const ANY: Self = Self::new(f64::NEG_INFINITY, f64::INFINITY);

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

    /// From its ends, of which one that is `None` is open.
    pub fn of((low, high): (Option<f64>, Option<f64>)) -> Self {
        Self::new(low.unwrap_or(f64::NEG_INFINITY), high.unwrap_or(f64::INFINITY))
    }

    /// The lowest figure; `None` where the range is open below.
    pub fn low_end(self) -> Option<f64> {
        self.low.is_finite().then_some(self.low)
    }

    /// The highest figure; `None` where the range is open above.
    pub fn high_end(self) -> Option<f64> {
        self.high.is_finite().then_some(self.high)
    }

    /// The same with the other end where one is open.
    #[must_use]
    pub fn closed(self) -> Self {
        let (low, high) = (self.low_end(), self.high_end());
        Self { low: low.or(high).unwrap_or(self.low), high: high.or(low).unwrap_or(self.high) }
    }

    /// The range itself, where neither end is open.
    pub fn bounded(self) -> Option<Self> {
        (self.low.is_finite() && self.high.is_finite()).then_some(self)
    }

    /// Whether it is a single figure, the last digit aside.
    pub fn is_single(&self) -> bool {
        self.bounded().is_some_and(|own| !above(own.high, own.low))
    }

    /// Whether a figure lies in the range, ends included.
    pub fn contains(&self, figure: f64) -> bool {
        self.low <= figure && figure <= self.high
    }

    /// Whether the whole of `other` lies in the range.
    pub fn covers(&self, other: Self) -> bool {
        self.low <= other.low && other.high <= self.high
    }

    /// Which side of a limit it leaves; an open end leaves none.
    pub fn outside(self, limit: Self) -> Outside {
        Outside {
            below: self.low_end().is_some_and(|low| below(low, limit.low)),
            above: self.high_end().is_some_and(|high| above(high, limit.high)),
        }
    }

    /// How many times it lies beyond a limit, under it or over it, the last digit aside; an open end lies beyond none.
    pub fn times_beyond(self, limit: Self) -> f64 {
        let below = self.low_end().map_or(0.0, |low| limit.low / low);
        let above = self.high_end().map_or(0.0, |high| high / limit.high);
        below.max(above) * (1.0 - SLACK)
    }

    /// Whether one of its ends lies more than so many times beyond that of a limit; an open end does not.
    pub fn is_past(self, limit: Self, times: f64) -> bool {
        self.low_end().is_some_and(|low| low * times < limit.low)
            || self.high_end().is_some_and(|high| high > limit.high * times)
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

    /// Both ends by a formula that rises.
    #[must_use]
    pub fn map(self, of: impl Fn(f64) -> f64) -> Self {
        Self { low: of(self.low), high: of(self.high) }
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

    #[test]
    fn an_open_end_leaves_nothing_and_a_hair_is_inside() {
        let limit = Band::new(2.0, 4.0);
        let sides = |own: Band| (own.outside(limit).below, own.outside(limit).above);
        assert_eq!(sides(Band::at_least(3.0)), (false, false));
        assert_eq!(sides(Band::at_most(1.0)), (false, false));
        assert_eq!(sides(Band::at_most(4.1)), (false, true));
        assert_eq!(sides(Band::new(1.9, 4.1)), (true, true));
        assert_eq!(sides(Band::new(2.0 - 1e-12, 4.0 + 1e-12)), (false, false));
        assert_eq!((Band::at_most(4.0).closed(), Band::at_least(2.0).closed()), (Band::at(4.0), Band::at(2.0)));
    }

    #[test]
    fn nothing_lies_beyond_any_measure_under_a_limit_and_an_open_end_beyond_none() {
        let limit = Band::new(2.0, 4.0);
        assert!(Band::at(0.0).times_beyond(limit).is_infinite());
        assert!(Band::at_least(4.0).times_beyond(limit) < 1.0 && Band::at_most(2.0).times_beyond(limit) < 1.0);
        assert!((Band::at_least(1.0).times_beyond(limit) - 2.0).abs() < 1e-6);
        // Without a lower limit nothing is too low.
        assert!(Band::at(8.0).times_beyond(Band::at_most(4.0)) > 1.9);
        assert!(Band::at(0.0).times_beyond(Band::at_most(4.0)) <= 0.0);
    }
}
