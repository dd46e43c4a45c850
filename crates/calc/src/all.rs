//! The list of all formulas.

use crate::formula::Formula;
use crate::{
    carbon_equivalent, cooling_time, deposition, duty_cycle, ferrite, fillet, flare, fusion, gas, groove, hardness,
    heat_input, heat_treatment, preheat, shrinkage, strength, time_cost, weld_metal,
};

/// All formulas, family by family.
pub fn formulas() -> impl Iterator<Item = &'static Formula> {
    [
        carbon_equivalent::FORMULAS,
        cooling_time::FORMULAS,
        deposition::FORMULAS,
        duty_cycle::FORMULAS,
        ferrite::FORMULAS,
        fillet::FORMULAS,
        flare::FORMULAS,
        fusion::FORMULAS,
        gas::FORMULAS,
        groove::FORMULAS,
        hardness::FORMULAS,
        heat_input::FORMULAS,
        heat_treatment::FORMULAS,
        preheat::FORMULAS,
        shrinkage::FORMULAS,
        strength::FORMULAS,
        time_cost::FORMULAS,
        weld_metal::FORMULAS,
    ]
    .into_iter()
    .flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_everything_is_said() {
        let mut names: Vec<&str> = formulas().map(|formula| formula.name).collect();
        let count = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count, "two formulas of one name");
        for formula in formulas() {
            assert!(
                formula
                    .name
                    .chars()
                    .all(|letter| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-'),
                "{} is not kebab-case",
                formula.name
            );
            assert!(formula.equation.contains('='), "{} has no equation", formula.name);
            assert!(!formula.source.is_empty(), "{} has no source", formula.name);
        }
    }
}
