//! Keys of test records, shops, lessons and jobs, with what their schemas say of them.

use seamwright_model::document::{KINDS, schema_of};
use serde_json::Value;

/// A key of a kind of document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DocumentKey {
    /// The kind of document.
    pub kind: &'static str,
    /// Its name.
    pub name: String,
    /// Where it stands; `*` for an entry of a list or a name of the author's.
    pub pointer: String,
    /// What it means.
    pub meaning: String,
}

/// All keys of documents other than procedures, in the order of their schemas.
pub fn all() -> Vec<DocumentKey> {
    let mut found = Vec::new();
    for kind in KINDS.iter().copied().filter(|kind| *kind != "procedure") {
        let root = schema_of(kind);
        walk(kind, root, root, "", &mut Vec::new(), &mut found);
    }
    found
}

/// The keys with a name, or at a pointer.
pub fn find(name: &str) -> Vec<DocumentKey> {
    all().into_iter().filter(|own| own.name == name || own.pointer == name).collect()
}

fn walk<'s>(
    kind: &'static str,
    root: &'s Value,
    at: &'s Value,
    pointer: &str,
    inside: &mut Vec<&'s str>,
    found: &mut Vec<DocumentKey>,
) {
    if let Some(target) = at.get("$ref").and_then(Value::as_str)
        && let Some(own) = target.strip_prefix('#').and_then(|own| root.pointer(own))
        && !inside.contains(&target)
    {
        inside.push(target);
        walk(kind, root, own, pointer, inside, found);
        inside.pop();
    }
    for (name, own) in at.get("properties").and_then(Value::as_object).into_iter().flatten() {
        let pointer = format!("{pointer}/{name}");
        if let Some(meaning) = meaning(root, own) {
            let key = DocumentKey { kind, name: name.clone(), pointer: pointer.clone(), meaning };
            if !found.contains(&key) {
                found.push(key);
            }
        }
        walk(kind, root, own, &pointer, inside, found);
    }
    for entries in ["items", "additionalProperties"] {
        if let Some(own) = at.get(entries) {
            walk(kind, root, own, &format!("{pointer}/*"), inside, found);
        }
    }
    for ways in ["anyOf", "oneOf", "allOf"] {
        for own in at.get(ways).and_then(Value::as_array).into_iter().flatten() {
            walk(kind, root, own, pointer, inside, found);
        }
    }
}

/// What a schema says of a value: at the value, or at what it refers to.
fn meaning(root: &Value, at: &Value) -> Option<String> {
    if let Some(text) = at.get("description").and_then(Value::as_str) {
        return Some(text.split_whitespace().collect::<Vec<_>>().join(" "));
    }
    if let Some(own) = at.get("$ref").and_then(Value::as_str).and_then(|own| root.pointer(own.strip_prefix('#')?)) {
        return meaning(root, own);
    }
    let ways = ["anyOf", "oneOf", "allOf"].into_iter().filter_map(|ways| at.get(ways)?.as_array()).flatten();
    ways.into_iter().find_map(|own| meaning(root, own))
}
