//! Values in the words of a sheet, as several kinds of sheet print them.

use seamwright_handbook::variables::{self, Terms};
use seamwright_model::procedure::{CodeName, ShieldingGas};
use seamwright_model::quantity::{Quantity, Range, UnitSystem};
use seamwright_model::stated::Composition;

use super::{joined, quantity};
use crate::block::{Block, Field};

/// A field whose width follows its text; nothing where nothing is stated.
pub(super) fn field(label: &str, value: Option<impl Into<String>>) -> Option<Field> {
    let value: String = value?.into();
    if value.is_empty() {
        return None;
    }
    let span = match value.chars().count() {
        0..=24 => 1,
        25..=52 => 2,
        _ => 4,
    };
    Some(Field::new(label, value).wide(span))
}

/// The terms for several values that share a field: `Pre-flow, post-flow`.
pub(super) fn labels(keys: &[&'static str], terms: Terms) -> String {
    let mut text = String::new();
    for key in keys {
        if text.is_empty() {
            text.push_str(variables::term(key, terms));
        } else {
            text.push_str(", ");
            text.push_str(&low(key, terms));
        }
    }
    text
}

/// The term for a value inside a sentence: `root gap`, but `P-Number`.
pub(super) fn low(key: &'static str, terms: Terms) -> String {
    let term = variables::term(key, terms);
    let mut letters = term.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), Some(second)) if second.is_lowercase() => first.to_lowercase().chain(letters).collect(),
        _ => term.to_owned(),
    }
}

pub(super) fn composition(parts: &Composition) -> String {
    parts.iter().map(|(name, percent)| format!("{name} {percent}")).collect::<Vec<_>>().join(", ")
}

pub(super) fn joined_option(parts: impl IntoIterator<Item = Option<String>>) -> Option<String> {
    let text = joined(parts);
    (!text.is_empty()).then_some(text)
}

pub(super) fn setting<Q: Quantity>(value: Option<&Range<Q>>, units: UnitSystem) -> String {
    value.map_or(String::new(), |range| range.print(units))
}

pub(super) fn gas(gas: &ShieldingGas, units: UnitSystem) -> String {
    joined([
        gas.designation
            .as_deref()
            .map(|name| if name.contains(' ') { name.to_owned() } else { format!("ISO 14175-{name}") }),
        gas.composition.as_ref().map(|parts| format!("{} %", composition(parts))),
        quantity(gas.flow.as_ref(), units),
        gas.make.as_deref().map(Into::into),
    ])
}

/// A tungsten's designation with the colour that ISO 6848 gives it.
pub(super) fn tungsten_words(designation: &str) -> String {
    match seamwright_handbook::tungsten_types::get(designation) {
        Some(row) => format!("{designation} ({})", row.colour),
        None => designation.to_owned(),
    }
}

pub(super) fn code_title(code: CodeName) -> &'static str {
    match code {
        CodeName::None => "none",
        CodeName::Iso15614 => "ISO 15614-1",
        CodeName::AsmeIx => "ASME BPVC IX",
        CodeName::AwsD11 => "AWS D1.1",
    }
}

/// Adds a heading with its fields, where any is stated.
pub(super) fn section(blocks: &mut Vec<Block>, title: &str, clause: Option<&str>, fields: Vec<Option<Field>>) {
    let fields: Vec<Field> = fields.into_iter().flatten().collect();
    if !fields.is_empty() {
        blocks.push(Block::heading(title, clause));
        blocks.push(Block::Fields { fields });
    }
}
