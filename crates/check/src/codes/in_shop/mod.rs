//! Checks of a procedure against the welders of a shop and who coordinates them, one file each, and the list of them.

use crate::rule::Rule;
use crate::subject::InShop;

mod coordinator_below_class;
mod welder_not_qualified;
mod welder_qualification_lapses;

/// Every check of a procedure against a shop's welders, by name.
pub const RULES: &[&Rule<InShop>] =
    &[&coordinator_below_class::RULE, &welder_not_qualified::RULE, &welder_qualification_lapses::RULE];
