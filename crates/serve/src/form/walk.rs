//! Schema and document to groups of fields.

use std::cell::{Cell, RefCell};
use std::collections::HashMap;
use std::sync::Arc;

use seamwright_handbook::processes;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::capital::capital;
use seamwright_model::document::schema_of;
use seamwright_model::source::{escape, steps};
use serde_json::Value;

use super::wording::{heading, help, shown, singular, text};
use super::{Add, Column, Field, Form, Group, Kind, Plate, Section, Table, TableRow, What};

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
        if MARKS.contains(&key) {
            continue;
        }
        let pointer = format!("/{}", escape(key));
        let value = document.get(key);
        if walk.is_plain(part) {
            // What a document states beside its sections stands with its number and title.
            let field = walk.field(key, part, &pointer, value, required(root, key));
            if field.what.kind == Kind::Lines {
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
        let (groups, plates) = (vec![remarks], Vec::new());
        sections.push(Section { key, title, aws: None, help: None, pointer, groups, plates, table: None, add: None });
    }
    Form { kind: kind.to_owned(), sections }
}

/// The field at a place of a document; nothing where the form has none there.
pub fn field_at(kind: &str, document: &Value, pointer: &str) -> Option<Field> {
    let walk = Walk::new(kind);
    let (above, last) = pointer.rsplit_once('/')?;
    let mut schema = walk.resolved(walk.schema);
    for step in steps(above) {
        let below = schema.get("properties").and_then(|all| all.get(&step));
        let below = below.or_else(|| schema.get("items")).or_else(|| schema.get("additionalProperties"));
        schema = walk.resolved(below?);
    }
    let last = steps(&format!("/{last}")).next()?;
    let (key, part) = properties(schema).find(|(key, _)| *key == last)?;
    let value = document.pointer(pointer);
    let mut field = if walk.is_plain(part) {
        walk.field(key, part, pointer, value, required(schema, key))
    } else {
        walk.word_field(key, part, pointer, value)?
    };
    if let Some(place) = pointer.strip_prefix("/runs/").filter(|_| walk.procedure).and_then(|own| own.find('/')) {
        let row = pointer.get(.."/runs/".len() + place).unwrap_or_default();
        let run = document.pointer(row)?;
        field.inherited = inherited(block_of(document, run), run, &field, row);
    }
    Some(field)
}

/// What an entry of a table may state beside the columns of its row; nothing where there is no such entry.
pub fn below(kind: &str, document: &Value, row: &str) -> Option<Vec<Group>> {
    let walk = Walk::new(kind);
    let (list, _) = row.rsplit_once('/')?;
    let key = list.strip_prefix('/').filter(|key| walk.is_table(key))?;
    let (entries, entry) = (document.pointer(list)?.as_array()?, document.pointer(row)?);
    let (_, part) = properties(walk.resolved(walk.schema)).find(|(own, _)| *own == key)?;
    let schema = walk.resolved(walk.resolved(part).get("items")?);
    let columns = walk.columns(schema, entries, document);
    let block = block_of(document, entry);
    let process = entry.get("process").map(text).and_then(|process| processes::get(&process));
    let mut groups = Vec::new();
    walk.groups(schema, row, Some(entry), "", false, process, &mut groups);
    let is_column = |field: &Field| {
        let own = field.pointer.get(row.len() + 1..);
        columns.iter().any(|(key, _)| own == Some(key))
    };
    for group in &mut groups {
        // What a run does not state it has from its process.
        let (stated, seldom): (Vec<Field>, Vec<Field>) =
            std::mem::take(&mut group.fields).into_iter().partition(|field| !field.value.is_empty());
        group.fields = stated;
        group.more.splice(0..0, seldom);
        group.elsewhere.clear();
        for list in [&mut group.fields, &mut group.more] {
            list.retain(|field| !is_column(field));
            for field in list {
                field.inherited = inherited(block, entry, field, row);
            }
        }
    }
    groups.retain(|group| !group.fields.is_empty() || !group.more.is_empty());
    Some(groups)
}

