//! Reads the text of a quantity, or says in words why it is none.

use super::error::ParseError;
use super::exact::Exact;
use super::extent::Extent;
use super::parse::parse;
use super::unit::{Dimension, Unit};

/// Reads `text` as a value or range of `dimension`: extent in base units, and the unit that was written.
pub(super) fn read(dimension: &'static Dimension, text: &str) -> Result<(Extent<Exact>, &'static Unit), ParseError> {
    parse(dimension, text).map_err(|fault| ParseError::new(Some(dimension), text, fault))
}
