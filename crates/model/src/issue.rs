//! The seal of an issued revision, and the revision after it.

use serde::Serialize;
use serde_json::Value;
use sha2::{Digest, Sha256};

/// Digits of a seal, hexadecimal.
const DIGITS: usize = 16;

/// The seal of a document's content: the first 16 hexadecimal digits of the SHA-256 of its values.
///
/// The seal itself and the status do not count, nor do comments, order of keys and spelling of the file: a revision that is
/// superseded keeps its seal.
pub fn seal(document: &impl Serialize) -> String {
    let mut value = serde_json::to_value(document).unwrap_or(Value::Null);
    if let Some(Value::Object(identification)) = value.get_mut("identification") {
        identification.remove("seal");
        identification.remove("status");
    }
    value.sort_all_objects();
    let digest = Sha256::digest(value.to_string().as_bytes());
    digest.iter().map(|byte| format!("{byte:02x}")).collect::<String>().chars().take(DIGITS).collect()
}

/// The revision after one: a number plus one, the next letter; nothing for another word.
pub fn next_revision(revision: &str) -> Option<String> {
    if let Ok(number) = revision.parse::<u32>() {
        let next = number.checked_add(1)?.to_string();
        return Some(format!("{next:0>width$}", width = revision.len()));
    }
    let mut letters = revision.chars();
    match (letters.next(), letters.next()) {
        (Some(letter @ ('A'..='Y' | 'a'..='y')), None) => {
            char::from_u32(u32::from(letter) + 1).map(|next| next.to_string())
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn revisions_rise() {
        for (before, after) in [("0", Some("1")), ("9", Some("10")), ("01", Some("02")), ("A", Some("B"))] {
            assert_eq!(next_revision(before).as_deref(), after, "{before}");
        }
        for word in ["Z", "1.2", "draft", ""] {
            assert_eq!(next_revision(word), None, "{word}");
        }
    }

    #[test]
    fn a_seal_holds_values_and_not_their_order_or_status() {
        let seal = |text: &str| super::seal(&serde_json::from_str::<Value>(text).unwrap());
        let issued = seal(r#"{"identification": {"number": "P-1", "status": "issued", "seal": "x"}, "runs": [1, 2]}"#);
        assert_eq!(issued, seal(r#"{"runs": [1, 2], "identification": {"status": "superseded", "number": "P-1"}}"#));
        assert_ne!(issued, seal(r#"{"runs": [2, 1], "identification": {"number": "P-1"}}"#));
        assert_eq!(issued.len(), DIGITS);
    }
}
