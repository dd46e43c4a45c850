//! Checks of the metal and its filler.

use crate::rule::Rule;

mod aluminium_without_filler;
mod base_metal_taken;
pub mod base_metal_unknown;
pub(crate) mod carbon_equivalent_above_delivered;
mod code_does_not_cover_metal;
mod code_does_not_cover_thickness;
mod composition_not_of_steel;
mod composition_outside_specification;
pub(crate) mod filler_carbon_above_grade;
mod filler_diameter_not_made;
pub(crate) mod filler_leaner_than_metal;
pub(crate) mod filler_undeclared;
pub mod filler_unknown;
pub(crate) mod filler_unsuited_to_metal;
mod filler_unusual_for_metal;
pub(crate) mod impact_colder_than_filler;
pub(crate) mod impact_colder_than_metal;
pub(crate) mod metal_not_for_fusion;
pub(crate) mod toughness_unreadable;
pub(crate) mod weld_metal_undermatching;

/// They, by name.
pub(super) const RULES: &[&Rule] = &[
    &aluminium_without_filler::RULE,
    &base_metal_taken::RULE,
    &base_metal_unknown::RULE,
    &carbon_equivalent_above_delivered::RULE,
    &code_does_not_cover_metal::RULE,
    &code_does_not_cover_thickness::RULE,
    &composition_not_of_steel::RULE,
    &composition_outside_specification::RULE,
    &filler_carbon_above_grade::RULE,
    &filler_diameter_not_made::RULE,
    &filler_leaner_than_metal::RULE,
    &filler_undeclared::RULE,
    &filler_unknown::RULE,
    &filler_unsuited_to_metal::RULE,
    &filler_unusual_for_metal::RULE,
    &impact_colder_than_filler::RULE,
    &impact_colder_than_metal::RULE,
    &metal_not_for_fusion::RULE,
    &toughness_unreadable::RULE,
    &weld_metal_undermatching::RULE,
];
