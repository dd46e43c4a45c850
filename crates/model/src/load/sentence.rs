//! What the schema refuses, in sentences that a welder understands.

use seamwright_schema::{JsonType, TypeKind, ValidationError, ValidationErrorKind};
use serde_json::Value;

use super::fault::Fault;
use super::limits;
use super::meant::{key_hint, word_meant};
use super::place::{example_of, known_keys, schema_at};
use super::schema::{kind_of, validator_of};
use super::whole::{as_section, in_full};
use crate::document::schema_of;
use crate::procedure::{BY_THICKNESS, run_numbers, time_by_thickness};
use crate::quantity;
use crate::source::{Entry, Node, NodeKind, Scalar, Span, escape, steps};
use crate::stated::{Date, NOT_APPLICABLE};
use crate::{allowance, price};

/// Every fault of the values, in the order of the file; `reason` is the types' own refusal, for a fault that the schema
/// does not see.
pub(super) fn faults(tree: &Node, value: &Value, reason: &str) -> Vec<Fault> {
    let mut faults: Vec<Fault> = Vec::new();
    let mut cut: Vec<(String, String)> = Vec::new();
    let kind = kind_of(value);
    let root = schema_of(kind);
    for error in validator_of(kind).iter_errors(value) {
        describe(tree, root, &error, &mut faults, &mut cut);
        if faults.len() >= limits::FAULTS {
            break;
        }
    }
    // A value that a comma cuts off is told once, with its comma.
    for (place, message) in cut {
        faults.retain(|fault| fault.pointer != place || fault.message == message);
    }
    misspelt_once(&mut faults);
    if faults.is_empty() {
        faults.push(Fault::at(tree.span_of(""), reason));
    }
    faults.sort_by_key(|fault| fault.span.map_or(0, |span| span.start));
    faults.dedup();
    faults
}

/// A key that is misspelt is not also told as missing.
fn misspelt_once(faults: &mut Vec<Fault>) {
    let meant = |fault: &Fault| {
        let key = fault.hint.as_deref()?.strip_prefix("did you mean `")?.strip_suffix("`?")?;
        Some(format!("{}/{key}", fault.pointer.rsplit_once('/')?.0))
    };
    let meant: Vec<String> = faults.iter().filter_map(meant).collect();
    faults.retain(|fault| !(fault.message.contains("is missing in") && meant.contains(&fault.pointer)));
}

fn describe(
    tree: &Node,
    root: &'static Value,
    error: &ValidationError<'_>,
    faults: &mut Vec<Fault>,
    cut: &mut Vec<(String, String)>,
) {
    let pointer = error.instance_path().to_string();
    let mut push = |pointer: String, span, message: String, hint: Option<String>| {
        faults.push(Fault { message, hint, span: Some(span), pointer });
    };
    let name = steps(&pointer).last().unwrap_or_default();
    let section = section_name(&pointer);
    match error.kind() {
        ValidationErrorKind::AdditionalProperties { unexpected }
        | ValidationErrorKind::UnevaluatedProperties { unexpected } => {
            let known = known_keys(root, &pointer);
            for key in unexpected {
                if let Some(comma) = comma_in_braces(tree, root, &pointer, key) {
                    cut.push((comma.pointer.clone(), comma.message.clone()));
                    push(comma.pointer, comma.span, comma.message, Some(comma.hint));
                    continue;
                }
                let at = format!("{pointer}/{}", escape(key));
                let span = tree.key_span_of(&at).unwrap_or_else(|| tree.span_of(&at));
                push(at, span, format!("the key `{key}` is not known in {section}"), Some(key_hint(root, key, &known)));
            }
        }
        ValidationErrorKind::Required { property } => {
            let key = property.as_str().unwrap_or_default();
            let example = example_of(root, &pointer, key).or_else(|| in_full(root, &format!("{pointer}/{key}")));
            let example = example.map_or_else(String::new, |example| format!(", such as `{key}: {example}`"));
            push(
                format!("{pointer}/{key}"),
                tree.span_of(&pointer),
                format!("`{key}` is missing in {section}"),
                Some(format!("write `{key}:` here{example}")),
            );
        }
        ValidationErrorKind::Format { format } => {
            let text = error.instance().as_str().unwrap_or_default();
            let (message, hint) = format_fault(format, text);
            let hint = for_key(format, &name, text).or(hint);
            push(pointer.clone(), tree.span_of(&pointer), message, hint);
        }
        ValidationErrorKind::Type { kind } => {
            let (message, hint) = type_fault(root, &pointer, &section, error.instance(), kind);
            push(pointer.clone(), tree.span_of(&pointer), message, hint);
        }
        // An empty value is reported once, as the wrong type.
        ValidationErrorKind::Enum { .. } if error.instance().is_null() => {}
        ValidationErrorKind::Enum { options } => {
            let words: Vec<&str> = options.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
            let found = shown(error.instance());
            let (message, hint) = if error.schema_path().to_string().contains("/then/") {
                (
                    format!("{section} is {found}; a section with keys is meant here"),
                    Some(match as_section(root, &pointer, error.instance()) {
                        Some(whole) => format!("write `{whole}`, or one of: {}", words.join(", ")),
                        None => format!("write its keys below it, or one of: {}", words.join(", ")),
                    }),
                )
            } else {
                let near = error.instance().as_str().and_then(|text| word_meant(text, &words));
                let hint = match near {
                    Some(near) if words.len() > 1 => format!("write `{near}`; the words are {}", words.join(", ")),
                    Some(near) => format!("write `{near}`"),
                    None => format!("write one of: {}", words.join(", ")),
                };
                (format!("{found} is not a word for {section}"), Some(hint))
            };
            push(pointer.clone(), tree.span_of(&pointer), message, hint);
        }
        ValidationErrorKind::Constant { expected_value } => push(
            pointer.clone(),
            tree.span_of(&pointer),
            format!("{} stands where {expected_value} is meant", shown(error.instance())),
            Some(format!(
                "write `{name}: {}`",
                expected_value.as_str().map_or_else(|| expected_value.to_string(), Into::into)
            )),
        ),
        ValidationErrorKind::Minimum { .. } | ValidationErrorKind::Maximum { .. } => push(
            pointer.clone(),
            tree.span_of(&pointer),
            format!("{section} is {}, outside what it can be ({error})", shown(error.instance())),
            None,
        ),
        ValidationErrorKind::MinLength { .. } | ValidationErrorKind::Pattern { .. } => push(
            pointer.clone(),
            tree.span_of(&pointer),
            format!("{section} is empty"),
            Some(format!("write its text, or leave the key out; `{NOT_APPLICABLE}` says so on purpose")),
        ),
        _ => push(pointer.clone(), tree.span_of(&pointer), format!("{section}: {error}"), None),
    }
}

