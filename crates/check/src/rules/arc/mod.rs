//! Checks of the arc: current, voltage, pulses, slopes, speed and angles of any process.

use crate::rule::Rule;

mod ac_frequency_outside_range;
mod ac_settings_missing;
mod bead_too_wide;
mod current_implausible;
mod current_unsuited_to_thickness;
mod down_slope_missing;
mod electrode_negative_outside_range;
mod filler_angle_outside_usual;
pub(crate) mod key_of_another_process;
mod pedal_with_fixed_current;
pub(crate) mod polarity_taken;
pub(crate) mod polarity_wrong_for_metal;
pub(crate) mod process_not_for_position;
pub(crate) mod process_unknown;
mod pulse_background_not_below_peak;
mod pulse_beside_other_transfer;
mod pulse_frequency_implausible;
mod pulse_peak_time_implausible;
mod range_too_wide;
mod scratch_start_unsuited;
mod setting_missing;
mod slope_outside_usual;
mod torch_direction_unusual;
mod travel_angle_outside_usual;
mod travel_speed_implausible;
mod travel_speed_unsuited_to_joint;
mod voltage_outside_range;
mod voltage_unsuited_to_current;
mod work_angle_outside_usual;

/// They, by name.
pub(super) const RULES: &[&Rule] = &[
    &ac_frequency_outside_range::RULE,
    &ac_settings_missing::RULE,
    &bead_too_wide::RULE,
    &current_implausible::RULE,
    &current_unsuited_to_thickness::RULE,
    &down_slope_missing::RULE,
    &electrode_negative_outside_range::RULE,
    &filler_angle_outside_usual::RULE,
    &key_of_another_process::RULE,
    &pedal_with_fixed_current::RULE,
    &polarity_taken::RULE,
    &polarity_wrong_for_metal::RULE,
    &process_not_for_position::RULE,
    &process_unknown::RULE,
    &pulse_background_not_below_peak::RULE,
    &pulse_beside_other_transfer::RULE,
    &pulse_frequency_implausible::RULE,
    &pulse_peak_time_implausible::RULE,
    &range_too_wide::RULE,
    &scratch_start_unsuited::RULE,
    &setting_missing::RULE,
    &slope_outside_usual::RULE,
    &torch_direction_unusual::RULE,
    &travel_angle_outside_usual::RULE,
    &travel_speed_implausible::RULE,
    &travel_speed_unsuited_to_joint::RULE,
    &voltage_outside_range::RULE,
    &voltage_unsuited_to_current::RULE,
    &work_angle_outside_usual::RULE,
];
