//! Changes of a document's text, as the page asks for them: fields filled, entries put in, moved and taken out.

use std::sync::Arc;

use seamwright_model::Loaded;
use seamwright_model::edit::Edit;
use seamwright_model::load::{Plain, load_plain, values_of};
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

/// A text that was parsed: its values as they are written, and as values.
pub type Parsed = (Plain, Arc<Value>);

/// The values of a text, as far as it is YAML.
pub fn values(text: &str) -> Option<Value> {
    seamwright_model::load::values(text.as_bytes())
}

/// A text that is changed, with what was read of it: nothing is parsed twice.
pub struct Standing {
    name: String,
    text: String,
    /// Its values as they are written.
    plain: Option<Plain>,
    /// The same as values.
    values: Option<Arc<Value>>,
    /// The document, where it was read whole.
    loaded: Option<Loaded>,
    /// What was typed and not taken.
    not_taken: Vec<NotTaken>,
}

impl Standing {
    /// A text under the name of its file.
    pub fn new(name: &str, text: &str) -> Self {
        let (name, text) = (name.to_owned(), text.to_owned());
        Self { name, text, plain: None, values: None, loaded: None, not_taken: Vec::new() }
    }

    /// The same, parsed before.
    #[must_use]
    pub fn parsed(mut self, parsed: Option<Parsed>) -> Self {
        if let Some((plain, values)) = parsed.filter(|(own, _)| own.text() == self.text) {
            (self.plain, self.values) = (Some(plain), Some(values));
        }
        self
    }

    /// What was typed and not taken.
    pub fn not_taken(&mut self) -> Vec<NotTaken> {
        std::mem::take(&mut self.not_taken)
    }

    /// Its text, its values, and what of it was parsed and read as a document: a text with faults has no values.
    pub fn into_parts(self) -> (String, Arc<Value>, Option<Parsed>, Option<Loaded>) {
        let of_text = || self.plain.as_ref().map_or_else(|| values(&self.text), values_of);
        let values = self.values.unwrap_or_else(|| Arc::new(of_text().unwrap_or(Value::Null)));
        let parsed = self.plain.map(|plain| (plain, Arc::clone(&values)));
        (self.text, values, parsed, self.loaded)
    }

    fn put(&mut self, plain: Plain, read: Option<(Loaded, Value)>) {
        plain.text().clone_into(&mut self.text);
        let (loaded, values) = read.unzip();
        (self.plain, self.values, self.loaded) = (Some(plain), values.map(Arc::new), loaded);
    }

    /// Makes a change; `Err` says in words why it cannot be made, and then nothing is changed.
    pub fn change(&mut self, op: &Op) -> Result<(), String> {
        if let Op::Text { text } = op {
            *self = Self { not_taken: std::mem::take(&mut self.not_taken), ..Self::new(&self.name, text) };
            return Ok(());
        }
        let broken = "the text has faults: mend it in the text first";
        let plain = self.plain.take().or_else(|| Plain::read(&self.text).ok()).ok_or(broken)?;
        let known = self.values.take().or_else(|| values_of(&plain).map(Arc::new));
        let document = known.filter(|own| own.is_object()).ok_or(broken)?;
        let after = one(&plain, &document, op);
        match (after, op) {
            (Err(refused), _) => {
                (self.plain, self.values) = (Some(plain), Some(document));
                return Err(refused);
            }
            (Ok(None), _) => (self.plain, self.values) = (Some(plain), Some(document)),
            // What is not yet right stays in the field: the text keeps what it had.
            (Ok(Some(after)), Op::Type { at, text }) if !text.trim().is_empty() => {
                match fault_at(&self.name, &plain, &after, at) {
                    Ok(read) => self.put(after, read.map(|own| *own)),
                    Err(fault) => {
                        self.not_taken.push(fault);
                        (self.plain, self.values) = (Some(plain), Some(document));
                    }
                }
            }
            (Ok(Some(after)), _) => self.put(after, None),
        }
        Ok(())
    }
}

/// A text after changes, and what was typed and not taken.
///
/// `Err` says in words why a change cannot be made; then nothing is changed.
pub fn apply(text: &str, ops: &[Op]) -> Result<(String, Vec<NotTaken>), String> {
    let mut standing = Standing::new("page", text);
    ops.iter().try_for_each(|op| standing.change(op))?;
    Ok((standing.text, standing.not_taken))
}

/// The text after a change; nothing where it changes nothing.
fn one(text: &Plain, document: &Value, op: &Op) -> Result<Option<Plain>, String> {
    let kind = document.get("document").and_then(Value::as_str).unwrap_or("procedure");
    Ok(Some(match op {
        Op::Type { at, text: typed } => match form::value_of(document, kind, at, typed) {
            None if document.pointer(at).is_none() => return Ok(None),
            None => remove(text, document, at)?,
            Some(value) if document.pointer(at) == Some(&value) => return Ok(None),
            Some(value) => put(text, document, at, &value)?,
        },
        Op::Put { at, value } => put(text, document, at, value)?,
        Op::Add { at, name } if !name.trim().is_empty() => {
            let place = format!("{at}/{}", escape(name.trim()));
            if document.pointer(&place).is_some() {
                return Err(format!("there is `{}` already", name.trim()));
            }
            put(text, document, &place, &first(kind, at, document))?
        }
        Op::Add { at, .. } => append(text, at, first(kind, at, document))?,
        Op::Copy { at } => {
            let (list, index) = entry(at)?;
            let mut value = document.pointer(at).cloned().ok_or("there is no such entry any more")?;
            if let (Value::Object(map), true) = (&mut value, list == "/runs") {
                map.insert("run".into(), json!(next_run(document)));
            }
            change(text, &Edit::Insert { pointer: format!("{list}/{}", index + 1), value, before: None })?
        }
        Op::Remove { at } => remove(text, document, at)?,
        Op::Move { at, to } => change(text, &Edit::Move { pointer: at.clone(), to: *to })?,
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
            append(text, "/deviations", Value::Object(deviation))?
        }
        Op::Text { .. } => return Ok(None),
    }))
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
fn change(text: &Plain, change: &Edit) -> Result<Plain, String> {
    text.edit(change).map(|(after, ..)| after).map_err(|refused| refused.message)
}

/// Puts a value at a place; a new key of the document goes where the format has it.
fn put(text: &Plain, document: &Value, at: &str, value: &Value) -> Result<Plain, String> {
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

fn append(text: &Plain, list: &str, value: Value) -> Result<Plain, String> {
    change(text, &Edit::Append { pointer: list.to_owned(), value })
}

/// Takes a value out, with the section above it where that would be left empty.
fn remove(text: &Plain, document: &Value, at: &str) -> Result<Plain, String> {
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

/// The document after a change with its plain values, where it can be read; `Err` is what is wrong at the place and was not before.
fn fault_at(name: &str, before: &Plain, after: &Plain, at: &str) -> Result<Option<Box<(Loaded, Value)>>, NotTaken> {
    let new = match load_plain(name, after) {
        Ok(read) => return Ok(Some(Box::new(read))),
        Err((_, faults)) => faults,
    };
    let old = load_plain(name, before).err().map(|(_, faults)| faults).unwrap_or_default();
    let own = |pointer: &str| pointer == at || pointer.starts_with(&format!("{at}/"));
    let fault =
        new.into_iter().find(|fault| own(&fault.pointer) || !old.iter().any(|one| one.message == fault.message));
    match fault {
        Some(fault) => Err(NotTaken { pointer: at.to_owned(), message: fault.message, hint: fault.hint }),
        None => Ok(None),
    }
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