/// A number that a comma inside braces has cut in two.
struct Comma {
    pointer: String,
    span: Span,
    message: String,
    hint: String,
}

/// The value before a key that is the rest of its number: `{thickness: 2,5 mm}` has the key `5 mm`.
fn comma_in_braces(tree: &Node, root: &'static Value, pointer: &str, key: &str) -> Option<Comma> {
    let NodeKind::Map(entries) = &tree.at(pointer)?.kind else { return None };
    let rest = |entry: &Entry| entry.key.starts_with(|c: char| c.is_ascii_digit()) && entry.value.to_value().is_null();
    let at = entries.iter().position(|entry| entry.key == key)?;
    let first = entries.iter().take(at).rposition(|entry| !rest(entry))?;
    let owner = entries.get(first)?;
    let begun = match &owner.value.kind {
        NodeKind::Scalar(Scalar::Number(_, spelled) | Scalar::Text(spelled)) => spelled.as_str(),
        _ => return None,
    };
    let parts: Vec<&Entry> = entries.iter().skip(first + 1).take_while(|entry| rest(entry)).collect();
    if !begun.ends_with(|c: char| c.is_ascii_digit()) || parts.is_empty() {
        return None;
    }
    let keys: Vec<&str> = parts.iter().map(|entry| entry.key.as_str()).collect();
    let text = format!("{begun},{}", keys.join(","));
    let pointer = format!("{pointer}/{}", escape(&owner.key));
    let span = Span { end: parts.last()?.key_span.end, ..owner.value.span };
    let format = schema_at(root, &pointer).and_then(|schema| schema.get("format")).and_then(Value::as_str);
    let (message, hint) = match format.and_then(|format| quantity::check_format(format, &text)) {
        Some(Err(error)) => (error.message().to_owned(), error.hint().to_owned()),
        _ => (format!("{} has a comma", shown(&text.clone().into())), format!("write `{}`", text.replace(',', "."))),
    };
    Some(Comma { pointer, span, message, hint: format!("{hint}; inside `{{}}` a comma ends a value") })
}

/// A section as a reader calls it: the document, `joint`, this entry of `runs`, whose line is shown.
fn section_name(pointer: &str) -> String {
    let path: Vec<String> = steps(pointer).collect();
    match path.as_slice() {
        [] => "the document".to_owned(),
        [.., list, index] if index.parse::<usize>().is_ok() && !list.is_empty() => format!("this entry of `{list}`"),
        [.., name] => format!("`{name}`"),
    }
}

/// What to write where the key says more than the form of its value.
fn for_key(format: &str, key: &str, text: &str) -> Option<String> {
    match key {
        _ if format == price::FORMAT => price::without_unit(key, text),
        "set_up" if format == allowance::FORMAT && text.parse::<quantity::Range<quantity::Duration>>().is_ok() => {
            Some(format!("write `{text} per job`"))
        }
        "hours" if text.parse::<f64>().is_ok() => Some(format!("write `{text} h`")),
        "overhead" if text.parse::<price::Price>().is_ok() => Some(format!("write `overhead_per_hour: {text}`")),
        // Letters of bottles name other sizes with each supplier.
        "contents" if !text.starts_with(|own: char| own.is_ascii_digit()) => {
            Some("write what a full one holds, as its label says, for example `330 ft3` or `9.4 m3`".to_owned())
        }
        _ => None,
    }
}

