//! AWS D1.6: stainless steel structures; its scope and its prequalified processes are held, the rest wants figures.

use crate::codes::code::Code;

/// The code.
pub(super) struct AwsD16;

impl Code for AwsD16 {
    fn word(&self) -> &'static str {
        "aws-d1.6"
    }
}
