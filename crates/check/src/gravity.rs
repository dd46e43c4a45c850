//! Which of several findings comes first.

use std::cmp::Reverse;

use seamwright_model::finding::Finding;

use crate::rule::Harm;
use crate::rules::arc::{polarity_wrong_for_metal, process_not_for_position};
use crate::rules::electrode::{
    electrode_polarity_not_permitted, electrode_position_not_permitted, low_hydrogen_electrode_downhill,
};
use crate::rules::gas::{
    active_gas_on_metal, backing_gas_active, backing_gas_missing, gas_for_self_shielded_wire, gas_not_of_process,
    shielding_gas_not_inert, trailing_gas_missing,
};
use crate::rules::heat::{
    heat_too_little_for_joint, heat_treatment_harms_metal, heat_treatment_missing, interpass_below_least,
    preheat_below_needed,
};
use crate::rules::joint::{outside_diameter_impossible, root_run_missing, run_out_of_proportion};
use crate::rules::metal::{
    filler_carbon_above_grade, filler_leaner_than_metal, filler_unsuited_to_metal, metal_not_for_fusion,
    weld_metal_undermatching,
};
use crate::rules::wire::{
    cored_wire_polarity_not_permitted, cored_wire_position_not_permitted, spray_out_of_position, wire_polarity_wrong,
};

/// Checks whose findings come before others of their severity and harm, the gravest first: a pipe that cannot be, an alloy in
/// the wrong metal before cracking, a position before a polarity.
const GRAVEST: &[&str] = &[
    outside_diameter_impossible::RULE.name,
    metal_not_for_fusion::RULE.name,
    filler_unsuited_to_metal::RULE.name,
    filler_leaner_than_metal::RULE.name,
    weld_metal_undermatching::RULE.name,
    filler_carbon_above_grade::RULE.name,
    active_gas_on_metal::RULE.name,
    backing_gas_active::RULE.name,
    shielding_gas_not_inert::RULE.name,
    preheat_below_needed::RULE.name,
    interpass_below_least::RULE.name,
    heat_treatment_harms_metal::RULE.name,
    heat_treatment_missing::RULE.name,
    process_not_for_position::RULE.name,
    electrode_position_not_permitted::RULE.name,
    cored_wire_position_not_permitted::RULE.name,
    low_hydrogen_electrode_downhill::RULE.name,
    polarity_wrong_for_metal::RULE.name,
    cored_wire_polarity_not_permitted::RULE.name,
    wire_polarity_wrong::RULE.name,
    electrode_polarity_not_permitted::RULE.name,
    gas_for_self_shielded_wire::RULE.name,
    gas_not_of_process::RULE.name,
    backing_gas_missing::RULE.name,
    trailing_gas_missing::RULE.name,
    spray_out_of_position::RULE.name,
    heat_too_little_for_joint::RULE.name,
    run_out_of_proportion::RULE.name,
    root_run_missing::RULE.name,
];

/// How far behind a finding of a harm stands: errors before cautions before notes, among equals by the harm, and the gravest checks
/// first.
pub(crate) fn rank(finding: &Finding, harm: Harm) -> impl Ord + use<> {
    let place = GRAVEST.iter().position(|check| *check == finding.check);
    (Reverse(finding.severity), harm, place.unwrap_or(GRAVEST.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_comes_first_is_a_check() {
        for check in GRAVEST {
            assert!(crate::rules::RULES.iter().any(|rule| rule.name == *check), "{check}");
        }
    }
}
