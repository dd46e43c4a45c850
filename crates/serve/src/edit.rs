//! Changes of a document's text, as the page asks for them: fields filled, entries put in, moved and taken out.

use std::sync::Arc;

use seamwright_model::Loaded;
use seamwright_model::edit::Edit;
use seamwright_model::load::{Plain, load_plain, values_of};
use seamwright_model::source::escape;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value, json};

use crate::entries::{Moved, next_run};
use crate::form;
use crate::hints;

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
    /// JSON pointer of what is missing beside it.
    pub lacks: Option<String>,
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
    /// Entries that are at other places now, in the order in which they went there.
    moved: Vec<Moved>,
}

impl Standing {
    /// A text under the name of its file.
    pub fn new(name: &str, text: &str) -> Self {
        let (name, text) = (name.to_owned(), text.to_owned());
        Self { name, text, plain: None, values: None, loaded: None, not_taken: Vec::new(), moved: Vec::new() }
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

    /// Entries that are at other places now, in the order in which they went there.
    pub fn moved(&mut self) -> Vec<Moved> {
        std::mem::take(&mut self.moved)
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
            let (not_taken, moved) = (self.not_taken(), self.moved());
            *self = Self { not_taken, moved, ..Self::new(&self.name, text) };
            return Ok(());
        }
        let broken = "the text has faults: mend it in the text first";
        let plain = self.plain.take().or_else(|| Plain::read(&self.text).ok());
        let known = self.values.take().or_else(|| plain.as_ref().and_then(values_of).map(Arc::new));
        let (Some(plain), Some(document)) = (plain, known.filter(|own| own.is_object())) else {
            return self.refused(op, broken.to_owned());
        };
        let mut moved = None;
        let after = one(&plain, &document, op, &mut moved).and_then(|after| match (after, &moved) {
            (Some(after), Some(moved)) => moved.followed(after, &document).map(Some),
            (after, _) => Ok(after),
        });
        if after.is_ok() {
            self.moved.extend(moved);
        }
        match (after, op) {
            (Err(refused), _) => {
                (self.plain, self.values) = (Some(plain), Some(document));
                return self.refused(op, refused);
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

    /// What was typed and cannot be written stays in its field; any other change is refused.
    fn refused(&mut self, op: &Op, message: String) -> Result<(), String> {
        let Op::Type { at, .. } = op else { return Err(message) };
        self.not_taken.push(NotTaken { pointer: at.clone(), message, hint: None, lacks: None });
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

/// The text after a change, nothing where it changes nothing, and an entry that is at another place by it.
fn one(text: &Plain, document: &Value, op: &Op, moved: &mut Option<Moved>) -> Result<Option<Plain>, String> {
    let kind = document.get("document").and_then(Value::as_str).unwrap_or("procedure");
    Ok(Some(match op {
        Op::Type { at, text: typed } => match form::value_of(document, kind, at, typed) {
            None if document.pointer(at).is_none() => return Ok(None),
            None => remove(text, document, at, moved)?,
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
            let value = document.pointer(at).cloned().ok_or("there is no such entry any more")?;
            *moved = Some(Moved { list: list.to_owned(), from: None, to: Some(index + 1) });
            change(text, &Edit::Insert { pointer: format!("{list}/{}", index + 1), value, before: None })?
        }
        Op::Remove { at } => remove(text, document, at, moved)?,
        Op::Move { at, to } => {
            let (list, index) = entry(at)?;
            *moved = Some(Moved { list: list.to_owned(), from: Some(index), to: Some(*to) });
            change(text, &Edit::Move { pointer: at.clone(), to: *to })?
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
            append(text, "/deviations", Value::Object(deviation))?
        }
        Op::Text { .. } => return Ok(None),
    }))
}

/// What a new entry states: nothing that is not known, so that what lacks is told until it is filled.
fn first(kind: &str, at: &str, document: &Value) -> Value {
    let mut own = Map::new();
    if (kind, at) == ("procedure", "/runs") {
        own.insert("run".into(), json!(next_run(document)));
        let mut processes = document.get("processes").and_then(Value::as_object).into_iter().flat_map(Map::keys);
        // Of several, whoever writes it says which.
        if let (Some(name), None) = (processes.next(), processes.next()) {
            own.insert("process".into(), name.parse::<u32>().map_or_else(|_| json!(name), |number| json!(number)));
        }
    }
    Value::Object(own)
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
fn remove(text: &Plain, document: &Value, at: &str, moved: &mut Option<Moved>) -> Result<Plain, String> {
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
    *moved = entry(&place)
        .ok()
        .filter(|(list, _)| document.pointer(list).is_some_and(Value::is_array))
        .map(|(list, index)| Moved { list: list.to_owned(), from: Some(index), to: None });
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
        Some(fault) => Err(NotTaken {
            pointer: at.to_owned(),
            message: hints::message(&fault.message, &fault.pointer),
            hint: fault.hint.map(|hint| hints::hint(&hint, &fault.pointer)),
            lacks: hints::lacking(&fault.message).map(|_| fault.pointer.clone()),
        }),
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
        assert_eq!(numbers(&two), [1, 2, 3]);
        let moved = apply(&two, &[Op::Move { at: "/runs/2".into(), to: 0 }]).unwrap().0;
        assert_eq!(numbers(&moved), [1, 2, 3]);
        let one = apply(&moved, &[Op::Remove { at: "/runs/0".into() }]).unwrap().0;
        assert_eq!(numbers(&one), [1, 2]);
    }

    #[test]
    fn runs_that_follow_one_another_still_do() {
        let numbered = |runs: &str, op: Op| {
            let (head, _) = TEXT.split_once("runs:").unwrap();
            let after = apply(&format!("{head}runs:\n{runs}"), &[op]).unwrap().0;
            let runs = values(&after).unwrap()["runs"].as_array().unwrap().clone();
            runs.iter().map(|run| run["run"].to_string().replace('"', "")).collect::<Vec<_>>().join(" ")
        };
        let list =
            |all: &[&str]| all.iter().map(|run| format!("  - {{run: {run}, process: 141}}\n")).collect::<String>();
        let copy = |at: &str| Op::Copy { at: at.into() };
        let remove = |at: &str| Op::Remove { at: at.into() };
        assert_eq!(numbered(&list(&["1", "2", "3"]), copy("/runs/0")), "1 2 3 4");
        assert_eq!(numbered(&list(&["1", "2", "3", "4"]), remove("/runs/1")), "1 2 3");
        assert_eq!(numbered(&list(&["1", "2-4", "5-n"]), copy("/runs/1")), "1 2-4 5-7 8-n");
        assert_eq!(numbered(&list(&["1", "2-4", "5-n"]), remove("/runs/0")), "1-3 4-n");
        assert_eq!(numbered(&list(&["1", "2", "3"]), Op::Move { at: "/runs/2".into(), to: 1 }), "1 2 3");
        // What was not in order is left to whoever wrote it.
        assert_eq!(numbered(&list(&["1", "4", "3"]), remove("/runs/0")), "4 3");
        let both = "  - {run: 1, process: 141, condition: thin}\n  - {run: 2, process: 141, condition: thin}\n  - {run: 1, process: 141, condition: thick}\n";
        assert_eq!(numbered(both, remove("/runs/0")), "1 1");
        assert_eq!(numbered(both, copy("/runs/2")), "1 2 1 2");
    }

    #[test]
    fn an_accepted_finding_goes_with_its_entry() {
        let text = format!(
            "{TEXT}  - {{run: 2, process: 141}}\ndeviations:\n  - {{check: a, at: /runs/0, reason: one}}\n  - {{check: b, at: /runs/1/current, reason: two}}\n"
        );
        let (after, _) = apply(&text, &[Op::Remove { at: "/runs/0".into() }]).unwrap();
        let values = values(&after).unwrap();
        assert_eq!(values["deviations"], json!([{"check": "b", "at": "/runs/0/current", "reason": "two"}]));
        assert_eq!(values["runs"], json!([{"run": 1, "process": 141}]));
    }

    #[test]
    fn what_is_added_states_nothing_that_nobody_stated() {
        for (kind, text) in [
            ("procedure", TEXT),
            ("shop", "format: 1\ndocument: shop\nidentification: {number: S-1, revision: 1, title: Shop}\n"),
        ] {
            let form = form::form(kind, &values(text).unwrap());
            let mut count = 0;
            for add in form.sections.iter().filter_map(|section| section.add.as_ref()) {
                let name = if add.named { "name of it".to_owned() } else { String::new() };
                let (after, _) = apply(text, &[Op::Add { at: add.pointer.clone(), name }]).unwrap();
                let all = values(&after).unwrap();
                let added = match all.pointer(&add.pointer).unwrap() {
                    Value::Array(list) => list.last().unwrap(),
                    named => &named["name of it"],
                };
                let known = if add.pointer == "/runs" { json!({"run": 2}) } else { json!({}) };
                assert_eq!(*added, known, "{}", add.pointer);
                count += 1;
            }
            assert!(count > 3, "{kind}");
        }
    }

    #[test]
    fn what_cannot_be_written_stays_in_its_field() {
        let (text, refused) = apply("format: [1\n", &[typed("/joint/type", "lap")]).unwrap();
        assert_eq!((text.as_str(), refused[0].pointer.as_str()), ("format: [1\n", "/joint/type"));
        assert!(apply("format: [1\n", &[Op::Remove { at: "/joint".into() }]).is_err());
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
