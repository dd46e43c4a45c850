//! Checks of the document: what it states at all, its dates, revisions, conditions, records and deviations.

use crate::rule::Rule;

mod acceptance_below_class;
mod acceptance_missing;
mod approval_missing;
mod condition_undeclared;
mod conditions_leave_gap;
mod conditions_overlap;
pub mod date_in_future;
pub(crate) mod deviation_without_finding;
pub(crate) mod deviation_without_reason;
mod examination_extent_impossible;
pub mod issued_content_changed;
pub(crate) mod not_stated;
mod qualification_level_unknown;
mod revision_dates_out_of_order;
mod revision_history_mismatch;
mod route_not_open_to_class;
mod route_not_open_to_process;
pub(crate) mod run_numbers_overlap;
pub(crate) mod runs_missing;
mod test_record_missing;

/// Those that look at one condition and one choice at a time, by name.
pub(super) const RULES: &[&Rule] = &[
    &acceptance_below_class::RULE,
    &acceptance_missing::RULE,
    &approval_missing::RULE,
    &condition_undeclared::RULE,
    &conditions_overlap::RULE,
    &date_in_future::RULE,
    &deviation_without_finding::RULE,
    &deviation_without_reason::RULE,
    &examination_extent_impossible::RULE,
    &issued_content_changed::RULE,
    &not_stated::RULE,
    &qualification_level_unknown::RULE,
    &revision_dates_out_of_order::RULE,
    &revision_history_mismatch::RULE,
    &route_not_open_to_class::RULE,
    &route_not_open_to_process::RULE,
    &run_numbers_overlap::RULE,
    &runs_missing::RULE,
    &test_record_missing::RULE,
];

/// Those that look at the conditions of a document together, and so also at what each condition takes the place of.
pub(crate) const OF_CONDITIONS: &[&Rule] = &[&conditions_leave_gap::RULE];
