//! Changes of a document's text, as the page asks for them: fields filled, entries put in, moved and taken out.

use seamwright_model::edit::{Edit, edit};
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
    /// A value of the format, as a fix has it.
    Put {
        /// JSON pointer of its place.
        at: String,
        /// The value.
        value: Value,
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
        matches!(self, Self::Type { .. } | Self::Put { .. } | Self::Accept { .. })
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
    seamwright_model::load::values(text.as_bytes())
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
        Op::Put { at, value } => put(text, &document, at, value),
        Op::Add { at, name } if !name.trim().is_empty() => {
            let place = format!("{at}/{}", escape(name.trim()));
            if document.pointer(&place).is_some() {
                return Err(format!("there is `{}` already", name.trim()));
            }
            put(text, &document, &place, &first(&kind, at, &document))
        }
        Op::Add { at, .. } => append(text, at, first(&kind, at, &document)),
        Op::Copy { at } => {
            let (list, index) = entry(at)?;
            let mut value = document.pointer(at).cloned().ok_or("there is no such entry any more")?;
            if let (Value::Object(map), true) = (&mut value, list == "/runs") {
                map.insert("run".into(), json!(next_run(&document)));
            }
            change(text, &Edit::Insert { pointer: format!("{list}/{}", index + 1), value, before: None })
        }
        Op::Remove { at } => remove(text, &document, at),
        Op::Move { at, to } => change(text, &Edit::Move { pointer: at.clone(), to: *to }),
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
            append(text, "/deviations", Value::Object(deviation))
        }
        Op::Text { text } => Ok(text.clone()),
    }
}

/// What a new entry states at the least.
fn first(kind: &str, at: &str, document: &Value) -> Value {
    let mut own = form::starter(kind, at);
    if let (Value::Object(map), "procedure", "/runs") = (&mut own, kind, at) {
        let processes = document.get("processes").and_then(Value::as_object);
        if let Some(name) = processes.and_then(|all| all.keys().next()) {
            map.insert("process".into(), name.parse::<u32>().map_or_else(|_| json!(name), |number| json!(number)));
        }
        map.insert("run".into(), json!(next_run(document)));
    }
    own
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

/// Changes one value; the refusal says what stands in the way.
fn change(text: &str, change: &Edit) -> Result<String, String> {
    edit(text, change).map(|edited| edited.text).map_err(|refused| refused.message)
}

/// Puts a value at a place; a new key of the document goes where the format has it.
fn put(text: &str, document: &Value, at: &str, value: &Value) -> Result<String, String> {
    let own = value;
    let (mut pointer, mut value) = (at.to_owned(), value.clone());
    if document.pointer(at).is_some() {
        return change(text, &Edit::Set { pointer, value });
    }
    let before = next_key(document, at);
    // A word in the place of a section, such as `none`, gives way to what is typed into it.
    let mut above = at;
    while let Some((section, key)) = above.rsplit_once('/') {
        above = section;
        value = Value::Object(Map::from_iter([(key.replace("~1", "/").replace("~0", "~"), value)]));
        match document.pointer(above) {
            Some(Value::String(_)) => return change(text, &Edit::Set { pointer: above.to_owned(), value }),
            Some(_) => break,
            None => {}
        }
    }
    let mut value = own.clone();
    // A section of the document that is missing is put in whole, at its place.
    while before.is_some() && pointer.matches('/').count() > 1 {
        let Some((above, key)) = pointer.rsplit_once('/') else { break };
        value = Value::Object(Map::from_iter([(key.replace("~1", "/").replace("~0", "~"), value)]));
        let kept = above.len();
        pointer.truncate(kept);
    }
    change(text, &Edit::Insert { pointer, value, before })
}

/// The key of the document before which a new one stands.
fn next_key(document: &Value, at: &str) -> Option<String> {
    let key = at.split('/').nth(1)?;
    let own = document.as_object()?;
    if own.contains_key(key) {
        return None;
    }
    let kind = document.get("document").and_then(Value::as_str).unwrap_or("procedure");
    let order: Vec<String> = form::keys(kind);
    let place = order.iter().position(|one| one == key)?;
    order.into_iter().skip(place + 1).find(|one| own.contains_key(one))
}

fn append(text: &str, list: &str, value: Value) -> Result<String, String> {
    change(text, &Edit::Append { pointer: list.to_owned(), value })
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
        let kept = above.len();
        place.truncate(kept);
    }
    change(text, &Edit::Remove { pointer: place })
}

