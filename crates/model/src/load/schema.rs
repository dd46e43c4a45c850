//! The compiled schema of each kind of document.

use std::sync::OnceLock;

use seamwright_schema::{Format, Schema};
use serde_json::Value;

use crate::document::{KINDS, schema, schema_of};
use crate::procedure::{BY_THICKNESS, run_numbers, time_by_thickness};
use crate::stated::{Date, NOT_APPLICABLE};
use crate::{allowance, price, quantity};

/// The word of the `document` key; that of a procedure where none stands there.
pub(super) fn kind_of(value: &Value) -> &'static str {
    let word = value.get("document").and_then(Value::as_str);
    KINDS.iter().copied().find(|kind| Some(*kind) == word).unwrap_or("procedure")
}

/// The compiled schema of every kind of document.
pub fn validator() -> &'static Schema {
    static VALIDATOR: OnceLock<Schema> = OnceLock::new();
    VALIDATOR.get_or_init(|| compiled(schema()))
}

/// The compiled schema of one kind of document, made when a file of this kind is first refused.
pub(super) fn validator_of(kind: &str) -> &'static Schema {
    static VALIDATORS: [OnceLock<Schema>; KINDS.len()] = [const { OnceLock::new() }; KINDS.len()];
    let place = KINDS.iter().position(|own| *own == kind).unwrap_or_default();
    match VALIDATORS.get(place) {
        Some(cell) => cell.get_or_init(|| compiled(schema_of(kind))),
        None => validator(),
    }
}

fn compiled(schema: &Value) -> Schema {
    let mut formats: Vec<(&'static str, Format)> = vec![
        ("date", Box::new(|text| text.parse::<Date>().is_ok())),
        (price::FORMAT, Box::new(|text| text.parse::<price::Price>().is_ok())),
        (allowance::FORMAT, Box::new(|text| text.parse::<allowance::Allowance>().is_ok())),
        (BY_THICKNESS, Box::new(|text| time_by_thickness(text).is_ok())),
        ("run-number", Box::new(|text| run_numbers(text).is_ok())),
    ];
    formats.extend(quantity::FORMATS.iter().map(|&format| {
        let of_quantity = move |text: &str| {
            text == NOT_APPLICABLE || quantity::check_format(format, text).is_none_or(|result| result.is_ok())
        };
        (format, Box::new(of_quantity) as Format)
    }));
    Schema::compiled(schema, formats).expect("cannot fail: the schema is made from the types, and a test compiles it")
}
