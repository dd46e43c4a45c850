//! Words of the trade for words of the format whose spelling would lead to their opposite.

use serde_json::Value;

use crate::source::{Node, NodeKind, Scalar, escape};

/// Each word of the format with the words of the trade for it, in small letters.
///
/// AWS A3.0: straight polarity is direct current with the electrode negative, reverse polarity with it positive.
const WORDS: &[(&str, &[&str])] = &[
    (
        "DCEN",
        &["dcsp", "dc-", "dc -", "straight", "straight polarity", "dc straight", "electrode negative", "negative"],
    ),
    ("DCEP", &["dcrp", "dc+", "dc +", "reverse", "reverse polarity", "dc reverse", "electrode positive", "positive"]),
    ("upward", &["up", "uphill", "vertical up", "vertical-up", "upwards", "uphand"]),
    ("downward", &["down", "downhill", "vertical down", "vertical-down", "downwards", "downhand"]),
    ("high-frequency", &["hf", "high freq", "hf start"]),
    ("foot-pedal", &["pedal", "foot pedal"]),
    ("si", &["metric"]),
    ("us", &["imperial", "inch", "inches"]),
];

/// The key whose words are taken.
const KEY: &str = "polarity";

/// A word of the trade that stands in a document, and the word that it was taken for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// JSON pointer.
    pub pointer: String,
    /// As it is written.
    pub written: String,
    /// The word of the format.
    pub word: &'static str,
}

/// The word of the format that a word of the trade stands for; case does not matter.
pub fn word_for(text: &str) -> Option<&'static str> {
    let plain = text.trim().to_lowercase();
    WORDS.iter().find(|(_, own)| own.contains(&&*plain)).map(|(word, _)| *word)
}

/// The word that a polarity is taken for where it is written as none of the format.
fn polarity_for(text: &str) -> Option<&'static str> {
    let other_case =
        ["DCEN", "DCEP", "AC"].into_iter().find(|word| *word != text && word.eq_ignore_ascii_case(text.trim()));
    other_case.or_else(|| word_for(text).filter(|word| matches!(*word, "DCEN" | "DCEP")))
}

/// Puts the words of the format in the place of those of the trade for a polarity, and tells each.
pub(crate) fn take_in(tree: &mut Node) -> Vec<Taken> {
    fn walk(node: &mut Node, pointer: &mut String, of_key: bool, taken: &mut Vec<Taken>) {
        let above = pointer.len();
        match &mut node.kind {
            NodeKind::Scalar(Scalar::Text(text)) if of_key => {
                if let Some(word) = polarity_for(text) {
                    let written = std::mem::replace(text, word.to_owned());
                    taken.push(Taken { pointer: pointer.clone(), written, word });
                }
            }
            NodeKind::Scalar(_) => {}
            NodeKind::List(items) => {
                for (index, item) in items.iter_mut().enumerate() {
                    pointer.push_str(&format!("/{index}"));
                    walk(item, pointer, of_key, taken);
                    pointer.truncate(above);
                }
            }
            NodeKind::Map(entries) => {
                for entry in entries {
                    pointer.push('/');
                    pointer.push_str(&escape(&entry.key));
                    walk(&mut entry.value, pointer, entry.key == KEY, taken);
                    pointer.truncate(above);
                }
            }
        }
    }
    let mut taken = Vec::new();
    walk(tree, &mut String::new(), false, &mut taken);
    taken
}

/// The same in plain values.
pub(crate) fn take(value: &mut Value) -> Vec<Taken> {
    fn walk(value: &mut Value, pointer: &mut String, of_key: bool, taken: &mut Vec<Taken>) {
        let above = pointer.len();
        match value {
            Value::String(text) if of_key => {
                if let Some(word) = polarity_for(text) {
                    let written = std::mem::replace(text, word.to_owned());
                    taken.push(Taken { pointer: pointer.clone(), written, word });
                }
            }
            Value::Array(items) => {
                for (index, item) in items.iter_mut().enumerate() {
                    pointer.push_str(&format!("/{index}"));
                    walk(item, pointer, of_key, taken);
                    pointer.truncate(above);
                }
            }
            Value::Object(map) => {
                for (key, own) in map {
                    pointer.push('/');
                    pointer.push_str(&escape(key));
                    walk(own, pointer, key == KEY, taken);
                    pointer.truncate(above);
                }
            }
            _ => {}
        }
    }
    let mut taken = Vec::new();
    walk(value, &mut String::new(), false, &mut taken);
    taken
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::Polarity;

    #[test]
    fn a_polarity_is_never_taken_for_its_opposite() {
        for (text, word) in [
            ("DCSP", Some(Polarity::Dcen)),
            ("DCRP", Some(Polarity::Dcep)),
            ("dcrp", Some(Polarity::Dcep)),
            ("Straight polarity", Some(Polarity::Dcen)),
            ("reverse", Some(Polarity::Dcep)),
            ("DC-", Some(Polarity::Dcen)),
            ("DC+", Some(Polarity::Dcep)),
            ("electrode positive", Some(Polarity::Dcep)),
            ("dcen", Some(Polarity::Dcen)),
            ("ac", Some(Polarity::Ac)),
            ("DCEN", None),
            ("DC", None),
            ("DCE", None),
            ("DCP", None),
            ("up", None),
        ] {
            assert_eq!(polarity_for(text), word.map(Polarity::as_str), "{text}");
        }
    }

    #[test]
    fn only_a_polarity_is_taken() {
        let mut value = serde_json::json!({"polarity": ["DCRP", "AC"], "title": "DCRP", "processes": {"141": {"polarity": "DCSP"}}});
        let taken = take(&mut value);
        let told: Vec<_> = taken.iter().map(|own| (&*own.pointer, &*own.written, own.word)).collect();
        assert_eq!(told, [("/polarity/0", "DCRP", "DCEP"), ("/processes/141/polarity", "DCSP", "DCEN")]);
        assert_eq!((&value["title"], &value["polarity"][1]), (&"DCRP".into(), &"AC".into()));
    }
}
