//! Schema and document to groups of fields.

use seamwright_handbook::processes;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::document::schema_of;
use seamwright_model::source::escape;
use serde_json::Value;

use super::{Add, Column, Field, Form, Group, Kind, Section, Table, TableRow};

/// Keys that mark the file; nobody fills them.
const MARKS: [&str; 2] = ["format", "document"];
/// Columns that the runs always have.
const ALWAYS: [&str; 6] = ["run", "layer", "process", "current", "voltage", "travel_speed"];

/// Columns that the joints of a job always have.
const JOINTS: [&str; 6] = ["joint", "procedure", "machine", "welder", "length", "pieces"];

/// A document as a form, from its values; what cannot be read as a document is shown as far as it can be.
pub fn form(kind: &str, document: &Value) -> Form {
    let walk = Walk::new(kind);
    let root = walk.resolved(walk.schema);
    let mut sections = Vec::new();
    let (mut own, mut remarks) = (Group::default(), Group::default());
    for (key, part) in properties(root) {
        if MARKS.contains(&key.as_str()) {
            continue;
        }
        let pointer = format!("/{}", escape(key));
        let value = document.get(key);
        if walk.is_plain(part) {
            // What a document states beside its sections stands with its number and title.
            let field = walk.field(key, part, &pointer, value, required(root, key));
            if field.kind == Kind::Lines {
                remarks.fields.push(field);
            } else {
                own.fields.push(field);
            }
            continue;
        }
        sections.push(walk.section(key, part, &pointer, value, document));
    }
    // Positions stand with the joint; of other documents, what has no section stands with number and title.
    let place = sections.iter().position(|section| section.key == "joint").unwrap_or_default();
    if let (Some(section), false) = (sections.get_mut(place), own.fields.is_empty()) {
        section.groups.push(own);
    }
    if !remarks.fields.is_empty() {
        let title = "Notes".to_owned();
        let (key, pointer) = ("notes".to_owned(), "/notes".to_owned());
        sections.push(Section { key, title, aws: None, pointer, groups: vec![remarks], table: None, add: None });
    }
    let shape = shape(&sections);
    Form { kind: kind.to_owned(), sections, shape }
}

/// What a new entry at a place states at the least: what the format requires, with the example of each.
pub fn starter(kind: &str, pointer: &str) -> Value {
    let walk = Walk::new(kind);
    let mut schema = walk.resolved(walk.schema);
    for step in seamwright_model::source::steps(pointer) {
        let below = schema.get("properties").and_then(|all| all.get(&step));
        let below = below.or_else(|| schema.get("items")).or_else(|| schema.get("additionalProperties"));
        let Some(below) = below else { break };
        schema = walk.resolved(below);
    }
    let item = schema.get("items").or_else(|| schema.get("additionalProperties").filter(|own| own.is_object()));
    let item = item.map_or(schema, |item| walk.resolved(item));
    let all: Vec<(&String, &Value)> = properties(item).collect();
    let mut own = serde_json::Map::new();
    for (place, (key, part)) in all.iter().enumerate() {
        let none_required = item.get("required").is_none() && place == 0;
        if !required(item, key) && !none_required {
            continue;
        }
        let part = walk.resolved(part);
        let example = part.pointer("/enum/0").or_else(|| part.pointer("/examples/0")).cloned();
        own.insert(
            (*key).clone(),
            example.unwrap_or_else(|| Value::from(format!("{} to be named", key.replace('_', " ")))),
        );
    }
    Value::Object(own)
}

/// The keys of a kind of document, in the order of the format.
pub fn keys(kind: &str) -> Vec<String> {
    let walk = Walk::new(kind);
    properties(walk.resolved(walk.schema)).map(|(key, _)| key.clone()).collect()
}

/// A text that is the same where the same fields stand in the form.
fn shape(sections: &[Section]) -> String {
    let mut all = String::new();
    let mut add = |fields: &[Field], what: &str| {
        for field in fields {
            all.push_str(what);
            all.push_str(&field.pointer);
        }
    };
    for section in sections {
        for group in &section.groups {
            add(&group.fields, "+");
            add(&group.more, "-");
            add(&group.elsewhere, "!");
        }
        for row in section.table.iter().flat_map(|table| &table.rows) {
            add(&row.fields, "=");
            for group in &row.more {
                add(&group.fields, "+");
                add(&group.more, "-");
            }
        }
    }
    crate::folder::digest(all.as_bytes()).chars().take(12).collect()
}