/// The block of the process of a run.
fn block_of<'d>(document: &'d Value, run: &Value) -> Option<&'d Value> {
    let process = run.get("process").map(text);
    document.get("processes")?.get(&process?)
}

/// The keys of a kind of document, in the order of the format.
pub fn keys(kind: &str) -> Vec<String> {
    let walk = Walk::new(kind);
    properties(walk.resolved(walk.schema)).map(|(key, _)| key.to_owned()).collect()
}

impl Add {
    fn new(pointer: &str, key: &str, named: bool, list: Option<&'static str>) -> Self {
        let what = singular(key);
        let article = if what.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        Self { pointer: pointer.to_owned(), what, article, named, list }
    }
}

/// The schema that is walked.
struct Walk {
    schema: &'static Value,
    procedure: bool,
    job: bool,
    shop: bool,
    /// Length of the pointer of the row that is walked; 0 outside of tables.
    row: Cell<usize>,
    /// What the fields of the rows are, by their place in the row.
    known: RefCell<HashMap<String, Arc<What>>>,
}

impl Walk {
    fn new(kind: &str) -> Self {
        let (row, known) = (Cell::new(0), RefCell::default());
        let (procedure, job, shop) = (kind == "procedure", kind == "job", kind == "shop");
        Self { schema: schema_of(kind), procedure, job, shop, row, known }
    }

