//! Checks of the fed wire and its flux.

use crate::rule::Rule;

mod contact_tip_too_far;
mod contact_tip_too_near;
mod contact_tip_unusual_under_flux;
mod cored_wire_current_outside_range;
mod cored_wire_feed_outside_range;
pub(crate) mod cored_wire_polarity_not_permitted;
pub(crate) mod cored_wire_position_not_permitted;
mod cored_wire_tip_distance_outside_range;
mod cored_wire_voltage_outside_range;
mod flux_drying_unusual;
mod flux_missing;
mod pipe_too_small_for_flux;
mod pulse_background_current_outside_range;
mod pulse_frequency_outside_range;
mod pulse_peak_current_outside_range;
pub(super) mod settings;
mod short_circuit_on_thick_plate;
mod single_pass_wire_in_several_runs;
mod spray_below_transition;
pub(crate) mod spray_out_of_position;
mod spray_with_too_little_argon;
pub(crate) mod wire_current_above_range;
mod wire_current_below_range;
mod wire_feed_above_range;
mod wire_feed_below_range;
mod wire_feed_contradicts_current;
mod wire_feed_contradicts_deposition;
mod wire_form_not_of_process;
pub(crate) mod wire_polarity_wrong;
mod wire_voltage_above_range;
mod wire_voltage_below_range;

/// They, by name.
pub(super) const RULES: &[&Rule] = &[
    &contact_tip_too_far::RULE,
    &contact_tip_too_near::RULE,
    &contact_tip_unusual_under_flux::RULE,
    &cored_wire_current_outside_range::RULE,
    &cored_wire_feed_outside_range::RULE,
    &cored_wire_polarity_not_permitted::RULE,
    &cored_wire_position_not_permitted::RULE,
    &cored_wire_tip_distance_outside_range::RULE,
    &cored_wire_voltage_outside_range::RULE,
    &flux_drying_unusual::RULE,
    &flux_missing::RULE,
    &pipe_too_small_for_flux::RULE,
    &pulse_background_current_outside_range::RULE,
    &pulse_frequency_outside_range::RULE,
    &pulse_peak_current_outside_range::RULE,
    &short_circuit_on_thick_plate::RULE,
    &single_pass_wire_in_several_runs::RULE,
    &spray_below_transition::RULE,
    &spray_out_of_position::RULE,
    &spray_with_too_little_argon::RULE,
    &wire_current_above_range::RULE,
    &wire_current_below_range::RULE,
    &wire_feed_above_range::RULE,
    &wire_feed_below_range::RULE,
    &wire_feed_contradicts_current::RULE,
    &wire_feed_contradicts_deposition::RULE,
    &wire_form_not_of_process::RULE,
    &wire_polarity_wrong::RULE,
    &wire_voltage_above_range::RULE,
    &wire_voltage_below_range::RULE,
];
