//! A procedure held against the ranges that its test records qualify: the checks, one file each, and the list of them.
//!
//! - `against.rs`: the procedure beside its records; `stated.rs`: what it states for a variable; `binding.rs`: which ranges
//!   bind it there.

use crate::rule::Rule;

mod against;
mod binding;
mod no_record_covers_whole;
mod outside_qualified_range;
mod procedure_before_coupon;
mod process_not_tested;
mod qualified_variable_not_stated;
mod record_not_in_force;
mod record_of_another_condition;
mod record_of_another_edition;
mod record_of_lower_level;
mod record_qualifies_nothing;
pub(super) mod stated;
mod toughness_not_tested;

pub use against::{AgainstRecords, AgainstView};

/// Every check of a procedure against test records, by name.
pub const RULES: &[&Rule<AgainstRecords>] = &[
    &no_record_covers_whole::RULE,
    &outside_qualified_range::RULE,
    &procedure_before_coupon::RULE,
    &process_not_tested::RULE,
    &qualified_variable_not_stated::RULE,
    &record_not_in_force::RULE,
    &record_of_another_condition::RULE,
    &record_of_another_edition::RULE,
    &record_of_lower_level::RULE,
    &record_qualifies_nothing::RULE,
    &toughness_not_tested::RULE,
];
