//! Changes of a document's text, as the page asks for them: fields filled, entries put in, moved and taken out.

use crate::splice;
use seamwright_model::source::escape;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value, json};

use crate::form;

/// A change.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "op")]
pub enum Op {
    /// What was typed into a field; an empty field is taken out.
    Type {
        /// JSON pointer of the field.
        at: String,
        /// As typed.
        text: String,
    },
    /// Puts an entry at the end of a list, or under a name into a section.
    Add {
        /// JSON pointer of the list.
        at: String,
        /// The name, where entries have names.
        #[serde(default)]
        name: String,
    },
    /// Puts a copy of an entry of a list after it.
    Copy {
        /// JSON pointer of the entry.
        at: String,
    },
    /// Takes an entry or a value out.
    Remove {
        /// JSON pointer of it.
        at: String,
    },
    /// Moves an entry of a list to another place.
    Move {
        /// JSON pointer of the entry.
        at: String,
        /// Its new place, from 0.
        to: usize,
    },
    /// Accepts a finding for a reason.
    Accept {
        /// The check.
        check: String,
        /// JSON pointer of the value.
        at: String,
        /// Why it is sound.
        reason: String,
        /// Who accepts it.
        #[serde(default)]
        by: String,
    },
    /// The whole text.
    Text {
        /// The text.
        text: String,
    },
}

impl Op {
    /// Whether it means the same on a text that was changed meanwhile: it names its place, and no entry moves.
    pub fn is_by_place(&self) -> bool {
        matches!(self, Self::Type { .. } | Self::Accept { .. })
    }
}

/// What was typed and is not understood.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NotTaken {
    /// JSON pointer of the field.
    pub pointer: String,
    /// What is wrong with it.
    pub message: String,
    /// What to write.
    pub hint: Option<String>,
}

/// The values of a text, as far as it is YAML.
pub fn values(text: &str) -> Option<Value> {
    seamwright_model::load::tree(text).ok().map(|tree| tree.to_value())
}

/// A text after changes, and what was typed and not taken.
///
/// `Err` says in words why a change cannot be made; then nothing is changed.
pub fn apply(text: &str, ops: &[Op]) -> Result<(String, Vec<NotTaken>), String> {
    let mut text = text.to_owned();
    let mut not_taken = Vec::new();
    for op in ops {
        text = one(&text, op, &mut not_taken)?;
    }
    Ok((text, not_taken))
}

/// A text after something was typed into a field; nothing where it is not taken.
pub fn typed(text: &str, pointer: &str, value: &str) -> Option<String> {
    let op = Op::Type { at: pointer.to_owned(), text: value.to_owned() };
    let (after, not_taken) = apply(text, &[op]).ok()?;
    (not_taken.is_empty() && after != text).then_some(after)
}

fn one(text: &str, op: &Op, not_taken: &mut Vec<NotTaken>) -> Result<String, String> {
    if let Op::Text { text } = op {
        return Ok(text.clone());
    }
    let document = values(text).filter(Value::is_object).ok_or("the text has faults: mend it in the text first")?;
    let kind = document.get("document").and_then(Value::as_str).unwrap_or("procedure").to_owned();
    match op {
        Op::Type { at, text: typed } => {
            let Some(value) = form::value_of(&document, &kind, at, typed) else {
                return if document.pointer(at).is_some() { remove(text, &document, at) } else { Ok(text.to_owned()) };
            };
            if document.pointer(at) == Some(&value) {
                return Ok(text.to_owned());
            }
            let after = put(text, &document, at, &value)?;
            // What is not yet right stays in the field: the text keeps what it had.
            match fault_at(text, &after, at) {
                Some(fault) => {
                    not_taken.push(fault);
                    Ok(text.to_owned())
                }
                None => Ok(after),
            }
        }
        Op::Add { at, name } if !name.trim().is_empty() => {
            let place = format!("{at}/{}", escape(name.trim()));
            if document.pointer(&place).is_some() {
                return Err(format!("there is `{}` already", name.trim()));
            }
            put(text, &document, &place, &first(&kind, at, &document))
        }
        Op::Add { at, .. } => append(text, &document, at, &first(&kind, at, &document)),
        Op::Copy { at } => {
            let (list, index) = entry(at)?;
            let mut value = document.pointer(at).cloned().ok_or("there is no such entry any more")?;
            if let (Value::Object(map), true) = (&mut value, list == "/runs") {
                map.insert("run".into(), json!(next_run(&document)));
            }
            splice::insert(text, list, index + 1, &value)
        }
        Op::Remove { at } => remove(text, &document, at),
        Op::Move { at, to } => {
            let (list, from) = entry(at)?;
            splice::move_entry(text, list, from, *to)
        }
        Op::Accept { check, at, reason, by } => {
            if reason.trim().is_empty() {
                return Err("a finding is accepted for a reason: say why it is sound".to_owned());
            }
            let mut deviation = Map::new();
            deviation.insert("check".into(), check.as_str().into());
            if !at.is_empty() {
                deviation.insert("at".into(), at.as_str().into());
            }
            deviation.insert("reason".into(), reason.trim().into());
            if !by.trim().is_empty() {
                deviation.insert("by".into(), by.trim().into());
            }
            append(text, &document, "/deviations", &Value::Object(deviation))
        }
        Op::Text { text } => Ok(text.clone()),
    }
}

