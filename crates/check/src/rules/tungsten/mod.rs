//! Checks of the tungsten electrode, its torch and its rod.

use crate::rule::Rule;

mod nozzle_too_small_for_tungsten;
pub(super) mod of_run;
mod rod_unusual_for_current;
mod stickout_too_long;
mod thoriated_tungsten;
mod torch_current_above_rating;
mod torch_size_unknown;
pub(crate) mod tungsten_current_above_range;
mod tungsten_current_below_range;
mod tungsten_diameter_not_made;
mod tungsten_tip_outside_usual;
mod tungsten_unsuited_to_current;

/// They, by name.
pub(super) const RULES: &[&Rule] = &[
    &nozzle_too_small_for_tungsten::RULE,
    &rod_unusual_for_current::RULE,
    &stickout_too_long::RULE,
    &thoriated_tungsten::RULE,
    &torch_current_above_rating::RULE,
    &torch_size_unknown::RULE,
    &tungsten_current_above_range::RULE,
    &tungsten_current_below_range::RULE,
    &tungsten_diameter_not_made::RULE,
    &tungsten_tip_outside_usual::RULE,
    &tungsten_unsuited_to_current::RULE,
];
