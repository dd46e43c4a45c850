//! What follows from ranges: a procedure states most values from low to high, and so must what is reckoned from them.

use std::iter::Sum;
use std::ops::Add;

use crate::band::{Band, SLACK};
use crate::error::Result;

impl Band {
    /// The range of what rises or falls with this one all the way, of a formula that may refuse a value; its ends in order.
    pub fn try_map(self, of: impl Fn(f64) -> Result<f64>) -> Result<Self> {
        let (one, two) = (of(self.low)?, of(self.high)?);
        Ok(Self::new(one.min(two), one.max(two)))
    }

    /// A formula at the low end, the middle and the high end.
    pub fn spread(self, of: impl Fn(f64) -> Result<f64>) -> Result<Spread> {
        let ends = self.try_map(&of)?;
        Ok(Spread { low: ends.low, middle: of(self.middle())?, high: ends.high })
    }
}

/// What follows from ranges: the least, what the middles give, and the most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// The least.
    pub low: f64,
    /// What the middle of every range gives.
    pub middle: f64,
    /// The most.
    pub high: f64,
}

impl Spread {
    /// Nothing at all.
    pub const NOTHING: Self = Self::exactly(0.0);

    /// A figure that follows from single values.
    pub const fn exactly(value: f64) -> Self {
        Self { low: value, middle: value, high: value }
    }

    /// What rises with some ranges and falls with others.
    pub fn of<const N: usize, const M: usize, E>(
        rising: [Band; N],
        falling: [Band; M],
        of: impl Fn([f64; N], [f64; M]) -> std::result::Result<f64, E>,
    ) -> std::result::Result<Self, E> {
        Ok(Self {
            low: of(rising.map(|own| own.low), falling.map(|own| own.high))?,
            middle: of(rising.map(|own| own.middle()), falling.map(|own| own.middle()))?,
            high: of(rising.map(|own| own.high), falling.map(|own| own.low))?,
        })
    }

    /// What rises with this, of a formula that may refuse a value.
    pub fn try_map<E>(self, of: impl Fn(f64) -> std::result::Result<f64, E>) -> std::result::Result<Self, E> {
        Ok(Self { low: of(self.low)?, middle: of(self.middle)?, high: of(self.high)? })
    }

    /// What rises with this.
    #[must_use]
    pub fn map(self, of: impl Fn(f64) -> f64) -> Self {
        Self { low: of(self.low), middle: of(self.middle), high: of(self.high) }
    }

    /// So many times as much.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        self.map(|value| value * factor)
    }

    /// Whether it is a single figure, but for the rounding of a sum.
    pub fn is_single(self) -> bool {
        (self.high - self.low).abs() <= SLACK * self.high.abs()
    }
}

impl Add for Spread {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self { low: self.low + other.low, middle: self.middle + other.middle, high: self.high + other.high }
    }
}

impl Sum for Spread {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::NOTHING, Self::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn falling_quantities_come_out_in_order() {
        let range = Band::new(2.0, 4.0);
        assert_eq!(range.try_map(|value| Ok(8.0 / value)), Ok(Band::new(2.0, 4.0)));
        let spread = range.spread(|value| Ok(-value)).unwrap();
        assert_eq!(spread, Spread { low: -4.0, middle: -3.0, high: -2.0 });
    }

    #[test]
    fn what_falls_with_a_range_is_least_at_its_high_end() {
        let (volts, speed) = (Band::new(20.0, 22.0), Band::new(2.0, 4.0));
        let spread = Spread::of([volts], [speed], |[volts], [speed]| Result::Ok(volts / speed)).unwrap();
        assert_eq!(spread, Spread { low: 5.0, middle: 7.0, high: 11.0 });
        assert!(!spread.is_single() && Spread::exactly(7.0).is_single() && Spread::NOTHING.is_single());
        // A sum of tenths is no binary figure.
        assert!(Spread { low: 0.1 + 0.2, middle: 0.3, high: 0.3 }.is_single());
        let whole: Spread = [spread, spread.times(2.0)].into_iter().sum();
        assert_eq!(whole, Spread { low: 15.0, middle: 21.0, high: 33.0 });
    }
}
