//! Checks that every formula makes of what it is given, and of what it gives.

use crate::Result;
use crate::band::whole_up;
use crate::error::{CalcError, Must};

/// The name of an argument in the trade's words, and its unit.
#[derive(Clone, Copy)]
pub(crate) struct Argument(pub(crate) &'static str, pub(crate) &'static str);

impl Argument {
    pub(crate) fn refuse(self, value: f64, must: Must) -> CalcError {
        CalcError::OutOfDomain { argument: self.0, value, unit: self.1, must }
    }

    pub(crate) fn finite(self, value: f64) -> Result<f64> {
        if value.is_finite() { Ok(value) } else { Err(CalcError::NotFinite { argument: self.0 }) }
    }

    pub(crate) fn exceeds(self, value: f64, limit: f64) -> Result<f64> {
        if self.finite(value)? > limit { Ok(value) } else { Err(self.refuse(value, Must::Exceed(limit))) }
    }

    pub(crate) fn reaches(self, value: f64, limit: f64) -> Result<f64> {
        if self.finite(value)? >= limit { Ok(value) } else { Err(self.refuse(value, Must::Reach(limit))) }
    }

    pub(crate) fn positive(self, value: f64) -> Result<f64> {
        self.exceeds(value, 0.0)
    }

    pub(crate) fn not_negative(self, value: f64) -> Result<f64> {
        self.reaches(value, 0.0)
    }

    pub(crate) fn below(self, value: f64, limit: f64) -> Result<f64> {
        if self.finite(value)? < limit { Ok(value) } else { Err(self.refuse(value, Must::StayBelow(limit))) }
    }

    pub(crate) fn within(self, value: f64, limit: f64) -> Result<f64> {
        if self.finite(value)? <= limit { Ok(value) } else { Err(self.refuse(value, Must::StayWithin(limit))) }
    }

    /// A share of a whole that must not be nothing: over 0, up to 1.
    pub(crate) fn share(self, value: f64) -> Result<f64> {
        self.within(self.positive(value)?, 1.0)
    }

    /// A share of a whole that may be nothing: 0 to 1.
    pub(crate) fn share_or_none(self, value: f64) -> Result<f64> {
        self.within(self.not_negative(value)?, 1.0)
    }

    /// A temperature above absolute zero.
    pub(crate) fn temperature(self, value: f64) -> Result<f64> {
        self.reaches(value, ABSOLUTE_ZERO_C)
    }
}

/// Absolute zero, °C (the definition of the Celsius scale).
pub(crate) const ABSOLUTE_ZERO_C: f64 = -273.15;

/// The result, unless the arithmetic ran out of range.
pub(crate) fn result(name: &'static str, value: f64) -> Result<f64> {
    if value.is_finite() { Ok(value) } else { Err(CalcError::TooLarge { result: name }) }
}

/// The whole number at or above a value, a hair of rounding aside; exact up to 2^53.
pub(crate) fn round_up(name: &'static str, value: f64) -> Result<u64> {
    const MOST: f64 = 9_007_199_254_740_992.0;
    if !value.is_finite() || value > MOST {
        return Err(CalcError::TooLarge { result: name });
    }
    let whole = whole_up(value).max(0.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, from 0 to 2^53")]
    let count = whole as u64;
    Ok(count)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_up_forgives_a_hair_and_refuses_what_no_count_can_be() {
        assert_eq!(round_up("count", 3.0 + 1e-12), Ok(3));
        assert_eq!(round_up("count", 3.001), Ok(4));
        assert_eq!(round_up("count", 0.0), Ok(0));
        assert_eq!(round_up("count", f64::INFINITY), Err(CalcError::TooLarge { result: "count" }));
        assert_eq!(round_up("count", f64::NAN), Err(CalcError::TooLarge { result: "count" }));
    }
}
