//! Checks of the covered electrode.

use crate::rule::Rule;

pub(crate) mod drying;
pub(crate) mod electrode_current_above_range;
mod electrode_current_below_range;
mod electrode_drying_missing;
mod electrode_drying_unusual;
pub(crate) mod electrode_polarity_not_permitted;
pub(crate) mod electrode_position_not_permitted;
mod electrode_too_large_for_position;
pub(crate) mod low_hydrogen_electrode_downhill;
pub(super) mod of_run;

/// They, by name.
pub(super) const RULES: &[&Rule] = &[
    &electrode_current_above_range::RULE,
    &electrode_current_below_range::RULE,
    &electrode_drying_missing::RULE,
    &electrode_drying_unusual::RULE,
    &electrode_polarity_not_permitted::RULE,
    &electrode_position_not_permitted::RULE,
    &electrode_too_large_for_position::RULE,
    &low_hydrogen_electrode_downhill::RULE,
];
