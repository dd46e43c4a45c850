//! What the schema says of a place in a document.

use serde_json::Value;

use crate::source::steps;

/// The schema of the value at a pointer, following references, lists and named sections.
pub(super) fn schema_at(root: &'static Value, pointer: &str) -> Option<&'static Value> {
    let mut at = resolve(root, root);
    for step in steps(pointer) {
        let next = at
            .get("properties")
            .and_then(|properties| properties.get(&step))
            .or_else(|| at.get("items"))
            .or_else(|| at.get("additionalProperties"))?;
        at = resolve(root, next);
    }
    Some(at)
}

/// A part of the schema behind its references and choices.
pub(super) fn resolve(root: &'static Value, mut schema: &'static Value) -> &'static Value {
    for _ in 0..8 {
        if let Some(reference) = schema.get("$ref").and_then(Value::as_str) {
            match root.pointer(reference.trim_start_matches('#')) {
                Some(target) => schema = target,
                None => break,
            }
        } else if let Some(part) = schema.get("else") {
            schema = part;
        } else if let Some(part) = schema
            .get("anyOf")
            .and_then(Value::as_array)
            .and_then(|list| list.iter().find(|part| part.get("type").and_then(Value::as_str) != Some("null")))
        {
            schema = part;
        } else {
            break;
        }
    }
    schema
}

/// The keys of the section at a pointer.
pub(super) fn known_keys(root: &'static Value, pointer: &str) -> Vec<&'static str> {
    schema_at(root, pointer)
        .and_then(|schema| schema.get("properties"))
        .and_then(Value::as_object)
        .map(|keys| keys.keys().map(String::as_str).collect())
        .unwrap_or_default()
}

/// The first example of a key of the section at a pointer.
pub(super) fn example_of(root: &'static Value, pointer: &str, key: &str) -> Option<String> {
    let example = schema_at(root, &format!("{pointer}/{key}"))?.get("examples")?.get(0)?;
    Some(example.as_str().map_or_else(|| example.to_string(), Into::into))
}
