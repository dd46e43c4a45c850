//! The checks, one file each, and the list of them. To add one: copy a neighbour, and add its module and its line.
//!
//! What several checks need to find their limit stands in modules of their own: `bounds`, `contents`, `electrode`, `filling`,
//! `joints`, `metals`, `nozzle_flow`, `preparations`, `treatment`, `tungsten`, `wire`.

use std::sync::LazyLock;

use crate::codes::aws_d1_1::rules as aws_d1_1;
use crate::codes::aws_d1_3::rules as aws_d1_3;
use crate::rule::Rule;

mod ac_frequency_outside_range;
mod ac_settings_missing;
mod acceptance_below_class;
mod acceptance_missing;
pub(crate) mod active_gas_on_metal;
mod aluminium_without_filler;
mod approval_missing;
mod back_gouging_missing;
mod backing_contradiction;
pub(crate) mod backing_gas_active;
mod backing_gas_flow_outside_usual;
pub(crate) mod backing_gas_missing;
mod base_metal_taken;
pub mod base_metal_unknown;
mod bead_too_wide;
pub(crate) mod bounds;
pub(crate) mod carbon_equivalent_above_delivered;
mod cleaning_missing;
mod coating_not_removed;
mod code_does_not_cover_metal;
mod code_does_not_cover_thickness;
mod composition_not_of_steel;
mod composition_outside_specification;
mod condition_undeclared;
mod conditions_leave_gap;
mod conditions_overlap;
mod contact_tip_too_far;
mod contact_tip_too_near;
mod contact_tip_unusual_under_flux;
mod contents;
mod contour_contradiction;
mod cooling_time_outside_window;
mod cored_wire_current_outside_range;
mod cored_wire_feed_outside_range;
pub(crate) mod cored_wire_polarity_not_permitted;
pub(crate) mod cored_wire_position_not_permitted;
mod cored_wire_tip_distance_outside_range;
mod cored_wire_voltage_outside_range;
mod current_implausible;
mod current_unsuited_to_thickness;
pub mod date_in_future;
pub(crate) mod deviation_without_finding;
pub(crate) mod deviation_without_reason;
mod down_slope_missing;
mod electrode;
pub(crate) mod electrode_current_above_range;
mod electrode_current_below_range;
mod electrode_drying_missing;
mod electrode_drying_unusual;
mod electrode_negative_outside_range;
pub(crate) mod electrode_polarity_not_permitted;
pub(crate) mod electrode_position_not_permitted;
mod electrode_too_large_for_position;
mod examination_extent_impossible;
mod filler_angle_outside_usual;
pub(crate) mod filler_carbon_above_grade;
mod filler_diameter_not_made;
pub(crate) mod filler_leaner_than_metal;
pub(crate) mod filler_undeclared;
pub mod filler_unknown;
pub(crate) mod filler_unsuited_to_metal;
mod filler_unusual_for_metal;
mod fillet_gap_too_wide;
mod fillet_leg_too_large;
mod fillet_leg_too_small;
mod filling;
mod flare_without_round_member;
mod flux_drying_unusual;
mod flux_missing;
mod gas_composition_incomplete;
mod gas_flow_too_high;
mod gas_flow_too_low;
pub(crate) mod gas_for_self_shielded_wire;
pub(crate) mod gas_not_of_process;
pub(crate) mod gas_not_of_wire_class;
mod heat_input_contradiction;
mod heat_input_too_high;
mod heat_input_too_low;
mod heat_of_joint;
pub(crate) mod heat_too_little_for_joint;
pub mod heat_too_much_for_joint;
pub(crate) mod heat_treatment_harms_metal;
pub(crate) mod heat_treatment_missing;
mod heat_treatment_temperature_unusual;
pub(crate) mod impact_colder_than_filler;
pub(crate) mod impact_colder_than_metal;
mod included_angle_outside_usual;
mod interpass_above_usual;
pub(crate) mod interpass_below_least;
mod interpass_below_preheat;
mod interpass_missing;
pub mod issued_content_changed;
mod joints;
pub(crate) mod key_of_another_process;
pub(crate) mod low_hydrogen_electrode_downhill;
pub(crate) mod metal_not_for_fusion;
mod metals;
pub(crate) mod not_stated;
mod nozzle_flow;
mod nozzle_too_small_for_tungsten;
pub(crate) mod outside_diameter_impossible;
mod pedal_with_fixed_current;
mod penetration_depth_missing;
mod pipe_position_on_plate;
mod pipe_too_small_for_flux;
pub(crate) mod polarity_taken;
pub(crate) mod polarity_wrong_for_metal;
pub(crate) mod position_not_of_weld;
mod post_flow_too_long;
mod post_flow_too_short;
mod pre_flow_too_short;
pub(crate) mod preheat_below_needed;
mod preheat_maintenance_outside_range;
mod preheat_too_high;
mod preparation_not_of_weld;
mod preparation_unusual_for_thickness;
mod preparations;
pub(crate) mod process_not_for_position;
pub(crate) mod process_unknown;
mod pulse_background_current_outside_range;
mod pulse_background_not_below_peak;
mod pulse_beside_other_transfer;
mod pulse_frequency_implausible;
mod pulse_frequency_outside_range;
mod pulse_peak_current_outside_range;
mod pulse_peak_time_implausible;
mod purge_oxygen_too_high;
mod purge_time_outside_usual;
mod qualification_level_unknown;
mod range_too_wide;
mod revision_dates_out_of_order;
mod revision_history_mismatch;
mod rod_unusual_for_current;
mod root_face_outside_usual;
mod root_gap_outside_usual;
mod root_gas_unsuited_to_metal;
mod root_reinforcement_contradiction;
pub(crate) mod root_run_missing;
mod route_not_open_to_class;
mod route_not_open_to_process;
pub(crate) mod run_numbers_overlap;
pub(crate) mod run_out_of_proportion;
pub(crate) mod runs_missing;
pub mod runs_overfill_joint;
mod runs_underfill_joint;
mod scratch_start_unsuited;
mod setting_missing;
mod shielding_gas_missing;
pub(crate) mod shielding_gas_not_inert;
mod short_circuit_on_thick_plate;
mod single_pass_wire_in_several_runs;
mod single_v_where_double_v_usual;
mod slope_outside_usual;
mod spot_weld_not_of_joint;
mod spray_below_transition;
pub(crate) mod spray_out_of_position;
mod spray_with_too_little_argon;
mod square_preparation_too_thick;
mod stickout_too_long;
mod tack_welds_missing;
mod test_record_missing;
mod thickness_outside_process;
mod thoriated_tungsten;
mod throat_contradicts_leg;
mod torch_current_above_rating;
mod torch_direction_unusual;
mod torch_size_unknown;
pub(crate) mod toughness_unreadable;
mod trailing_gas_flow_outside_usual;
pub(crate) mod trailing_gas_missing;
mod travel_angle_outside_usual;
mod travel_speed_implausible;
mod travel_speed_unsuited_to_joint;
#[macro_use]
mod treatment;
mod treatment_missing_under_code;
mod treatment_outside_code;
mod tungsten;
pub(crate) mod tungsten_current_above_range;
mod tungsten_current_below_range;
mod tungsten_diameter_not_made;
mod tungsten_tip_outside_usual;
mod tungsten_unsuited_to_current;
mod vertical_without_progression;
mod voltage_outside_range;
mod voltage_unsuited_to_current;
pub(crate) mod weld_metal_undermatching;
mod weld_size_missing;
pub(crate) mod wire;
pub(crate) mod wire_current_above_range;
mod wire_current_below_range;
mod wire_feed_above_range;
mod wire_feed_below_range;
mod wire_feed_contradicts_current;
mod wire_feed_contradicts_deposition;
mod wire_form_not_of_process;
mod wire_gas_flow_outside_range;
pub(crate) mod wire_polarity_wrong;
mod wire_voltage_above_range;
mod wire_voltage_below_range;
mod work_angle_outside_usual;

