//! Exact numbers: ratios of integers, with every operation checked.

use num_rational::Ratio;
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, CheckedSub};

use super::unit::Unit;

/// An exact rational number; `3/32 in` is exactly `381/160 mm`.
///
/// Operations give `None` where the result does not fit, never a wrong number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Exact(Ratio<i128>);

impl Exact {
    /// Zero.
    pub const ZERO: Self = Self(Ratio::new_raw(0, 1));

    /// `numerator / denominator` in lowest terms; `None` for a denominator below one.
    pub fn new(numerator: i128, denominator: i128) -> Option<Self> {
        if denominator < 1 || numerator == i128::MIN {
            return None;
        }
        // The wide reduction is several times slower, and ordinary numbers do not need it.
        Some(Self(match (i64::try_from(numerator), i64::try_from(denominator)) {
            _ if denominator == 1 => Ratio::new_raw(numerator, 1),
            (Ok(numerator), Ok(denominator)) if numerator > i64::MIN => {
                let (numerator, denominator) = Ratio::new(numerator, denominator).into_raw();
                Ratio::new_raw(numerator.into(), denominator.into())
            }
            _ => Ratio::new(numerator, denominator),
        }))
    }

    /// The decimal number that a figure prints as, to 15 significant digits.
    ///
    /// `2.4` gives exactly `12/5`. `None` for NaN, the infinities, and sizes from 10^15 up.
    pub fn from_f64(figure: f64) -> Option<Self> {
        /// Whole numbers below it are exact in `f64`.
        const WHOLE: f64 = 9_007_199_254_740_992.0;
        if !figure.is_finite() || figure.abs() >= 1e15 {
            return None;
        }
        let mut power: i128 = 1;
        for _ in 0..=15 {
            let scale = to_f64(power);
            let scaled = (figure * scale).round();
            if scaled.abs() >= WHOLE {
                break;
            }
            // Division is correctly rounded: equal means that the figure is this decimal.
            #[expect(clippy::float_cmp, reason = "asks for the very same figure")]
            if scaled / scale == figure {
                return Self::new(to_i128(scaled), power);
            }
            power *= 10;
        }
        let (mut power, mut scale) = (1_i128, 1.0_f64);
        while (figure * scale).abs() < 1e14 && power < 1_000_000_000_000_000_000 {
            power *= 10;
            scale *= 10.0;
        }
        Self::new(to_i128((figure * scale).round()), power)
    }

    /// The figure nearest to it.
    pub fn to_f64(self) -> f64 {
        to_f64(*self.0.numer()) / to_f64(*self.0.denom())
    }

    /// The numerator in lowest terms; it has the sign.
    pub fn numerator(self) -> i128 {
        *self.0.numer()
    }

    /// The denominator in lowest terms, at least one.
    pub fn denominator(self) -> i128 {
        *self.0.denom()
    }

    /// Whether it lies below zero.
    pub fn is_negative(self) -> bool {
        self.numerator() < 0
    }

    /// The sum.
    pub fn checked_add(self, other: Self) -> Option<Self> {
        self.0.checked_add(&other.0).map(Self)
    }

    /// The difference.
    pub fn checked_sub(self, other: Self) -> Option<Self> {
        self.0.checked_sub(&other.0).map(Self)
    }

    /// The product.
    pub fn checked_mul(self, other: Self) -> Option<Self> {
        self.0.checked_mul(&other.0).map(Self)
    }

    /// The quotient; `None` for a divisor of zero.
    pub fn checked_div(self, other: Self) -> Option<Self> {
        self.0.checked_div(&other.0).map(Self)
    }

    /// A figure in `unit`, in the base unit of its quantity.
    pub fn from_unit(figure: f64, unit: &Unit) -> Option<Self> {
        Self::from_f64(figure)?.into_base(unit)
    }

    /// The number of base units, where `self` counts `unit`.
    pub fn into_base(self, unit: &Unit) -> Option<Self> {
        into_base(self.numerator(), self.denominator(), unit).or_else(|| {
            // Cancels before it multiplies: slower, and fits wherever the result does.
            let offset = Self::new(unit.offset.0, unit.offset.1)?;
            self.checked_add(offset)?.checked_mul(Self::new(unit.factor.0, unit.factor.1)?)
        })
    }

    /// The number of `unit`, where `self` counts base units.
    pub fn into_unit(self, unit: &Unit) -> Option<Self> {
        if unit.is_base() {
            return Some(self);
        }
        let factor = Self::new(unit.factor.0, unit.factor.1)?;
        let offset = Self::new(unit.offset.0, unit.offset.1)?;
        self.checked_div(factor)?.checked_sub(offset)
    }

    /// The number of `unit` as a figure, where `self` counts base units.
    pub fn in_unit(self, unit: &Unit) -> f64 {
        match self.into_unit(unit) {
            Some(exact) => exact.to_f64(),
            None => {
                self.to_f64() * to_f64(unit.factor.1) / to_f64(unit.factor.0)
                    - to_f64(unit.offset.0) / to_f64(unit.offset.1)
            }
        }
    }

    /// Decimal text with `decimals` places, halves rounded away from zero.
    pub fn decimal(self, decimals: u32) -> String {
        let rounded = 10_i128.checked_pow(decimals).and_then(|power| {
            let twice = self.numerator().checked_abs()?.checked_mul(power)?.checked_mul(2)?;
            Some((twice.checked_add(self.denominator())? / self.denominator().checked_mul(2)?, power))
        });
        let Some((rounded, power)) = rounded else {
            return format!("{:.*}", decimals as usize, self.to_f64());
        };
        let sign = if self.is_negative() && rounded != 0 { "-" } else { "" };
        if decimals == 0 {
            format!("{sign}{rounded}")
        } else {
            format!("{sign}{}.{:0width$}", rounded / power, rounded % power, width = decimals as usize)
        }
    }

    /// The nearest number of `decimals` places that lies at or above it (`up`), else at or below it; `None` where it is too
    /// great.
    pub(super) fn toward(self, decimals: u32, up: bool) -> Option<Self> {
        let power = 10_i128.checked_pow(decimals)?;
        let scaled = self.0.checked_mul(&Ratio::from_integer(power))?;
        let whole = if up { scaled.ceil() } else { scaled.floor() };
        Self::new(whole.to_integer(), power)
    }

    /// How many decimals write it exactly, if at most `most` do.
    pub fn decimals(self, most: u32) -> Option<u32> {
        let mut power: i128 = 1;
        for decimals in 0..=most {
            if power % self.denominator() == 0 {
                return Some(decimals);
            }
            power = power.checked_mul(10)?;
        }
        None
    }
}

/// `(numerator / denominator + offset) * factor` with one reduction; the caller keeps the denominator above zero.
pub(super) fn into_base(numerator: i128, denominator: i128, unit: &Unit) -> Option<Exact> {
    let (mut numerator, mut denominator) = (numerator, denominator);
    if unit.offset.0 != 0 {
        numerator = numerator.checked_mul(unit.offset.1)?.checked_add(unit.offset.0.checked_mul(denominator)?)?;
        denominator = denominator.checked_mul(unit.offset.1)?;
    }
    Exact::new(numerator.checked_mul(unit.factor.0)?, denominator.checked_mul(unit.factor.1)?)
}

#[expect(clippy::cast_precision_loss, reason = "the nearest figure is what is asked for")]
fn to_f64(whole: i128) -> f64 {
    whole as f64
}

#[expect(clippy::cast_possible_truncation, reason = "whole and below 10^33: cannot truncate")]
fn to_i128(whole: f64) -> i128 {
    whole as i128
}
