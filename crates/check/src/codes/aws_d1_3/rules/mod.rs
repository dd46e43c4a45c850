//! AWS D1.3: checks that hold under this code alone, one file each.

use crate::rule::Rule;

mod arc_spot_outside_code;

/// They, by name.
pub(crate) const RULES: &[&Rule] = &[&arc_spot_outside_code::RULE];
