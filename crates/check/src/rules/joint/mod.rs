//! Checks of the joint: preparation, size, position, and what the runs fill of it.

use crate::rule::Rule;

mod back_gouging_missing;
mod backing_contradiction;
pub(crate) mod cleaning_missing;
mod coating_not_removed;
mod contour_contradiction;
mod fillet_gap_too_wide;
mod fillet_leg_too_large;
mod fillet_leg_too_small;
mod filling;
mod flare_without_round_member;
mod included_angle_outside_usual;
mod measures;
pub(crate) mod outside_diameter_impossible;
mod penetration_depth_missing;
mod pipe_position_on_plate;
pub(crate) mod position_not_of_weld;
mod preparation_not_of_weld;
mod preparation_unusual_for_thickness;
mod preparations;
mod root_face_outside_usual;
mod root_gap_outside_usual;
mod root_reinforcement_contradiction;
pub(crate) mod root_run_missing;
pub(crate) mod run_out_of_proportion;
pub mod runs_overfill_joint;
mod runs_underfill_joint;
mod single_v_where_double_v_usual;
mod spot_weld_not_of_joint;
mod square_preparation_too_thick;
pub(crate) mod tack_welds_missing;
mod thickness_outside_process;
mod throat_contradicts_leg;
mod vertical_without_progression;
mod weld_size_missing;

/// They, by name.
pub(super) const RULES: &[&Rule] = &[
    &back_gouging_missing::RULE,
    &backing_contradiction::RULE,
    &cleaning_missing::RULE,
    &coating_not_removed::RULE,
    &contour_contradiction::RULE,
    &fillet_gap_too_wide::RULE,
    &fillet_leg_too_large::RULE,
    &fillet_leg_too_small::RULE,
    &flare_without_round_member::RULE,
    &included_angle_outside_usual::RULE,
    &outside_diameter_impossible::RULE,
    &penetration_depth_missing::RULE,
    &pipe_position_on_plate::RULE,
    &position_not_of_weld::RULE,
    &preparation_not_of_weld::RULE,
    &preparation_unusual_for_thickness::RULE,
    &root_face_outside_usual::RULE,
    &root_gap_outside_usual::RULE,
    &root_reinforcement_contradiction::RULE,
    &root_run_missing::RULE,
    &run_out_of_proportion::RULE,
    &runs_overfill_joint::RULE,
    &runs_underfill_joint::RULE,
    &single_v_where_double_v_usual::RULE,
    &spot_weld_not_of_joint::RULE,
    &square_preparation_too_thick::RULE,
    &tack_welds_missing::RULE,
    &thickness_outside_process::RULE,
    &throat_contradicts_leg::RULE,
    &vertical_without_progression::RULE,
    &weld_size_missing::RULE,
];
