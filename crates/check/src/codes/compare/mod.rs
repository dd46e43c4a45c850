//! A procedure held against the ranges that its test records qualify: the checks, one file each, and the list of them.
//!
//! - `against.rs`: the procedure beside its records; `stated.rs`: what it states for a variable; `binding.rs`: which ranges
//!   bind it there.

use crate::rule::Rule;

mod against;
mod binding;
mod outside_qualified_range;
mod process_not_tested;
mod qualified_variable_not_stated;
mod record_of_another_condition;
mod stated;
mod toughness_not_tested;

pub use against::{AgainstRecords, AgainstView};

/// Every check of a procedure against test records, by name.
pub const RULES: &[&Rule<AgainstRecords>] = &[
    &outside_qualified_range::RULE,
    &process_not_tested::RULE,
    &qualified_variable_not_stated::RULE,
    &record_of_another_condition::RULE,
    &toughness_not_tested::RULE,
];
