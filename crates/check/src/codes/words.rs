//! Words and clauses as the ranges of all codes have them.

use seamwright_handbook::{Origin, SourceRef, measure, planning};
use seamwright_weld::view::Metal;

use super::summary::{Treatment, Value};

/// Clause or table of a row's first source.
pub(super) fn clause(origin: &Origin) -> String {
    origin.source_ref().clause.unwrap_or_default().into_owned()
}

/// A source with another clause: that of the variable instead of that of its table.
pub(super) fn at_clause(origin: &Origin, clause: &str) -> SourceRef {
    SourceRef { clause: Some(clause.to_owned().into()), others: 0, ..origin.source_ref() }
}

/// Words of a row as a range keeps them.
pub(super) fn owned(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

/// No metal is welded colder than what needs no preheat.
pub(super) fn least_preheat(figure: f64, unit: &str) -> f64 {
    figure.max(measure::converted(planning::FROST.value.low, "°C", unit))
}

/// The distinct words of several values.
pub(super) fn distinct<T>(values: &[Value<T>], word: impl Fn(&Value<T>) -> String) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for value in values {
        let word = word(value);
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words
}

/// Heat treatment as a word of a set: `none` or `held`.
pub(super) fn treatment_word(value: &Treatment) -> String {
    match value {
        Treatment::None => "none".to_owned(),
        Treatment::Held(..) => "heat treated".to_owned(),
    }
}

/// A metal by its own name.
pub(super) fn own_name(metal: &Metal<'_>) -> String {
    metal.known.map_or_else(|| metal.stated.specification.to_string(), |known| known.specification.to_owned())
}

/// Two metals as a joint, in an order that does not depend on the sides.
pub(super) fn pair(one: &str, other: &str) -> String {
    if one <= other { format!("{one} to {other}") } else { format!("{other} to {one}") }
}