/// The schema that is walked.
struct Walk {
    schema: &'static Value,
    procedure: bool,
    job: bool,
}

impl Walk {
    fn new(kind: &str) -> Self {
        Self { schema: schema_of(kind), procedure: kind == "procedure", job: kind == "job" }
    }

    /// A part of the schema with its reference followed, and what a word may stand for passed over.
    fn resolved<'s>(&'s self, part: &'s Value) -> &'s Value {
        let part = part.get("else").filter(|_| part.get("if").is_some()).unwrap_or(part);
        let target = part.get("$ref").and_then(Value::as_str).and_then(|own| own.strip_prefix('#'));
        target.and_then(|own| self.schema.pointer(own)).unwrap_or(part)
    }

    /// Whether a part is filled by one field.
    fn is_plain(&self, part: &Value) -> bool {
        let own = self.resolved(part);
        if own.get("properties").is_some() {
            return false;
        }
        match own.get("items") {
            Some(items) => self.resolved(items).get("properties").is_none(),
            None => {
                own.get("additionalProperties").is_none_or(|below| self.resolved(below).get("properties").is_none())
            }
        }
    }

    fn section(&self, key: &str, part: &Value, pointer: &str, value: Option<&Value>, document: &Value) -> Section {
        let own = self.resolved(part);
        let (title, aws) = self.terms(pointer, key);
        let mut section = Section {
            key: key.to_owned(),
            title,
            aws,
            pointer: pointer.to_owned(),
            groups: Vec::new(),
            table: None,
            add: None,
        };
        if let Some(items) = own.get("items") {
            let item = self.resolved(items);
            let entries = value.and_then(Value::as_array).map(Vec::as_slice).unwrap_or_default();
            section.add = Some(Add { pointer: pointer.to_owned(), what: singular(key), named: false, list: None });
            if (self.procedure && key == "runs") || (self.job && key == "joints") {
                section.table = Some(self.table(pointer, item, entries, document));
            } else {
                for (index, entry) in entries.iter().enumerate() {
                    let title = format!("{} {}", capital(&singular(key)), index + 1);
                    self.groups(
                        item,
                        &format!("{pointer}/{index}"),
                        Some(entry),
                        &title,
                        true,
                        None,
                        &mut section.groups,
                    );
                }
            }
        } else if let Some(below) = own.get("additionalProperties").filter(|below| below.is_object()) {
            let item = self.resolved(below);
            let list = (key == "processes").then_some("processes");
            section.add = Some(Add { pointer: pointer.to_owned(), what: singular(key), named: true, list });
            for (name, entry) in value.and_then(Value::as_object).into_iter().flatten() {
                let process = (key == "processes").then(|| processes::get(name)).flatten();
                let title = process.map_or_else(|| name.clone(), |row| format!("{name}: {}", row.name));
                self.groups(
                    item,
                    &format!("{pointer}/{}", escape(name)),
                    Some(entry),
                    &title,
                    true,
                    process,
                    &mut section.groups,
                );
            }
        } else {
            self.groups(own, pointer, value, "", false, None, &mut section.groups);
            let words = part.pointer("/then/enum").and_then(Value::as_array);
            if let (Some(words), Some(group)) = (words, section.groups.first_mut()) {
                // `none` in the place of the part.
                let mut field = self.field(key, part, pointer, value.filter(|own| own.is_string()), false);
                field.kind = Kind::Word;
                field.words = words.iter().filter_map(Value::as_str).map(str::to_owned).collect();
                group.fields.insert(0, field);
            }
        }
        section
    }

