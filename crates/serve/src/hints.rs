//! Messages and hints in words for somebody who fills a form: what to write in a file says nothing there.

use seamwright_handbook::variables::{self, Terms};
use seamwright_model::capital::capital;

/// A message without the words of the file: `` `run` is missing in this entry of `runs` `` is `Run number is not stated`.
pub fn message(message: &str, pointer: &str) -> String {
    match lacking(message) {
        Some(key) => format!("{} is not stated", capital(&name(key, pointer))),
        None if message == "`format` is missing" => {
            "the file does not say that it is a document of this program".to_owned()
        }
        None => message.to_owned(),
    }
}

/// The key that a message says is missing.
pub fn lacking(message: &str) -> Option<&str> {
    message.strip_prefix('`')?.split_once("` is missing in ").map(|(key, _)| key)
}

/// A hint that can be typed into a field: `` write `revision:` here, such as `revision: 1` `` is `state the revision, such as 1`.
pub fn hint(hint: &str, pointer: &str) -> String {
    // A command to type is of no use on a page.
    let hint = hint.split("; `seamwright explain ").next().unwrap_or(hint);
    if let Some((key, rest)) = hint.strip_prefix("write `").and_then(|own| own.split_once(":` here")) {
        let example = rest.strip_prefix(", such as `").and_then(|own| own.strip_suffix('`'));
        let example = example.and_then(|own| own.strip_prefix(key)?.strip_prefix(": "));
        let such = example.map_or_else(String::new, |own| format!(", such as {}", own.trim_matches('"')));
        return format!("state the {}{such}", name(key, pointer));
    }
    if let Some(first) = hint.strip_prefix("start the file with ") {
        return format!("open Text of the file, and make its first line {first}");
    }
    if let Some((section, rest)) = hint.strip_prefix("declare it under `").and_then(|own| own.split_once('`')) {
        let title = capital(variables::term(&format!("/{section}"), Terms::Iso));
        return format!("add it in the section {title}{}", rest.replacen(", or write ", ", or put here ", 1));
    }
    let parts = hint.split('`').enumerate().map(|(place, part)| match pair(part) {
        Some((key, value)) if place % 2 == 1 => format!("{} {value}", name(key, &format!("{pointer}/{key}"))),
        _ if place % 2 == 1 => format!("`{part}`"),
        _ => part.to_owned(),
    });
    parts.collect()
}

/// Key and value of a line of the file; nothing where a field holds something else.
fn pair(part: &str) -> Option<(&str, &str)> {
    let (key, value) = part.split_once(": ")?;
    let plain = key.starts_with(|own: char| own.is_ascii_lowercase())
        && key.chars().all(|own| own.is_ascii_lowercase() || own == '_')
        && !value.contains(['{', '[', ':']);
    plain.then_some((key, value))
}

/// What a key is called on the page, within a sentence: in the words of the dictionary, else its own.
fn name(key: &str, pointer: &str) -> String {
    let own = variables::get(pointer).filter(|_| pointer.rsplit('/').next() == Some(key));
    match own.map(|row| row.term(Terms::Iso)) {
        // A designation in capitals stays as it is.
        Some(term) if term.chars().nth(1).is_none_or(char::is_lowercase) => {
            let mut letters = term.chars();
            letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
        }
        Some(term) => term.to_owned(),
        None => key.replace('_', " "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hint_is_what_can_be_typed_into_the_field() {
        let at = "/identification/revision";
        assert_eq!(hint("write `revision:` here, such as `revision: 1`", at), "state the revision, such as 1");
        assert_eq!(message("`revision` is missing in `identification`", at), "Revision is not stated");
        assert_eq!(hint("write `1/8 in maximum`", "/joint/root_gap"), "write `1/8 in maximum`");
        assert_eq!(hint("write for example `process: 141`", "/runs/3"), "write for example process 141");
        assert_eq!(hint("write `70-90 A` or `AC`", "/runs/0/current"), "write `70-90 A` or `AC`");
        for (text, at) in [
            ("declare it under `fillers`", "/runs/0/filler"),
            ("declare it under `conditions`, or write `thin`", "/runs/0/condition"),
            ("start the file with `format: 1`", ""),
            ("write `name:` here", "/power_sources/0/name"),
        ] {
            let plain = hint(text, at);
            for word in ["declare", "fillers`", "conditions`", "name:"] {
                assert!(!plain.contains(word), "{plain}");
            }
        }
    }
}
