//! The checks of test records, one file each, and the list of them; those that one code alone asks for stand in its folder. To add one: copy a neighbour, and add its module and
//! its line. Its cases edit a record of `examples/inspection/`.

use seamwright_model::test_record::TestRecord;

use crate::codes::api_1104::records as api_1104;
use crate::rule::Rule;
use crate::rules::arc::{
    key_of_another_process, polarity_taken, polarity_wrong_for_metal, process_not_for_position, process_unknown,
};
use crate::rules::document::{date_in_future, deviation_without_reason, run_numbers_overlap, runs_missing};
use crate::rules::electrode::{
    electrode_current_above_range, electrode_polarity_not_permitted, electrode_position_not_permitted,
};
use crate::rules::gas::{
    active_gas_on_metal, backing_gas_active, gas_for_self_shielded_wire, gas_not_of_process, gas_not_of_wire_class,
    shielding_gas_not_inert,
};
use crate::rules::joint::position_not_of_weld;
use crate::rules::metal::{
    base_metal_unknown, carbon_equivalent_above_delivered, filler_undeclared, filler_unknown,
    impact_colder_than_filler, impact_colder_than_metal, toughness_unreadable,
};
use crate::rules::tungsten::tungsten_current_above_range;
use crate::rules::wire::{
    cored_wire_polarity_not_permitted, cored_wire_position_not_permitted, wire_current_above_range, wire_polarity_wrong,
};

mod code_contradicts_qualification;
pub(crate) mod coupon_test_missing;
mod hardness_above_range;
mod heat_input_above_runs;
mod measured_value_missing;
mod result_contradicts_requirement;
mod test_not_acceptable;
mod thickness_contradicts_deposits;

/// Every check of a test record, by name.
pub const RULES: &[&Rule<TestRecord>] = &[
    &code_contradicts_qualification::RULE,
    &coupon_test_missing::RULE,
    &hardness_above_range::RULE,
    &heat_input_above_runs::RULE,
    &api_1104::indication_above_range::RULE,
    &measured_value_missing::RULE,
    &result_contradicts_requirement::RULE,
    &test_not_acceptable::RULE,
    &thickness_contradicts_deposits::RULE,
];

/// Checks whose errors say that the coupon qualifies nothing.
pub(crate) const DECIDING: &[&Rule<TestRecord>] = &[
    &coupon_test_missing::RULE,
    &hardness_above_range::RULE,
    &api_1104::indication_above_range::RULE,
    &result_contradicts_requirement::RULE,
    &test_not_acceptable::RULE,
];

/// Checks of a procedure that hold for the sections of a test record as they stand.
pub(crate) const SHARED: &[&Rule] = &[
    &active_gas_on_metal::RULE,
    &backing_gas_active::RULE,
    &base_metal_unknown::RULE,
    &carbon_equivalent_above_delivered::RULE,
    &cored_wire_polarity_not_permitted::RULE,
    &cored_wire_position_not_permitted::RULE,
    &date_in_future::RULE,
    &deviation_without_reason::RULE,
    &electrode_current_above_range::RULE,
    &electrode_polarity_not_permitted::RULE,
    &electrode_position_not_permitted::RULE,
    &filler_undeclared::RULE,
    &filler_unknown::RULE,
    &gas_for_self_shielded_wire::RULE,
    &gas_not_of_process::RULE,
    &gas_not_of_wire_class::RULE,
    &impact_colder_than_filler::RULE,
    &impact_colder_than_metal::RULE,
    &key_of_another_process::RULE,
    &polarity_taken::RULE,
    &polarity_wrong_for_metal::RULE,
    &position_not_of_weld::RULE,
    &process_not_for_position::RULE,
    &process_unknown::RULE,
    &run_numbers_overlap::RULE,
    &runs_missing::RULE,
    &shielding_gas_not_inert::RULE,
    &toughness_unreadable::RULE,
    &tungsten_current_above_range::RULE,
    &wire_current_above_range::RULE,
    &wire_polarity_wrong::RULE,
];