    /// The fields of an object: its own group, and one for each part below it.
    #[expect(clippy::too_many_arguments, reason = "each says what the group is of")]
    fn groups(
        &self,
        schema: &Value,
        pointer: &str,
        value: Option<&Value>,
        title: &str,
        entry: bool,
        process: Option<&'static processes::Row>,
        all: &mut Vec<Group>,
    ) {
        let mut group = Group { title: title.to_owned(), pointer: pointer.to_owned(), entry, ..Group::default() };
        let mut below = Vec::new();
        for (key, part) in properties(schema) {
            let own = format!("{pointer}/{}", escape(key));
            let inside = value.and_then(|value| value.get(key));
            let has = process.is_none_or(|row| row.has_key(key));
            if self.is_plain(part) {
                let field = self.field(key, part, &own, inside, required(schema, key));
                self.put(&mut group, field, has);
            } else if self.resolved(part).get("items").is_some() {
                let item = self.resolved(self.resolved(part).get("items").unwrap_or(part));
                group.adds.push(Add { pointer: own.clone(), what: singular(key), named: false, list: None });
                for (index, one) in inside.and_then(Value::as_array).into_iter().flatten().enumerate() {
                    let title = format!("{} {}", self.terms(&own, key).0, index + 1);
                    self.groups(item, &format!("{own}/{index}"), Some(one), &title, true, None, &mut below);
                }
            } else {
                let name = self.terms(&own, key).0;
                let word = part.pointer("/then/enum").and_then(Value::as_array);
                let mut inner = Vec::new();
                self.groups(
                    self.resolved(part),
                    &own,
                    inside.filter(|own| own.is_object()),
                    &name,
                    false,
                    None,
                    &mut inner,
                );
                if let Some(words) = word {
                    let mut field = self.field(key, part, &own, inside.filter(|own| own.is_string()), false);
                    field.kind = Kind::Word;
                    field.words = words.iter().filter_map(Value::as_str).map(str::to_owned).collect();
                    if let Some(first) = inner.first_mut() {
                        first.more.insert(0, field);
                    }
                }
                let stated = inside.is_some();
                for own in &mut inner {
                    if !stated {
                        // A part that is not stated at all is folded whole.
                        let fields = std::mem::take(&mut own.fields);
                        if has {
                            own.more.splice(0..0, fields)
                        } else {
                            own.elsewhere.splice(0..0, fields)
                        };
                        if !has {
                            let more = std::mem::take(&mut own.more);
                            own.elsewhere.extend(more);
                        }
                    }
                }
                below.append(&mut inner);
            }
        }
        all.push(group);
        all.append(&mut below);
    }

    /// Puts a field where it belongs: what is stated or asked for first.
    fn put(&self, group: &mut Group, field: Field, has: bool) {
        let row = self.procedure.then(|| variables::get(&field.pointer)).flatten();
        let asked = row.is_none_or(|row| row.beside.is_none()) || field.required;
        if !field.value.is_empty() || (asked && has) {
            group.fields.push(field);
        } else if has {
            group.more.push(field);
        } else {
            group.elsewhere.push(field);
        }
    }

    /// The runs as a table: the columns that runs always have and those that one of them states; the rest below each row.
    fn table(&self, pointer: &str, schema: &Value, entries: &[Value], document: &Value) -> Table {
        let wire = entries
            .iter()
            .filter_map(|entry| entry.get("process"))
            .map(text)
            .any(|name| processes::get(&name).is_some_and(|row| row.uses_wire_feed));
        let shown = |key: &str, part: &Value| {
            let stated = entries.iter().any(|entry| entry.get(key).is_some());
            let always: &[&str] = if self.job { &JOINTS } else { &ALWAYS };
            self.is_plain(part) && (always.contains(&key) || stated || (key == "wire_feed_speed" && wire))
        };
        let keys: Vec<&String> =
            properties(schema).filter(|(key, part)| shown(key, part)).map(|(key, _)| key).collect();
        let columns = keys
            .iter()
            .map(|key| {
                let own = format!("{pointer}/0/{key}");
                let part = schema.get("properties").and_then(|all| all.get(key.as_str())).unwrap_or(schema);
                let field = self.field(key, part, &own, None, false);
                Column { key: (*key).clone(), label: field.label, meaning: field.meaning }
            })
            .collect();
        let rows = entries
            .iter()
            .enumerate()
            .map(|(index, entry)| {
                let own = format!("{pointer}/{index}");
                let process = entry.get("process").map(text).unwrap_or_default();
                let block = document.get("processes").and_then(|all| all.get(&process));
                let row = processes::get(&process);
                let mut groups = Vec::new();
                self.groups(schema, &own, Some(entry), "", false, row, &mut groups);
                let mut fields: Vec<Option<Field>> = vec![None; keys.len()];
                for group in &mut groups {
                    for list in [&mut group.fields, &mut group.more, &mut group.elsewhere] {
                        list.retain(|field| {
                            let key = field.pointer.strip_prefix(&own).unwrap_or_default().trim_start_matches('/');
                            let place = keys.iter().position(|own| *own == key);
                            if let Some(slot) = place.and_then(|place| fields.get_mut(place)) {
                                let mut field = field.clone();
                                field.inherited = block.and_then(|block| block.get(key)).map(text).unwrap_or_default();
                                *slot = Some(field);
                            }
                            place.is_none()
                        });
                    }
                    // What a run does not state it has from its process.
                    let seldom: Vec<Field> = {
                        let (stated, not) =
                            std::mem::take(&mut group.fields).into_iter().partition(|field| !field.value.is_empty());
                        group.fields = stated;
                        not
                    };
                    group.more.splice(0..0, seldom);
                    group.elsewhere.clear();
                }
                groups.retain(|group| !group.fields.is_empty() || !group.more.is_empty());
                TableRow { pointer: own, fields: fields.into_iter().flatten().collect(), more: groups }
            })
            .collect();
        let figures = if self.job {
            vec![("hours", "Time"), ("each", "Each"), ("price", "Price")]
        } else {
            vec![("heat", "Heat input"), ("cooling", "Cooling t8/5"), ("deposit", "Deposit")]
        };
        Table { pointer: pointer.to_owned(), columns, rows, figures }
    }

