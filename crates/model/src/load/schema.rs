//! The compiled schema of each kind of document.

use std::sync::OnceLock;

use jsonschema::Validator;
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
pub fn validator() -> &'static Validator {
    static VALIDATOR: OnceLock<Validator> = OnceLock::new();
    VALIDATOR.get_or_init(|| compiled(schema()))
}

/// The compiled schema of one kind of document, made when a file of this kind is first refused.
pub(super) fn validator_of(kind: &str) -> &'static Validator {
    static VALIDATORS: [OnceLock<Validator>; KINDS.len()] = [const { OnceLock::new() }; KINDS.len()];
    let place = KINDS.iter().position(|own| *own == kind).unwrap_or_default();
    match VALIDATORS.get(place) {
        Some(cell) => cell.get_or_init(|| compiled(schema_of(kind))),
        None => validator(),
    }
}

fn compiled(schema: &Value) -> Validator {
    let mut options = jsonschema::draft202012::options()
        .should_validate_formats(true)
        .offline()
        .with_format("date", |text: &str| text.parse::<Date>().is_ok())
        .with_format(price::FORMAT, |text: &str| text.parse::<price::Price>().is_ok())
        .with_format(allowance::FORMAT, |text: &str| text.parse::<allowance::Allowance>().is_ok())
        .with_format(BY_THICKNESS, |text: &str| time_by_thickness(text).is_ok())
        .with_format("run-number", |text: &str| run_numbers(text).is_ok());
    for &format in quantity::FORMATS {
        options = options.with_format(format, move |text: &str| {
            text == NOT_APPLICABLE || quantity::check_format(format, text).is_none_or(|result| result.is_ok())
        });
    }
    options.build(schema).expect("cannot fail: the schema is made from the types, and a test compiles it")
}