/// Those of them that look at the conditions of a document together, and so at what each condition takes the place of.
pub(crate) const OF_CONDITIONS: &[&Rule] = &[&conditions_leave_gap::RULE];

/// The others, which look at one condition and one choice at a time.
pub(crate) static OF_EACH: LazyLock<Vec<&Rule>> = LazyLock::new(|| {
    let together = |rule: &&Rule| OF_CONDITIONS.iter().any(|own| own.name == rule.name);
    RULES.iter().copied().filter(|rule| !together(rule)).collect()
});

/// Every check, by name.
pub const RULES: &[&Rule] = &[
    &ac_frequency_outside_range::RULE,
    &ac_settings_missing::RULE,
    &acceptance_below_class::RULE,
    &acceptance_missing::RULE,
    &active_gas_on_metal::RULE,
    &aluminium_without_filler::RULE,
    &approval_missing::RULE,
    &aws_d1_3::arc_spot_outside_code::RULE,
    &back_gouging_missing::RULE,
    &backing_contradiction::RULE,
    &backing_gas_active::RULE,
    &backing_gas_flow_outside_usual::RULE,
    &backing_gas_missing::RULE,
    &base_metal_taken::RULE,
    &base_metal_unknown::RULE,
    &bead_too_wide::RULE,
    &carbon_equivalent_above_delivered::RULE,
    &cleaning_missing::RULE,
    &coating_not_removed::RULE,
    &code_does_not_cover_metal::RULE,
    &code_does_not_cover_thickness::RULE,
    &composition_not_of_steel::RULE,
    &composition_outside_specification::RULE,
    &condition_undeclared::RULE,
    &conditions_leave_gap::RULE,
    &conditions_overlap::RULE,
    &contact_tip_too_far::RULE,
    &contact_tip_too_near::RULE,
    &contact_tip_unusual_under_flux::RULE,
    &contour_contradiction::RULE,
    &cooling_time_outside_window::RULE,
    &cored_wire_current_outside_range::RULE,
    &cored_wire_feed_outside_range::RULE,
    &cored_wire_polarity_not_permitted::RULE,
    &cored_wire_position_not_permitted::RULE,
    &cored_wire_tip_distance_outside_range::RULE,
    &cored_wire_voltage_outside_range::RULE,
    &current_implausible::RULE,
    &current_unsuited_to_thickness::RULE,
    &date_in_future::RULE,
    &deviation_without_finding::RULE,
    &deviation_without_reason::RULE,
    &down_slope_missing::RULE,
    &electrode_current_above_range::RULE,
    &electrode_current_below_range::RULE,
    &electrode_drying_missing::RULE,
    &electrode_drying_unusual::RULE,
    &aws_d1_1::electrode_exposure_too_long::RULE,
    &electrode_negative_outside_range::RULE,
    &electrode_polarity_not_permitted::RULE,
    &electrode_position_not_permitted::RULE,
    &electrode_too_large_for_position::RULE,
    &examination_extent_impossible::RULE,
    &filler_angle_outside_usual::RULE,
    &filler_carbon_above_grade::RULE,
    &filler_diameter_not_made::RULE,
    &filler_leaner_than_metal::RULE,
    &filler_undeclared::RULE,
    &filler_unknown::RULE,
    &filler_unsuited_to_metal::RULE,
    &filler_unusual_for_metal::RULE,
    &fillet_gap_too_wide::RULE,
    &fillet_leg_too_large::RULE,
    &fillet_leg_too_small::RULE,
    &flare_without_round_member::RULE,
    &flux_drying_unusual::RULE,
    &flux_missing::RULE,
    &gas_composition_incomplete::RULE,
    &gas_flow_too_high::RULE,
    &gas_flow_too_low::RULE,
    &gas_for_self_shielded_wire::RULE,
    &gas_not_of_process::RULE,
    &gas_not_of_wire_class::RULE,
    &heat_input_contradiction::RULE,
    &heat_input_too_high::RULE,
    &heat_input_too_low::RULE,
    &heat_too_little_for_joint::RULE,
    &heat_too_much_for_joint::RULE,
    &heat_treatment_harms_metal::RULE,
    &heat_treatment_missing::RULE,
    &heat_treatment_temperature_unusual::RULE,
    &impact_colder_than_filler::RULE,
    &impact_colder_than_metal::RULE,
    &included_angle_outside_usual::RULE,
    &interpass_above_usual::RULE,
    &interpass_below_least::RULE,
    &interpass_below_preheat::RULE,
    &interpass_missing::RULE,
    &issued_content_changed::RULE,
    &key_of_another_process::RULE,
    &low_hydrogen_electrode_downhill::RULE,
    &metal_not_for_fusion::RULE,
    &not_stated::RULE,
    &nozzle_too_small_for_tungsten::RULE,
    &outside_diameter_impossible::RULE,
    &pedal_with_fixed_current::RULE,
    &penetration_depth_missing::RULE,
    &pipe_position_on_plate::RULE,
    &pipe_too_small_for_flux::RULE,
    &polarity_taken::RULE,
    &polarity_wrong_for_metal::RULE,
    &position_not_of_weld::RULE,
    &post_flow_too_long::RULE,
    &post_flow_too_short::RULE,
    &pre_flow_too_short::RULE,
    &preheat_below_needed::RULE,
    &preheat_maintenance_outside_range::RULE,
    &preheat_too_high::RULE,
    &preparation_not_of_weld::RULE,
    &preparation_unusual_for_thickness::RULE,
    &aws_d1_1::prequalified_current_too_high::RULE,
    &aws_d1_1::prequalified_detail_contradicted::RULE,
    &aws_d1_1::prequalified_detail_unknown::RULE,
    &aws_d1_1::prequalified_electrode_too_large::RULE,
    &aws_d1_1::prequalified_filler_not_matching::RULE,
    &aws_d1_1::prequalified_fillet_pass_too_large::RULE,
    &aws_d1_1::prequalified_groove_unlisted::RULE,
    &aws_d1_1::prequalified_metal_unlisted::RULE,
    &aws_d1_1::prequalified_run_too_thick::RULE,
    &process_not_for_position::RULE,
    &process_unknown::RULE,
    &pulse_background_current_outside_range::RULE,
    &pulse_background_not_below_peak::RULE,
    &pulse_beside_other_transfer::RULE,
    &pulse_frequency_implausible::RULE,
    &pulse_frequency_outside_range::RULE,
    &pulse_peak_current_outside_range::RULE,
    &pulse_peak_time_implausible::RULE,
    &purge_oxygen_too_high::RULE,
    &purge_time_outside_usual::RULE,
    &qualification_level_unknown::RULE,
    &range_too_wide::RULE,
    &revision_dates_out_of_order::RULE,
    &revision_history_mismatch::RULE,
    &rod_unusual_for_current::RULE,
    &root_face_outside_usual::RULE,
    &root_gap_outside_usual::RULE,
    &root_gas_unsuited_to_metal::RULE,
    &root_reinforcement_contradiction::RULE,
    &root_run_missing::RULE,
    &route_not_open_to_class::RULE,
    &route_not_open_to_process::RULE,
    &run_numbers_overlap::RULE,
    &run_out_of_proportion::RULE,
    &runs_missing::RULE,
    &runs_overfill_joint::RULE,
    &runs_underfill_joint::RULE,
    &scratch_start_unsuited::RULE,
    &setting_missing::RULE,
    &shielding_gas_missing::RULE,
    &shielding_gas_not_inert::RULE,
    &short_circuit_on_thick_plate::RULE,
    &single_pass_wire_in_several_runs::RULE,
    &single_v_where_double_v_usual::RULE,
    &slope_outside_usual::RULE,
    &spot_weld_not_of_joint::RULE,
    &spray_below_transition::RULE,
    &spray_out_of_position::RULE,
    &spray_with_too_little_argon::RULE,
    &square_preparation_too_thick::RULE,
    &stickout_too_long::RULE,
    &tack_welds_missing::RULE,
    &test_record_missing::RULE,
    &thickness_outside_process::RULE,
    &thoriated_tungsten::RULE,
    &throat_contradicts_leg::RULE,
    &torch_current_above_rating::RULE,
    &torch_direction_unusual::RULE,
    &torch_size_unknown::RULE,
    &toughness_unreadable::RULE,
    &trailing_gas_flow_outside_usual::RULE,
    &trailing_gas_missing::RULE,
    &travel_angle_outside_usual::RULE,
    &travel_speed_implausible::RULE,
    &travel_speed_unsuited_to_joint::RULE,
    &treatment_missing_under_code::RULE,
    &treatment_outside_code::RULE,
    &tungsten_current_above_range::RULE,
    &tungsten_current_below_range::RULE,
    &tungsten_diameter_not_made::RULE,
    &tungsten_tip_outside_usual::RULE,
    &tungsten_unsuited_to_current::RULE,
    &vertical_without_progression::RULE,
    &voltage_outside_range::RULE,
    &voltage_unsuited_to_current::RULE,
    &weld_metal_undermatching::RULE,
    &weld_size_missing::RULE,
    &wire_current_above_range::RULE,
    &wire_current_below_range::RULE,
    &wire_feed_above_range::RULE,
    &wire_feed_below_range::RULE,
    &wire_feed_contradicts_current::RULE,
    &wire_feed_contradicts_deposition::RULE,
    &wire_form_not_of_process::RULE,
    &wire_gas_flow_outside_range::RULE,
    &wire_polarity_wrong::RULE,
    &wire_voltage_above_range::RULE,
    &wire_voltage_below_range::RULE,
    &work_angle_outside_usual::RULE,
];