    /// A part of the schema with its reference followed, and what a word may stand for passed over.
    fn resolved(&self, part: &'static Value) -> &'static Value {
        let part = part.get("else").filter(|_| part.get("if").is_some()).unwrap_or(part);
        let target = part.get("$ref").and_then(Value::as_str).and_then(|own| own.strip_prefix('#'));
        target.and_then(|own| self.schema.pointer(own)).unwrap_or(part)
    }

    /// Whether the entries of a list are rows of a table.
    fn is_table(&self, key: &str) -> bool {
        (self.procedure && key == "runs") || (self.job && key == "joints")
    }

    /// Whether a part is filled by one field.
    fn is_plain(&self, part: &'static Value) -> bool {
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

    fn section(
        &self,
        key: &'static str,
        part: &'static Value,
        pointer: &str,
        value: Option<&Value>,
        document: &Value,
    ) -> Section {
        let own = self.resolved(part);
        let (title, aws) = self.terms(pointer, key);
        let mut section = Section {
            key: key.to_owned(),
            title,
            aws,
            help: if self.procedure { help(key) } else { None },
            pointer: pointer.to_owned(),
            groups: Vec::new(),
            plates: Vec::new(),
            table: None,
            add: None,
        };
        if let Some(items) = own.get("items") {
            let item = self.resolved(items);
            let entries = value.and_then(Value::as_array).map(Vec::as_slice).unwrap_or_default();
            section.add = Some(Add::new(pointer, key, false, None));
            if self.is_table(key) {
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
            section.add = Some(Add::new(pointer, key, true, list));
            for (name, entry) in value.and_then(Value::as_object).into_iter().flatten() {
                let process = (key == "processes").then(|| processes::get(name)).flatten();
                let title = match process {
                    Some(row) => format!("{name}: {}", row.name),
                    None if key == "conditions" => format!("Condition {name}"),
                    None => name.clone(),
                };
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
            if let (Some(group), Some(field)) = (section.groups.first_mut(), self.word_field(key, part, pointer, value))
            {
                // `none` in the place of the part.
                group.fields.insert(0, field);
            }
        }
        // Both have much to state, of which little is seen at a time.
        if self.shop || key == "conditions" {
            fold(&mut section);
        }
        section
    }

    /// The fields of an object: its own group, and one for each part below it.
    #[expect(clippy::too_many_arguments, reason = "each says what the group is of")]
    fn groups(
        &self,
        schema: &'static Value,
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
                put(&mut group, field, has);
            } else if self.resolved(part).get("items").is_some() {
                let item = self.resolved(self.resolved(part).get("items").unwrap_or(part));
                group.adds.push(Add::new(&own, key, false, None));
                for (index, one) in inside.and_then(Value::as_array).into_iter().flatten().enumerate() {
                    let title = format!("{} {}", self.terms(&own, key).0, index + 1);
                    self.groups(item, &format!("{own}/{index}"), Some(one), &title, true, None, &mut below);
                }
            } else {
                let name = self.terms(&own, key).0;
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
                if let (Some(first), Some(field)) = (inner.first_mut(), self.word_field(key, part, &own, inside)) {
                    first.more.insert(0, field);
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

    /// The columns of a table: those that its entries always have and those that one of them states.
    fn columns(
        &self,
        schema: &'static Value,
        entries: &[Value],
        document: &Value,
    ) -> Vec<(&'static str, &'static Value)> {
        let several = document.get("conditions").and_then(Value::as_object).is_some_and(|all| !all.is_empty());
        let wire = entries
            .iter()
            .filter_map(|entry| entry.get("process"))
            .map(text)
            .any(|name| processes::get(&name).is_some_and(|row| row.uses_wire_feed));
        let always: &[&str] = if self.job { &JOINTS } else { &ALWAYS };
        let shown = |key: &str, part: &'static Value| {
            let stated = || entries.iter().any(|entry| entry.get(key).is_some());
            let asked = match key {
                "wire_feed_speed" => wire,
                "condition" => several,
                _ => always.contains(&key),
            };
            self.is_plain(part) && (asked || stated())
        };
        properties(schema).filter(|(key, part)| shown(key, part)).collect()
    }

    /// The runs as a table; what else a run may state is [`below`] its row.
    fn table(&self, pointer: &str, schema: &'static Value, entries: &[Value], document: &Value) -> Table {
        let keys = self.columns(schema, entries, document);
        let columns = keys
            .iter()
            .map(|(key, part)| {
                let what = self.what(key, part, &format!("{pointer}/0/{key}"));
                Column { key, label: what.label.clone(), meaning: what.meaning }
            })
            .collect();
        let rows = entries
            .iter()
            .enumerate()
            .map(|(index, entry)| {
                let own = format!("{pointer}/{index}");
                let block = block_of(document, entry);
                self.row.set(own.len());
                let fields = keys.iter().map(|(key, part)| {
                    let pointer = format!("{own}/{key}");
                    let mut field = self.field(key, part, &pointer, entry.get(key), required(schema, key));
                    field.inherited = inherited(block, entry, &field, &own);
                    field
                });
                let fields = fields.collect();
                self.row.set(0);
                TableRow { pointer: own, fields }
            })
            .collect();
        let figures = if self.job {
            vec![("hours", "Time"), ("each", "Each"), ("price", "Price")]
        } else {
            vec![("heat", "Heat input"), ("cooling", "Cooling t8/5"), ("deposit", "Deposit")]
        };
        Table { pointer: pointer.to_owned(), columns, rows, figures }
    }

    fn field(
        &self,
        key: &'static str,
        part: &'static Value,
        pointer: &str,
        value: Option<&Value>,
        required: bool,
    ) -> Field {
        let what = self.what(key, part, pointer);
        let value = value.map(|value| shown(value, what.kind)).unwrap_or_default();
        Field { pointer: pointer.to_owned(), what, value, inherited: String::new(), required }
    }

    /// What a field is: for the rows of a table found once.
    fn what(&self, key: &'static str, part: &'static Value, pointer: &str) -> Arc<What> {
        let in_row = pointer.get(self.row.get()..).filter(|own| self.row.get() > 0 && own.starts_with('/'));
        let Some(in_row) = in_row else { return Arc::new(self.new_what(key, part, pointer)) };
        if let Some(known) = self.known.borrow().get(in_row) {
            return Arc::clone(known);
        }
        let what = Arc::new(self.new_what(key, part, pointer));
        self.known.borrow_mut().insert(in_row.to_owned(), Arc::clone(&what));
        what
    }

    fn new_what(&self, key: &'static str, part: &'static Value, pointer: &str) -> What {
        let own = self.resolved(part);
        let row = self.procedure.then(|| variables::get(pointer)).flatten();
        let (label, aws) = match row {
            Some(row) => (row.term(Terms::Iso).into(), row.aws_term),
            None => (heading(key).into(), None),
        };
        let format = own.get("format").and_then(Value::as_str);
        let quantity = format.filter(|format| seamwright_model::quantity::FORMATS.contains(format));
        let words: Vec<&'static str> = word_list(own.get("enum"));
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
        let meaning = match row {
            Some(row) => row.meaning,
            None => part.get("description").or(own.get("description")).and_then(Value::as_str).unwrap_or_default(),
        };
        let (format, list) = (quantity, super::choices::list_of(pointer, key));
        let beside = row.is_some_and(|row| row.beside.is_some());
        What { label, aws, meaning, kind, format, words, list, example, beside }
    }

    /// A field for the word in the place of a part, such as `none`.
    fn word_field(
        &self,
        key: &'static str,
        part: &'static Value,
        pointer: &str,
        value: Option<&Value>,
    ) -> Option<Field> {
        let words = part.pointer("/then/enum")?;
        let mut field = self.field(key, part, pointer, value.filter(|own| own.is_string()), false);
        let what = Arc::make_mut(&mut field.what);
        what.kind = Kind::Word;
        what.words = word_list(Some(words));
        Some(field)
    }

    /// The terms of ISO and, where they differ, of AWS for a place.
    fn terms(&self, pointer: &str, key: &str) -> (String, Option<String>) {
        match self.procedure.then(|| variables::get(pointer)).flatten() {
            Some(row) => (row.term(Terms::Iso).to_owned(), row.aws_term.map(str::to_owned)),
            None => (heading(key), None),
        }
    }
}

/// Folds each entry of a section by itself, with all that stands below it.
fn fold(section: &mut Section) {
    for mut group in std::mem::take(&mut section.groups) {
        let inside = |plate: &&mut Plate| group.pointer.starts_with(&format!("{}/", plate.pointer));
        if let Some(plate) = section.plates.last_mut().filter(inside) {
            plate.groups.push(group);
        } else if group.entry {
            let name = ["name", "designation", "specification", "kind", "process"];
            let name = name.iter().find_map(|key| {
                let pointer = format!("{}/{key}", group.pointer);
                let own = group.fields.iter().chain(&group.more).find(|field| field.pointer == pointer)?;
                Some((pointer, own.value.clone()))
            });
            let (title, pointer) = (std::mem::take(&mut group.title), group.pointer.clone());
            group.entry = false;
            section.plates.push(Plate { title, pointer, name, groups: vec![group] });
        } else {
            section.groups.push(group);
        }
    }
}

/// What a run has from its process at the place of a field; nothing where it states the section itself.
fn inherited(block: Option<&Value>, run: &Value, field: &Field, row: &str) -> String {
    let place = field.pointer.get(row.len()..).unwrap_or_default();
    let key = place.get(1..).unwrap_or_default().split('/').next().unwrap_or_default();
    let own = block.and_then(|block| block.get(key)).filter(|_| run.get(key).is_none());
    let own = own.and_then(|own| own.pointer(place.get(1 + key.len()..)?));
    let own = own.filter(|own| !own.is_object() || field.what.kind == Kind::Composition);
    own.map(|own| shown(own, field.what.kind)).unwrap_or_default()
}

/// Puts a field where it belongs: what is stated or asked for first.
fn put(group: &mut Group, field: Field, has: bool) {
    let asked = !field.what.beside || field.required;
    if !field.value.is_empty() || (asked && has) {
        group.fields.push(field);
    } else if has {
        group.more.push(field);
    } else {
        group.elsewhere.push(field);
    }
}

/// The texts of a list of words.
fn word_list(list: Option<&'static Value>) -> Vec<&'static str> {
    list.and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_str).collect()
}

fn properties(schema: &'static Value) -> impl Iterator<Item = (&'static str, &'static Value)> {
    let all = schema.get("properties").and_then(Value::as_object).into_iter().flatten();
    all.map(|(key, part)| (key.as_str(), part))
}

fn required(schema: &Value, key: &str) -> bool {
    schema.get("required").and_then(Value::as_array).is_some_and(|all| all.iter().any(|own| own == key))
}
