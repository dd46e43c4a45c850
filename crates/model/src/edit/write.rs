//! Values as YAML on one line.

use serde_json::Value;

use crate::load::tree;
use crate::source::{Scalar, Style};

/// A value on one line, with the quotes of the one whose place it takes, where it can have them.
pub fn value(value: &Value, style: Style, in_flow: bool) -> String {
    match value {
        Value::String(text) => match style {
            Style::DoubleQuoted => double(text),
            Style::SingleQuoted if single_fits(text) => single(text),
            _ => scalar(text, in_flow),
        },
        Value::Array(items) => {
            let items: Vec<String> = items.iter().map(|item| self::value(item, Style::Plain, true)).collect();
            format!("[{}]", items.join(", "))
        }
        Value::Object(map) => {
            let entries: Vec<String> = map
                .iter()
                .map(|(key, item)| format!("{}: {}", self::key(key), self::value(item, Style::Plain, true)))
                .collect();
            format!("{{{}}}", entries.join(", "))
        }
        Value::Null => "null".to_owned(),
        Value::Bool(_) | Value::Number(_) => value.to_string(),
    }
}

/// A key.
pub fn key(key: &str) -> String {
    // Numbers and words of YAML may stand as keys: what they spell is the key.
    if plain_fits(key, true) && tree::resolve(key) != Scalar::Null { key.to_owned() } else { double(key) }
}

fn scalar(text: &str, in_flow: bool) -> String {
    if plain_fits(text, in_flow) && matches!(tree::resolve(text), Scalar::Text(_)) {
        text.to_owned()
    } else {
        double(text)
    }
}

/// Whether a text can stand without quotes (YAML 1.2.2, 7.3.3), in a narrower sense than YAML's, so that people read it
/// as it is meant, too.
fn plain_fits(text: &str, in_flow: bool) -> bool {
    let Some(first) = text.chars().next() else { return false };
    let letters = text.chars().all(|c| c == ' ' || !(c.is_whitespace() || tree::forbidden(c) || c.is_control()));
    let marks = "-?:,[]{}#&*!|>'\"%@`=<";
    letters
        && text.trim() == text
        && !marks.contains(first)
        && !text.contains(": ")
        && !text.contains(" #")
        && !text.ends_with(':')
        && !text.starts_with("...")
        && !(in_flow && text.contains([',', '[', ']', '{', '}', ':']))
}

fn single_fits(text: &str) -> bool {
    text.chars().all(|c| c == ' ' || !(c.is_whitespace() || tree::forbidden(c) || c.is_control()))
}

fn single(text: &str) -> String {
    format!("'{}'", text.replace('\'', "''"))
}

/// In double quotes, as JSON writes a text, which YAML reads as well.
fn double(text: &str) -> String {
    Value::String(text.to_owned()).to_string()
}