/// What is wrong at a place after a change and was not before.
fn fault_at(before: &str, after: &str, at: &str) -> Option<NotTaken> {
    let faults = |text: &str| {
        seamwright_model::load("page", text.as_bytes()).err().map(|(_, faults)| faults).unwrap_or_default()
    };
    let own = |pointer: &str| pointer == at || pointer.starts_with(&format!("{at}/"));
    let new = faults(after);
    // A text that can be read has nothing wrong at any place; only where there is something, what was wrong before counts.
    let old = if new.is_empty() { Vec::new() } else { faults(before) };
    new.into_iter()
        .find(|fault| own(&fault.pointer) || !old.iter().any(|one| one.message == fault.message))
        .map(|fault| NotTaken { pointer: at.to_owned(), message: fault.message, hint: fault.hint })
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# head\nformat: 1\ndocument: procedure\nidentification: {number: P-1, revision: 1, title: Lap} # who\nparent_metals:\n  - {specification: S235JR, thickness: 2 mm}\nruns:\n  - {run: 1, process: 141}\n";

    fn after(op: Op) -> (String, Vec<NotTaken>) {
        apply(TEXT, &[op]).unwrap()
    }

    fn typed(at: &str, text: &str) -> Op {
        Op::Type { at: at.into(), text: text.into() }
    }

    #[test]
    fn a_section_that_is_missing_goes_where_the_format_has_it() {
        let (text, _) = after(typed("/joint/type", "lap"));
        assert!(text.contains("thickness: 2 mm}\njoint: {type: lap}\nruns:"), "{text}");
        assert!(text.starts_with("# head\n") && text.contains("# who"));
    }

    #[test]
    fn what_is_typed_takes_the_place_of_none() {
        let text = TEXT.replace("runs:", "processes:\n  141:\n    shielding_gas: none # so far\nruns:");
        let (after, refused) = apply(&text, &[typed("/processes/141/shielding_gas/flow", "8 lpm")]).unwrap();
        assert_eq!(refused, []);
        assert!(after.contains("    shielding_gas: {flow: 8 L/min} # so far\n"), "{after}");
        let (back, _) = apply(&after, &[typed("/processes/141/shielding_gas", "none")]).unwrap();
        assert_eq!(back, text);
    }

    #[test]
    fn what_is_not_understood_is_not_in_the_text() {
        let (text, refused) = after(typed("/parent_metals/0/thickness", "two bananas"));
        assert_eq!(text, TEXT);
        assert_eq!(refused[0].pointer, "/parent_metals/0/thickness");
        let (text, refused) = after(typed("/parent_metals/0/thickness", "1/8\""));
        assert!(refused.is_empty() && text.contains("thickness: 1/8 in"));
    }

    #[test]
    fn an_emptied_field_is_taken_out() {
        let (text, _) = after(typed("/parent_metals/0/thickness", " "));
        assert!(text.contains("- {specification: S235JR}"), "{text}");
    }

    #[test]
    fn runs_are_added_copied_moved_and_taken_out() {
        let two =
            apply(TEXT, &[Op::Add { at: "/runs".into(), name: String::new() }, Op::Copy { at: "/runs/0".into() }])
                .unwrap()
                .0;
        let numbers = |text: &str| -> Vec<u64> {
            values(text).unwrap()["runs"].as_array().unwrap().iter().map(|run| run["run"].as_u64().unwrap()).collect()
        };
        assert_eq!(numbers(&two), [1, 3, 2]);
        let moved = apply(&two, &[Op::Move { at: "/runs/2".into(), to: 0 }]).unwrap().0;
        assert_eq!(numbers(&moved), [2, 1, 3]);
        let one = apply(&moved, &[Op::Remove { at: "/runs/0".into() }]).unwrap().0;
        assert_eq!(numbers(&one), [1, 3]);
    }

    #[test]
    fn a_finding_is_accepted_for_a_reason_only() {
        let accept = |reason: &str| Op::Accept {
            check: "x".into(),
            at: "/runs/0".into(),
            reason: reason.into(),
            by: "A. B.".into(),
        };
        assert!(apply(TEXT, &[accept("  ")]).is_err());
        let text = after(accept("tried")).0;
        assert_eq!(
            values(&text).unwrap()["deviations"][0],
            json!({"check": "x", "at": "/runs/0", "reason": "tried", "by": "A. B."})
        );
    }
}