    fn field(&self, key: &str, part: &Value, pointer: &str, value: Option<&Value>, required: bool) -> Field {
        let own = self.resolved(part);
        let (label, aws) = self.terms(pointer, key);
        let format = own.get("format").and_then(Value::as_str);
        let quantity = format.filter(|format| seamwright_model::quantity::FORMATS.contains(format));
        let words: Vec<String> = own
            .get("enum")
            .and_then(Value::as_array)
            .into_iter()
            .flatten()
            .filter_map(Value::as_str)
            .map(str::to_owned)
            .collect();
        let kind = if !words.is_empty() && own.get("items").is_none() {
            Kind::Word
        } else if quantity.is_some() {
            Kind::Quantity
        } else if own.get("items").is_some() {
            if matches!(key, "notes" | "objectives" | "good" | "measures") { Kind::Lines } else { Kind::List }
        } else if let Some(below) = own.get("additionalProperties").filter(|below| below.is_object()) {
            if self.resolved(below).get("type").is_some_and(|kind| kind == "number") {
                Kind::Composition
            } else {
                Kind::Pairs
            }
        } else if format == Some("date") {
            Kind::Date
        } else if matches!(key, "reason" | "tack_welds" | "cleaning" | "note") {
            Kind::Lines
        } else {
            Kind::Text
        };
        let example = own.get("examples").and_then(|all| all.get(0)).map(text).unwrap_or_default();
        let meaning = match self.procedure.then(|| variables::get(pointer)).flatten() {
            Some(row) => row.meaning.clone(),
            None => part
                .get("description")
                .or(own.get("description"))
                .and_then(Value::as_str)
                .unwrap_or_default()
                .to_owned(),
        };
        Field {
            pointer: pointer.to_owned(),
            label,
            aws,
            meaning,
            kind,
            format: quantity.map(str::to_owned),
            value: value.map(|value| shown(value, kind)).unwrap_or_default(),
            inherited: String::new(),
            words,
            list: super::choices::list_of(pointer, key),
            example,
            required,
        }
    }

    /// The terms of ISO and, where they differ, of AWS for a place.
    fn terms(&self, pointer: &str, key: &str) -> (String, Option<String>) {
        match self.procedure.then(|| variables::get(pointer)).flatten() {
            Some(row) => (row.term(Terms::Iso).to_owned(), row.aws_term.clone()),
            None => (capital(&key.replace('_', " ")), None),
        }
    }
}

fn properties(schema: &Value) -> impl Iterator<Item = (&String, &Value)> {
    schema.get("properties").and_then(Value::as_object).into_iter().flatten()
}

fn required(schema: &Value, key: &str) -> bool {
    schema.get("required").and_then(Value::as_array).is_some_and(|all| all.iter().any(|own| own == key))
}

/// A value as it stands in a field.
fn shown(value: &Value, kind: Kind) -> String {
    match value {
        Value::Array(all) => {
            all.iter().map(text).collect::<Vec<_>>().join(if kind == Kind::Lines { "\n" } else { ", " })
        }
        Value::Object(all) => {
            all.iter().map(|(key, value)| format!("{key} {}", text(value))).collect::<Vec<_>>().join(", ")
        }
        other => text(other),
    }
}

/// A single value as text.
fn text(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::Null => String::new(),
        other => other.to_string(),
    }
}

