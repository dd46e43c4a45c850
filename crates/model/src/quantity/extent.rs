//! A value, a range, or a limit on one side.

/// A value, a range, or a limit on one side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Extent<Q> {
    /// One value.
    Single(Q),
    /// From low to high.
    Between(Q, Q),
    /// This value or more.
    Minimum(Q),
    /// This value or less.
    Maximum(Q),
}

impl<Q: Copy> Extent<Q> {
    /// The lowest value; `None` where it is open below.
    pub fn low(&self) -> Option<Q> {
        match *self {
            Self::Single(value) | Self::Between(value, _) | Self::Minimum(value) => Some(value),
            Self::Maximum(_) => None,
        }
    }

    /// The highest value; `None` where it is open above.
    pub fn high(&self) -> Option<Q> {
        match *self {
            Self::Single(value) | Self::Between(_, value) | Self::Maximum(value) => Some(value),
            Self::Minimum(_) => None,
        }
    }

    /// The same with every value changed.
    pub(super) fn map<T>(self, change: impl Fn(Q) -> T) -> Extent<T> {
        match self {
            Self::Single(value) => Extent::Single(change(value)),
            Self::Between(low, high) => Extent::Between(change(low), change(high)),
            Self::Minimum(value) => Extent::Minimum(change(value)),
            Self::Maximum(value) => Extent::Maximum(change(value)),
        }
    }

    /// The same with every value changed; `None` where one change fails.
    pub(super) fn try_map<T>(self, change: impl Fn(Q) -> Option<T>) -> Option<Extent<T>> {
        Some(match self {
            Self::Single(value) => Extent::Single(change(value)?),
            Self::Between(low, high) => Extent::Between(change(low)?, change(high)?),
            Self::Minimum(value) => Extent::Minimum(change(value)?),
            Self::Maximum(value) => Extent::Maximum(change(value)?),
        })
    }
}
