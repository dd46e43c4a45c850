//! AWS D1.3: structures of sheet steel; its scope and its arc spots are held, the rest wants figures.

pub(crate) mod rules;

use crate::codes::code::Code;

/// The code.
pub(super) struct AwsD13;

impl Code for AwsD13 {
    fn word(&self) -> &'static str {
        "aws-d1.3"
    }
}
