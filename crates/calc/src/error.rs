//! What a formula refuses.

use thiserror::Error;

/// An argument that no formula can take.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CalcError {
    /// Not a number above zero.
    #[error("{name} must be a number above zero, not {value}")]
    NotPositive {
        /// Name of the argument.
        name: &'static str,
        /// What was given.
        value: f64,
    },
}

/// The value, if it is finite and above zero.
pub(crate) fn positive(name: &'static str, value: f64) -> Result<f64, CalcError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(CalcError::NotPositive { name, value }) }
}
