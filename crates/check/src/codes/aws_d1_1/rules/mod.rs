//! AWS D1.1: checks that hold under this code alone, one file each; `prequalified` is what those of Table 5.1 share,
//! `low_hydrogen` what those of covered electrodes do.

use crate::rule::Rule;

mod electrode_drying_outside_code;
mod electrode_exposure_too_long;
mod low_hydrogen;
mod prequalified;
mod prequalified_current_too_high;
mod prequalified_detail_contradicted;
mod prequalified_detail_unknown;
mod prequalified_electrode_too_large;
mod prequalified_filler_not_matching;
mod prequalified_fillet_pass_too_large;
mod prequalified_groove_unlisted;
mod prequalified_metal_unlisted;
mod prequalified_run_too_thick;

/// They, by name.
pub(crate) const RULES: &[&Rule] = &[
    &electrode_drying_outside_code::RULE,
    &electrode_exposure_too_long::RULE,
    &prequalified_current_too_high::RULE,
    &prequalified_detail_contradicted::RULE,
    &prequalified_detail_unknown::RULE,
    &prequalified_electrode_too_large::RULE,
    &prequalified_filler_not_matching::RULE,
    &prequalified_fillet_pass_too_large::RULE,
    &prequalified_groove_unlisted::RULE,
    &prequalified_metal_unlisted::RULE,
    &prequalified_run_too_thick::RULE,
];
