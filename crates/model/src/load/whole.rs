//! Sections written out as a hint shows them: `{current: 90 A, duty_cycle: 70 %}`.

use serde_json::Value;

use super::place::{example_of, known_keys, schema_at};
use crate::source::steps;
use crate::{price, quantity};

/// The keys that a section needs, each with its example: `{current: 90 A, duty_cycle: 70 %}`.
pub(super) fn in_full(root: &'static Value, pointer: &str) -> Option<String> {
    let needed = schema_at(root, pointer)?.get("required")?.as_array()?;
    let one = |key: &Value| {
        let key = key.as_str()?;
        Some(format!("{key}: {}", example_of(root, pointer, key)?))
    };
    let all: Option<Vec<String>> = needed.iter().map(one).collect();
    all.filter(|all| !all.is_empty()).map(|all| format!("{{{}}}", all.join(", ")))
}

/// Keys by which a section is meant where its value stands alone: `shielding_gas: 75/25` is that designation.
const LEADING: &[&str] = &["designation", "specification", "type", "leg", "material", "size", "name", "number", "run"];

/// A value that stands alone, as the section that it is meant for, with the other keys that this needs.
pub(super) fn as_section(root: &'static Value, pointer: &str, value: &Value) -> Option<String> {
    let text = match value {
        Value::String(text) if text.len() <= 60 && !text.contains(['{', '}', '[', ']', ',', '#', '\n']) => text.clone(),
        Value::Number(number) => number.to_string(),
        _ => return None,
    };
    let name =
        steps(pointer).last().filter(|name| name.parse::<usize>().is_err() || pointer.starts_with("/processes/"));
    let name = name.map_or_else(String::new, |name| format!("{name}: "));
    let other = schema_at(root, &format!("{pointer}/other")).and_then(|schema| schema.get("format"));
    if other.and_then(Value::as_str) == Some(price::FORMAT) && text.parse::<price::Price>().is_ok() {
        return Some(format!("{name}{{other: {text}}}"));
    }
    let known = known_keys(root, pointer);
    let fits = |key: &&&str| {
        let Some(schema) = known.contains(*key).then(|| schema_at(root, &format!("{pointer}/{key}"))).flatten() else {
            return false;
        };
        let format = schema.get("format").and_then(Value::as_str);
        let word = schema.get("enum").and_then(Value::as_array);
        format.is_none_or(|format| matches!(quantity::check_format(format, &text), Some(Ok(()))))
            && word.is_none_or(|words| words.iter().any(|word| word.as_str() == Some(&text)))
    };
    let leading = LEADING.iter().find(fits)?;
    let text = if text.contains(": ") || text.starts_with(['&', '*', '!', '%', '@', '`', '-', '?', '|', '>', '\'', '"'])
    {
        format!("\"{text}\"")
    } else {
        text
    };
    let needed = schema_at(root, pointer)?.get("required").and_then(Value::as_array);
    let others = needed.into_iter().flatten().filter_map(Value::as_str).filter(|key| key != leading);
    let others: Option<Vec<String>> =
        others.map(|key| Some(format!(", {key}: {}", example_of(root, pointer, key)?))).collect();
    Some(format!("{name}{{{leading}: {text}{}}}", others?.concat()))
}
