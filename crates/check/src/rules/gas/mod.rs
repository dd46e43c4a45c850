//! Checks of the gas: shielding, backing, trailing, its flow and its times.

use crate::rule::Rule;

pub(crate) mod active_gas_on_metal;
pub(crate) mod backing_gas_active;
mod backing_gas_flow_outside_usual;
pub(crate) mod backing_gas_missing;
mod gas_composition_incomplete;
mod gas_flow_too_high;
mod gas_flow_too_low;
pub(crate) mod gas_for_self_shielded_wire;
pub(crate) mod gas_not_of_process;
pub(crate) mod gas_not_of_wire_class;
pub(super) mod mixture;
mod nozzle_flow;
mod post_flow_too_long;
mod post_flow_too_short;
mod pre_flow_too_short;
mod purge_oxygen_too_high;
mod purge_time_outside_usual;
mod root_gas_unsuited_to_metal;
mod shielding_gas_missing;
pub(crate) mod shielding_gas_not_inert;
mod trailing_gas_flow_outside_usual;
pub(crate) mod trailing_gas_missing;
mod wire_gas_flow_outside_range;

/// They, by name.
pub(super) const RULES: &[&Rule] = &[
    &active_gas_on_metal::RULE,
    &backing_gas_active::RULE,
    &backing_gas_flow_outside_usual::RULE,
    &backing_gas_missing::RULE,
    &gas_composition_incomplete::RULE,
    &gas_flow_too_high::RULE,
    &gas_flow_too_low::RULE,
    &gas_for_self_shielded_wire::RULE,
    &gas_not_of_process::RULE,
    &gas_not_of_wire_class::RULE,
    &post_flow_too_long::RULE,
    &post_flow_too_short::RULE,
    &pre_flow_too_short::RULE,
    &purge_oxygen_too_high::RULE,
    &purge_time_outside_usual::RULE,
    &root_gas_unsuited_to_metal::RULE,
    &shielding_gas_missing::RULE,
    &shielding_gas_not_inert::RULE,
    &trailing_gas_flow_outside_usual::RULE,
    &trailing_gas_missing::RULE,
    &wire_gas_flow_outside_range::RULE,
];
