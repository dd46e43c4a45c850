//! AWS D1.2: aluminium structures; its scope alone is held, for want of figures.

use crate::codes::code::Code;

/// The code.
pub(super) struct AwsD12;

impl Code for AwsD12 {
    fn word(&self) -> &'static str {
        "aws-d1.2"
    }
}
