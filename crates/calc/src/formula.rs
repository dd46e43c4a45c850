//! What a formula is, in words: for text that teaches, and for the list of all of them.

use crate::{
    carbon_equivalent, cooling_time, deposition, duty_cycle, ferrite, fillet, fusion, gas, groove, hardness,
    heat_input, heat_treatment, preheat, shrinkage, strength, time_cost, weld_metal,
};

/// How well a formula is founded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Basis {
    /// Read in a published page.
    Published,
    /// The publication is known, its figures are remembered.
    FromMemory,
    /// What the trade does, or plain arithmetic.
    CommonPractice,
}

impl Basis {
    /// The basis as a word.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::FromMemory => "from-memory",
            Self::CommonPractice => "common-practice",
        }
    }
}

/// A formula in words: what it gives, how, from where, and for what it holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Formula {
    /// Name, in kebab-case.
    pub name: &'static str,
    /// The equation with its symbols and their units.
    pub equation: &'static str,
    /// Title, edition and clause of the source.
    pub source: &'static str,
    /// How well it is founded.
    pub basis: Basis,
    /// For what it is stated to hold; empty where it holds for every value that is not refused.
    pub validity: &'static str,
}

/// All formulas, family by family.
pub fn all() -> impl Iterator<Item = &'static Formula> {
    [
        carbon_equivalent::FORMULAS,
        cooling_time::FORMULAS,
        deposition::FORMULAS,
        duty_cycle::FORMULAS,
        ferrite::FORMULAS,
        fillet::FORMULAS,
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
        let mut names: Vec<&str> = all().map(|formula| formula.name).collect();
        let count = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count, "two formulas of one name");
        for formula in all() {
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