/// What a new entry states at the least.
fn first(kind: &str, at: &str, document: &Value) -> Value {
    let process = document
        .get("processes")
        .and_then(Value::as_object)
        .and_then(|all| all.keys().next())
        .map(|name| name.parse::<u32>().map_or_else(|_| json!(name), |number| json!(number)));
    match (kind, at) {
        ("procedure", "/runs") => {
            json!({"run": next_run(document), "process": process.unwrap_or_else(|| json!("name the process"))})
        }
        ("procedure", "/parent_metals") => json!({"specification": "name the metal"}),
        ("procedure", "/fillers") => json!({"designation": "name the filler"}),
        ("procedure", "/inspection") => json!({"method": "visual"}),
        ("procedure", "/revisions") => json!({"revision": 1, "change": "what was changed"}),
        ("procedure", "/processes") => json!({"mechanization": "manual"}),
        (_, "/deviations") => json!({"check": "name of the check", "reason": "why it is sound"}),
        ("shop", "/power_sources") => json!({"name": "name of the machine"}),
        ("shop", "/torches" | "/regulators") => json!({"name": "name in the shop"}),
        ("shop", "/welders") => json!({"name": "name of the welder"}),
        _ => json!({"name": "name it"}),
    }
}

/// The number after the greatest run.
fn next_run(document: &Value) -> u64 {
    let last = |run: &Value| match run.get("run")? {
        Value::Number(number) => number.as_u64(),
        Value::String(text) => text.rsplit('-').next()?.trim().parse().ok(),
        _ => None,
    };
    document.get("runs").and_then(Value::as_array).into_iter().flatten().filter_map(last).max().unwrap_or(0) + 1
}

/// The list and the index of an entry.
fn entry(at: &str) -> Result<(&str, usize), String> {
    let (list, index) = at.rsplit_once('/').ok_or("this is no entry of a list")?;
    Ok((list, index.parse().map_err(|_| "this is no entry of a list")?))
}

/// Puts a value at a place, with the sections above it where they are missing.
fn put(text: &str, document: &Value, at: &str, value: &Value) -> Result<String, String> {
    let mut place = at.to_owned();
    let mut value = value.clone();
    // The first section from above that is there; what is missing below it goes in with the value.
    while let Some((above, key)) = place.clone().rsplit_once('/') {
        if above.is_empty() || document.pointer(above).is_some_and(|own| own.is_object() || own.is_array()) {
            break;
        }
        let mut map = Map::new();
        map.insert(key.replace("~1", "/").replace("~0", "~"), value);
        value = Value::Object(map);
        place = above.to_owned();
    }
    splice::set(text, &place, &value, &order(document, &place))
}

fn append(text: &str, document: &Value, list: &str, value: &Value) -> Result<String, String> {
    if document.pointer(list).is_some_and(|own| own.as_array().is_some_and(|all| !all.is_empty())) {
        splice::insert(text, list, usize::MAX, value)
    } else {
        put(text, document, list, &Value::Array(vec![value.clone()]))
    }
}

/// The keys of a document in the order of the format, where a key of its own is put in.
fn order(document: &Value, at: &str) -> Vec<String> {
    if at.matches('/').count() != 1 {
        return Vec::new();
    }
    let kind = document.get("document").and_then(Value::as_str).unwrap_or("procedure");
    let properties = seamwright_model::document::schema_of(kind).pointer("/properties").cloned();
    let root = properties.or_else(|| {
        let schema = seamwright_model::document::schema_of(kind);
        let target = schema.get("$ref")?.as_str()?.strip_prefix('#')?;
        schema.pointer(target)?.get("properties").cloned()
    });
    root.and_then(|own| own.as_object().map(|map| map.keys().cloned().collect())).unwrap_or_default()
}

/// Takes a value out, with the section above it where that would be left empty.
fn remove(text: &str, document: &Value, at: &str) -> Result<String, String> {
    let mut place = at.to_owned();
    while let Some((above, _)) = place.clone().rsplit_once('/') {
        let single = match document.pointer(above) {
            Some(Value::Object(map)) => map.len() == 1,
            Some(Value::Array(all)) => all.len() == 1,
            _ => false,
        };
        if above.is_empty() || !single || above.matches('/').count() < 1 {
            break;
        }
        // An entry of a list, or a process and filler that others name, stays though it is empty of what was typed.
        place = above.to_owned();
    }
    splice::remove(text, &place)
}

/// What is wrong at a place after a change and was not before.
fn fault_at(before: &str, after: &str, at: &str) -> Option<NotTaken> {
    let faults = |text: &str| {
        seamwright_model::load("page", text.as_bytes()).err().map(|(_, faults)| faults).unwrap_or_default()
    };
    let own = |pointer: &str| pointer == at || pointer.starts_with(&format!("{at}/"));
    let old = faults(before);
    faults(after)
        .into_iter()
        .find(|fault| own(&fault.pointer) || !old.iter().any(|one| one.message == fault.message))
        .map(|fault| NotTaken { pointer: at.to_owned(), message: fault.message, hint: fault.hint })
}
