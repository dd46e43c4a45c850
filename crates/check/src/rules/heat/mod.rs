//! Checks of heat: what a run brings in, preheat, interpass, cooling and treatment.

use crate::rule::Rule;

mod cooling_time_outside_window;
mod heat_input_contradiction;
mod heat_input_too_high;
mod heat_input_too_low;
mod heat_of_joint;
pub(crate) mod heat_too_little_for_joint;
pub mod heat_too_much_for_joint;
pub(crate) mod heat_treatment_harms_metal;
pub(crate) mod heat_treatment_missing;
mod heat_treatment_temperature_unusual;
mod input;
mod interpass_above_usual;
pub(crate) mod interpass_below_least;
mod interpass_below_preheat;
mod interpass_missing;
pub(crate) mod preheat_below_needed;
mod preheat_maintenance_outside_range;
mod preheat_too_high;
#[macro_use]
mod treatment;
mod treatment_missing_under_code;
mod treatment_outside_code;

/// They, by name.
pub(super) const RULES: &[&Rule] = &[
    &cooling_time_outside_window::RULE,
    &heat_input_contradiction::RULE,
    &heat_input_too_high::RULE,
    &heat_input_too_low::RULE,
    &heat_too_little_for_joint::RULE,
    &heat_too_much_for_joint::RULE,
    &heat_treatment_harms_metal::RULE,
    &heat_treatment_missing::RULE,
    &heat_treatment_temperature_unusual::RULE,
    &interpass_above_usual::RULE,
    &interpass_below_least::RULE,
    &interpass_below_preheat::RULE,
    &interpass_missing::RULE,
    &preheat_below_needed::RULE,
    &preheat_maintenance_outside_range::RULE,
    &preheat_too_high::RULE,
    &treatment_missing_under_code::RULE,
    &treatment_outside_code::RULE,
];