/// One of what a list holds: `parent_metals` is `metal`.
fn singular(key: &str) -> String {
    let word = key.rsplit('_').next().unwrap_or(key).replace('_', " ");
    match word.as_str() {
        "processes" => "process".to_owned(),
        "inspection" => "examination".to_owned(),
        _ => word.strip_suffix('s').map_or(word.clone(), str::to_owned),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    fn value(path: &str) -> (String, Value) {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(path);
        let bytes = std::fs::read(&path).unwrap();
        let loaded = seamwright_model::load("x", &bytes).unwrap();
        (loaded.document.kind().to_owned(), loaded.tree.to_value())
    }

    fn pointers(form: &Form) -> Vec<&Field> {
        let mut all = Vec::new();
        for section in &form.sections {
            let tables = section.table.iter().flat_map(|table| &table.rows);
            for group in section.groups.iter().chain(tables.clone().flat_map(|row| &row.more)) {
                all.extend(group.fields.iter().chain(&group.more).chain(&group.elsewhere));
            }
            all.extend(tables.flat_map(|row| &row.fields));
        }
        all
    }

    fn scalars(value: &Value, at: &str, all: &mut Vec<String>) {
        match value {
            Value::Object(map) => map.iter().for_each(|(key, own)| scalars(own, &format!("{at}/{}", escape(key)), all)),
            Value::Array(items) => {
                items.iter().enumerate().for_each(|(n, own)| scalars(own, &format!("{at}/{n}"), all));
            }
            _ => all.push(at.to_owned()),
        }
    }

    #[test]
    fn every_value_of_every_document_stands_in_one_field() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let mut files = Vec::new();
        for folder in ["procedures", "examples/job", "examples/shop", "examples/lesson", "examples/inspection"] {
            files.extend(std::fs::read_dir(root.join(folder)).unwrap().map(|entry| entry.unwrap().path()));
        }
        let mut seen = 0;
        for file in files.iter().filter(|file| file.extension().is_some_and(|ending| ending == "yaml")) {
            let Ok(loaded) = seamwright_model::load("x", &std::fs::read(file).unwrap()) else { continue };
            let document = loaded.tree.to_value();
            let form = form(loaded.document.kind(), &document);
            let fields = pointers(&form);
            let mut stated = Vec::new();
            scalars(&document, "", &mut stated);
            for pointer in stated.iter().filter(|own| !matches!(own.as_str(), "/format" | "/document")) {
                let of =
                    |field: &&&Field| *pointer == field.pointer || pointer.starts_with(&format!("{}/", field.pointer));
                let own: Vec<_> = fields.iter().filter(of).filter(|field| !field.value.is_empty()).collect();
                assert_eq!(own.len(), 1, "{}: {pointer}: {own:#?}", file.display());
                seen += 1;
            }
        }
        assert!(seen > 2000, "{seen}");
    }

    #[test]
    fn what_a_process_does_not_have_is_folded() {
        let (kind, document) = value("procedures/lap-fillet-2-carbon-141.yaml");
        let form = form(&kind, &document);
        let section = form.sections.iter().find(|section| section.key == "processes").unwrap();
        let group = &section.groups[0];
        assert!(group.title.starts_with("141: "));
        assert!(group.elsewhere.iter().any(|field| field.pointer == "/processes/141/wire_feed_speed"));
        assert!(group.fields.iter().any(|field| field.pointer == "/processes/141/polarity"));
    }

    #[test]
    fn a_run_shows_what_it_has_from_its_process() {
        let (kind, mut document) = value("procedures/lap-fillet-2-carbon-141.yaml");
        document["runs"][0].as_object_mut().unwrap().remove("current");
        document["processes"]["141"]["current"] = "70-90 A".into();
        let form = form(&kind, &document);
        let table = form.sections.iter().find_map(|section| section.table.as_ref()).unwrap();
        let current = table.rows[0].fields.iter().find(|field| field.pointer == "/runs/0/current").unwrap();
        assert_eq!((current.value.as_str(), current.inherited.as_str()), ("", "70-90 A"));
        assert_eq!(table.columns.len(), table.rows[0].fields.len());
    }

    #[test]
    fn the_shape_is_that_of_the_fields_and_not_of_the_values() {
        let (kind, mut document) = value("procedures/lap-fillet-2-carbon-141.yaml");
        let before = form(&kind, &document).shape;
        document["identification"]["title"] = "Another".into();
        assert_eq!(form(&kind, &document).shape, before);
        document["parent_metals"].as_array_mut().unwrap().push(serde_json::json!({"specification": "304L"}));
        assert_ne!(form(&kind, &document).shape, before);
    }
}
