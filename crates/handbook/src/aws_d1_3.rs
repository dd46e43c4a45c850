//! AWS D1.3: figures on sheet steel.

use crate::rule::{self, Rule};
use crate::table::{named, table};

table!(RULES, rules, "aws-d1-3-rules", Rule);
named!("aws-d1-3-rules");

/// The rule with this name: `spot-diameter`, `spot-sheet` or `spot-without-washer`.
pub fn rule(name: &str) -> Option<&'static Rule> {
    rule::get(rules(), name)
}
