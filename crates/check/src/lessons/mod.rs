//! The checks of lessons, one file each, and the list of them. To add one: copy a neighbour, and add its module and its
//! line.

use seamwright_model::lesson::Lesson;

use crate::rule::Rule;

mod exercises_longer_than_lesson;

/// Every check of a lesson, by name.
pub const RULES: &[&Rule<Lesson>] = &[&exercises_longer_than_lesson::RULE];
