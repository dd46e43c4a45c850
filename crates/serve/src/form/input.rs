//! What was typed into a field, as a value of the format.

use seamwright_model::document::schema_of;
use serde_json::{Map, Value, json};

use super::{Kind, field_at};
use crate::typed;

/// The value that was typed into the field at a pointer; nothing where the field was emptied.
///
/// What is known is understood; what is not stays as it was typed, and is told by who reads the document.
pub fn value_of(document: &Value, kind: &str, pointer: &str, typed: &str) -> Option<Value> {
    let Some(field) = field_at(kind, document, pointer) else {
        return (!typed.trim().is_empty()).then(|| Value::from(typed.trim()));
    };
    let typed = typed.trim();
    if typed.is_empty() {
        return None;
    }
    let what = &field.what;
    Some(match what.kind {
        Kind::Quantity => {
            let before = if field.value.is_empty() { &field.inherited } else { &field.value };
            typed::quantity(what.format.unwrap_or_default(), typed, before).into()
        }
        Kind::Word => typed::word(typed, &what.words).into(),
        Kind::List => {
            let own = typed.split([',', ';']).map(str::trim).filter(|own| !own.is_empty());
            own.map(|own| if what.words.is_empty() { bare(own) } else { typed::word(own, &what.words).into() })
                .collect()
        }
        Kind::Lines if is_list(kind, pointer, document) => {
            typed.lines().map(str::trim).filter(|own| !own.is_empty()).map(Value::from).collect()
        }
        Kind::Composition => composition(typed),
        Kind::Pairs => pairs(typed),
        Kind::Text | Kind::Lines | Kind::Date => bare(typed),
    })
}

/// Whether the format has a list at a place.
fn is_list(kind: &str, pointer: &str, document: &Value) -> bool {
    if let Some(stated) = document.pointer(pointer) {
        return stated.is_array();
    }
    let key = pointer.rsplit('/').next().unwrap_or_default();
    let lists = |part: &Value| part.pointer(&format!("/properties/{key}/items")).is_some();
    let schema = schema_of(kind);
    lists(schema) || schema.get("$defs").and_then(Value::as_object).is_some_and(|all| all.values().any(lists))
}

/// A whole number as a number, everything else as text: `141`, `17`, `PB`.
fn bare(text: &str) -> Value {
    match text.parse::<u32>() {
        Ok(number) if number.to_string() == text => json!(number),
        _ => Value::from(text),
    }
}

/// `argon: 9/m3` on each line; a line without a colon stays text, so that it is told.
fn pairs(text: &str) -> Value {
    let mut map = Map::new();
    for line in text.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let Some((name, value)) = line.split_once(':') else { return Value::from(text) };
        map.insert(name.trim().to_owned(), value.trim().into());
    }
    Value::Object(map)
}

/// `C 0.18, Mn 1.4` or `Ar 82 CO2 18`; what is no share stays text, so that it is told.
fn composition(text: &str) -> Value {
    let mut map = Map::new();
    let words: Vec<&str> = text.split([',', ';', ' ', ':', '=', '%']).filter(|word| !word.is_empty()).collect();
    let mut words = words.into_iter();
    while let Some(element) = words.next() {
        let Some(share) = words.next().and_then(|share| share.parse::<f64>().ok()) else { return Value::from(text) };
        map.insert(
            element.to_owned(),
            // A whole share is written without a point.
            share.to_string().parse::<u64>().map_or_else(|_| json!(share), |whole| json!(whole)),
        );
    }
    Value::Object(map)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn document() -> Value {
        json!({"format": 1, "document": "procedure", "identification": {"number": "P-1", "revision": 1, "title": "x"},
            "parent_metals": [{"specification": "S235JR", "thickness": "3 mm"}], "positions": ["PB"],
            "processes": {"141": {"current": "70-90 A"}}, "runs": [{"run": 1, "process": 141}]})
    }

    #[test]
    fn what_was_typed_is_a_value_of_the_format() {
        for (pointer, typed, value) in [
            ("/parent_metals/0/thickness", "1/8\"", json!("1/8 in")),
            ("/parent_metals/0/thickness", "4", json!("4 mm")),
            ("/processes/141/current", "80 to 100", json!("80-100 A")),
            ("/runs/0/current", "80 amps", json!("80 A")),
            ("/runs/0/process", "141", json!(141)),
            ("/runs/0/travel_speed", "4 IPM", json!("4 in/min")),
            ("/processes/141/polarity", "dc-", json!("DCEN")),
            ("/positions", "PB, PF", json!(["PB", "PF"])),
            ("/notes", "one\ntwo\n", json!(["one", "two"])),
            ("/parent_metals/0/composition", "C 0.18, Mn 1.4", json!({"C": 0.18, "Mn": 1.4})),
            ("/processes/141/shielding_gas/composition", "Ar 82 CO2 18", json!({"Ar": 82, "CO2": 18})),
            ("/identification/title", "Lap, 2 mm", json!("Lap, 2 mm")),
        ] {
            assert_eq!(value_of(&document(), "procedure", pointer, typed), Some(value), "{pointer}");
        }
        assert_eq!(value_of(&document(), "procedure", "/positions", "  "), None);
    }
}