fn format_fault(format: &str, text: &str) -> (String, Option<String>) {
    match format {
        "date" => {
            let message = text.parse::<Date>().err().unwrap_or_else(|| format!("`{text}` is not a date"));
            split_advice(&message)
        }
        allowance::FORMAT => split_advice(
            &text
                .parse::<allowance::Allowance>()
                .err()
                .unwrap_or_else(|| format!("`{text}` is not a time of the work")),
        ),
        price::FORMAT => {
            split_advice(&text.parse::<price::Price>().err().unwrap_or_else(|| format!("`{text}` is not a price")))
        }
        "run-number" => {
            split_advice(&run_numbers(text).err().unwrap_or_else(|| format!("`{text}` is not a run number")))
        }
        BY_THICKNESS => split_advice(&time_by_thickness(text).err().unwrap_or_default()),
        _ => match quantity::check_format(format, text) {
            Some(Err(error)) => (error.message().to_owned(), Some(error.hint().to_owned())),
            _ => (format!("`{text}` is not a {format}"), None),
        },
    }
}

/// A message of the form "what was found; what to write" as message and hint.
fn split_advice(message: &str) -> (String, Option<String>) {
    match message.split_once("; ") {
        Some((found, advice)) => (found.to_owned(), Some(advice.to_owned())),
        None => (message.to_owned(), None),
    }
}

fn type_fault(
    root: &'static Value,
    pointer: &str,
    section: &str,
    instance: &Value,
    kind: &TypeKind,
) -> (String, Option<String>) {
    let schema = schema_at(root, pointer);
    let format = schema.and_then(|schema| schema.get("format")).and_then(Value::as_str);
    let key = steps(pointer).last().unwrap_or_default();
    if let (Some(format), Value::Number(number)) = (format, instance)
        && let Some(Err(error)) = quantity::check_format(format, &number.to_string())
    {
        let hint = for_key(format, &key, &number.to_string()).unwrap_or_else(|| error.hint().to_owned());
        return (error.message().to_owned(), Some(hint));
    }
    if let (Some(price::FORMAT), Value::Number(number)) = (format, instance)
        && let Some(hint) = price::without_unit(&key, &number.to_string())
    {
        return (format!("`{number}` does not say for which unit the price is paid"), Some(hint));
    }
    let example = schema.and_then(|schema| schema.get("examples")).and_then(|list| list.get(0));
    let example = example.map(|example| format!("write for example {}", shown(example)));
    let meant = meant(kind);
    let found = match instance {
        Value::Null => "empty".to_owned(),
        Value::Object(_) => "a section with keys".to_owned(),
        Value::Array(_) => "a list".to_owned(),
        other => shown(other),
    };
    let advice = match (meant, instance) {
        (_, Value::Null) => {
            Some(format!("write its value, or leave the key out; `{NOT_APPLICABLE}` says so on purpose"))
        }
        ("a list", Value::String(text)) => Some(format!("write a list: `[{text}]`, or one entry a line after `- `")),
        ("a list", Value::Object(_)) => {
            Some("write `- ` before its first key: a list has one for each entry".to_owned())
        }
        ("a list", _) => Some("write a list: `[..]`, or one entry a line after `- `".to_owned()),
        ("a section with keys", Value::String(text)) if key == "composition" => {
            Some(format!("write `designation: {text}`, or the share of each gas: `composition: {{Ar: 75, CO2: 25}}`"))
        }
        ("a section with keys", _) => Some(match (as_section(root, pointer, instance), in_full(root, pointer)) {
            (Some(whole), _) => format!("write `{whole}`"),
            (None, Some(whole)) => format!("write its keys: `{whole}`"),
            (None, None) => "write its keys below it, indented, or as `{key: value}`".to_owned(),
        }),
        ("a whole number", Value::String(text)) => {
            let digits: String = text.chars().take_while(char::is_ascii_digit).collect();
            Some(if digits.is_empty() {
                "write its digits, such as `5`".to_owned()
            } else {
                format!("write `{digits}`")
            })
        }
        _ => example,
    };
    (format!("{section} is {found}; {meant} is meant"), advice)
}

fn meant(kind: &TypeKind) -> &'static str {
    let text = match kind {
        TypeKind::Single(kind) => kind.to_string(),
        TypeKind::Multiple(kinds) => {
            if kinds.contains(JsonType::Object) {
                "object".into()
            } else {
                "string".into()
            }
        }
    };
    match text.as_str() {
        "array" => "a list",
        "object" => "a section with keys",
        "number" => "a plain number",
        "integer" => "a whole number",
        "boolean" => "yes or no",
        _ => "text",
    }
}

fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => {
            let mut short: String = text.chars().take(60).collect();
            if short.len() < text.len() {
                short.push('…');
            }
            format!("`{short}`")
        }
        Value::Null => "empty".to_owned(),
        Value::Object(_) => "a section with keys".to_owned(),
        Value::Array(_) => "a list".to_owned(),
        other => format!("`{other}`"),
    }
}
