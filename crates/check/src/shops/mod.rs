//! The checks of shops, and of procedures held against a shop, one file each, and the lists of them. To add one: copy a
//! neighbour, and add its module and its line.
//!
//! Which machine can weld a run, and what stands on the shelf, is for [`seamwright_weld::machines`] and
//! [`seamwright_weld::stock`] to say.

use seamwright_model::shop::Shop;
use seamwright_model::stated::Date;

use crate::rule::Rule;
use crate::subject::InShop;

mod arc_on_impossible;
mod connector_small_for_current;
mod currency_not_a_code;
mod duty_cycle_rises_with_current;
mod duty_cycle_too_short;
mod filler_not_in_stock;
mod gas_not_in_stock;
mod last_use_before_test;
mod machine_not_in_shop;
mod machine_polarity_taken;
mod machine_unfit;
mod machines_missing;
mod name_unknown;
mod rate_for_wrong_unit;
mod rated_point_outside_current;
mod rates_contradict;
mod regulator_unsuited_to_gas;
mod stock_short_for_weld;
mod torch_part_not_in_stock;

/// Every check of a shop, by name.
pub const RULES: &[&Rule<Shop>] = &[
    &arc_on_impossible::RULE,
    &connector_small_for_current::RULE,
    &currency_not_a_code::RULE,
    &duty_cycle_rises_with_current::RULE,
    &last_use_before_test::RULE,
    &machine_polarity_taken::RULE,
    &machines_missing::RULE,
    &name_unknown::RULE,
    &rate_for_wrong_unit::RULE,
    &rated_point_outside_current::RULE,
    &rates_contradict::RULE,
];

/// Every check of a procedure in a shop, by name.
pub const FITNESS: &[&Rule<InShop>] = &[
    &duty_cycle_too_short::RULE,
    &filler_not_in_stock::RULE,
    &gas_not_in_stock::RULE,
    &machine_not_in_shop::RULE,
    &machine_unfit::RULE,
    &regulator_unsuited_to_gas::RULE,
    &stock_short_for_weld::RULE,
    &torch_part_not_in_stock::RULE,
];

/// Days of a shop that cannot lie ahead: of the tests of its welders, and of when they last welded.
pub(crate) fn days(shop: &Shop) -> Vec<(String, Date)> {
    let tests = shop.welders.iter().enumerate().flat_map(|(welder, own)| {
        own.tests.iter().enumerate().map(move |(test, own)| (format!("/welders/{welder}/tests/{test}"), own))
    });
    tests
        .flat_map(|(place, test)| {
            let last = test.last_use.map(|day| (format!("{place}/last_use"), day));
            std::iter::once((format!("{place}/date"), test.date)).chain(last)
        })
        .collect()
}
