//! The checks of lessons, one file each, and the list of them. To add one: copy a neighbour, and add its module and its
//! line.

use seamwright_model::lesson::Lesson;

use crate::rule::Rule;

mod exercise_outside_procedure;
mod exercises_longer_than_lesson;
mod kit_short;
mod measure_wider_than_acceptance;

/// Every check of a lesson, by name.
pub const RULES: &[&Rule<Lesson>] = &[
    &exercise_outside_procedure::RULE,
    &exercises_longer_than_lesson::RULE,
    &kit_short::RULE,
    &measure_wider_than_acceptance::RULE,
];
