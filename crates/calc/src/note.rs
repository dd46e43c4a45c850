//! What must be said beside a result: a value outside a formula's validity, or a weakness of the figures.

use std::fmt;

use crate::band::Band;
use crate::number::{Short, UnitAfter};

/// Something to say beside a result.
#[derive(Debug, Clone, PartialEq)]
pub enum Note {
    /// A value lies outside what the formula is stated to hold for.
    Outside {
        /// The quantity.
        argument: &'static str,
        /// Its value.
        value: f64,
        /// Unit; empty for a bare number.
        unit: &'static str,
        /// Where the formula is stated to hold.
        holds: Band,
    },
    /// Anything else, as a sentence without its full stop.
    Remark(&'static str),
}

impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Remark(text) => f.write_str(text),
            Self::Outside { argument, value, unit, holds } => {
                let unit = UnitAfter(unit);
                write!(f, "{argument} is {}{unit}, the formula holds ", Short(value))?;
                match (holds.low_end(), holds.high_end()) {
                    (Some(low), Some(high)) => write!(f, "from {} to {}{unit}", Short(low), Short(high)),
                    (Some(low), None) => write!(f, "from {}{unit}", Short(low)),
                    (None, Some(high)) => write!(f, "up to {}{unit}", Short(high)),
                    (None, None) => f.write_str("nowhere"),
                }
            }
        }
    }
}

/// A result with its notes; no notes where the formula holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Noted<T> {
    /// The result.
    pub value: T,
    /// What must be said beside it.
    pub notes: Vec<Note>,
}

/// A range in which a formula is stated to hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Validity {
    /// The quantity.
    pub argument: &'static str,
    /// Unit; empty for a bare number.
    pub unit: &'static str,
    /// Where it holds.
    pub holds: Band,
}

impl Validity {
    /// A note where the value lies outside; a hair of rounding is inside.
    pub fn note(&self, value: f64) -> Option<Note> {
        let Self { argument, unit, holds } = *self;
        Band::at(value).outside(holds).either().then_some(Note::Outside { argument, value, unit, holds })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notes_read_as_sentences() {
        let range = Validity { argument: "thickness", unit: "mm", holds: Band::new(10.0, 90.0) };
        assert_eq!(range.note(8.25).unwrap().to_string(), "thickness is 8.25 mm, the formula holds from 10 to 90 mm");
        assert_eq!(range.note(10.0), None);
        assert_eq!(range.note(90.0 + 1e-12), None);
        assert!(range.note(90.1).is_some());
    }
}
