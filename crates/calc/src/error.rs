//! Why a formula refuses its arguments.

use std::fmt;

use crate::number::{Short, UnitAfter};

/// What a formula returns: its result, or which argument it refuses and why.
pub type Result<T> = std::result::Result<T, CalcError>;

/// Why a formula refuses its arguments; it names the argument in the trade's words.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CalcError {
    /// The argument is infinite or not a number.
    #[error("{argument} is not a finite number")]
    NotFinite {
        /// The argument.
        argument: &'static str,
    },
    /// The argument has a value that cannot be.
    #[error("{argument} is {}{}, must be {must}", Short(*value), UnitAfter(unit))]
    OutOfDomain {
        /// The argument.
        argument: &'static str,
        /// Its value.
        value: f64,
        /// Unit of the value; empty for a bare number.
        unit: &'static str,
        /// What it must be.
        must: Must,
    },
    /// Arguments that are each possible give a result beyond what can be computed.
    #[error("{result} is too large to compute from these values")]
    TooLarge {
        /// The result.
        result: &'static str,
    },
    /// The contents of a composition add up to more than the whole.
    #[error("composition adds up to {} %, must be at most 100 %", Short(*sum_pct))]
    OverWhole {
        /// The sum, %.
        sum_pct: f64,
    },
    /// A symbol that is no element of the list.
    #[error("{symbol:?} is no element of a composition")]
    UnknownElement {
        /// The symbol as written.
        symbol: String,
    },
    /// An element stated more than once.
    #[error("{element} is stated twice")]
    Repeated {
        /// The element's symbol.
        element: &'static str,
    },
    /// A part of a composition that is not written as `C=0.12`.
    #[error("{text:?} is not an element and its content, as in C=0.12")]
    Malformed {
        /// The part as written.
        text: String,
    },
    /// A word that names no member of a list.
    #[error("{text:?} is no {of}")]
    UnknownWord {
        /// The word as written.
        text: String,
        /// What was expected.
        of: &'static str,
    },
    /// A list that must not be empty.
    #[error("{argument} is empty")]
    Empty {
        /// The argument.
        argument: &'static str,
    },
}

/// What a refused argument must be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Must {
    /// Greater than this.
    Exceed(f64),
    /// This or more.
    Reach(f64),
    /// Less than this.
    StayBelow(f64),
    /// This or less.
    StayWithin(f64),
    /// Less than another argument.
    StayBelowOther(&'static str, f64),
    /// Another argument, or less.
    StayWithinOther(&'static str, f64),
}

impl fmt::Display for Must {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Exceed(limit) => write!(f, "greater than {}", Short(limit)),
            Self::Reach(limit) => write!(f, "{} or more", Short(limit)),
            Self::StayBelow(limit) => write!(f, "less than {}", Short(limit)),
            Self::StayWithin(limit) => write!(f, "{} or less", Short(limit)),
            Self::StayBelowOther(other, limit) => write!(f, "less than {other} ({})", Short(limit)),
            Self::StayWithinOther(other, limit) => write!(f, "no more than {other} ({})", Short(limit)),
        }
    }
}
