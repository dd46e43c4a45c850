//! A document as sections, fields and choices, as values: made of the schema, the dictionary and the document. No HTML.
//!
//! - `walk.rs`: schema and document to groups of fields; `wording.rs`: their words; `shape.rs`: which of them stand on a page;
//!   `choices.rs`: what can be picked; `input.rs`: what was typed into a
//!   field, as a value of the format.

mod choices;
mod input;
mod shape;
#[cfg(test)]
mod tests;
mod walk;
mod wording;

use std::borrow::Cow;
use std::sync::Arc;

use serde::{Serialize, Serializer};

pub use choices::{Choice, choices};
pub(crate) use choices::{own_names, procedures};
pub use input::value_of;
pub use shape::{shape_of, shapes};
pub use walk::{below, field_at, form, keys};

/// A document as a form.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Form {
    /// The kind of document, in a word.
    pub kind: String,
    /// The sections in the order of the sheet.
    pub sections: Vec<Section>,
}

/// A section.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Section {
    /// Its key.
    pub key: String,
    /// Its title, in the words of ISO.
    pub title: String,
    /// In the words of AWS, where they differ.
    pub aws: Option<String>,
    /// How it is filled, where its fields do not say it.
    pub help: Option<&'static str>,
    /// JSON pointer of it.
    pub pointer: String,
    /// What stands in it.
    pub groups: Vec<Group>,
    /// Its entries that are folded, each by itself.
    pub plates: Vec<Plate>,
    /// The runs, where it is they.
    pub table: Option<Table>,
    /// What can be added to it.
    pub add: Option<Add>,
}

/// An entry that is folded until somebody opens it: a machine of a shop.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Plate {
    /// Title: `Power source 1`.
    pub title: String,
    /// JSON pointer of the entry.
    pub pointer: String,
    /// JSON pointer of what tells it from the others, and what stands there.
    pub name: Option<(String, String)>,
    /// What stands in it.
    pub groups: Vec<Group>,
}

/// Fields that stand together.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Group {
    /// Title; empty for the fields of the section itself.
    pub title: String,
    /// JSON pointer of what the fields belong to.
    pub pointer: String,
    /// Whether it is an entry of a list, which can be taken out.
    pub entry: bool,
    /// Fields that are stated or asked for.
    pub fields: Vec<Field>,
    /// Fields that can be stated, too.
    pub more: Vec<Field>,
    /// Fields that the process does not have.
    pub elsewhere: Vec<Field>,
    /// What can be added to it.
    pub adds: Vec<Add>,
}

/// Entries of a list as rows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Table {
    /// JSON pointer of the list.
    pub pointer: String,
    /// What stands over the columns.
    pub columns: Vec<Column>,
    /// The entries, with a field for each column.
    pub rows: Vec<TableRow>,
    /// Key and label of the figures that follow for each entry.
    pub figures: Vec<(&'static str, &'static str)>,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Column {
    /// Its key.
    pub key: &'static str,
    /// Its label.
    pub label: Cow<'static, str>,
    /// What it states.
    pub meaning: &'static str,
}

/// A row of a table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TableRow {
    /// JSON pointer of the entry.
    pub pointer: String,
    /// A field for each column.
    pub fields: Vec<Field>,
}

/// What can be added to a section.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Add {
    /// JSON pointer of the list.
    pub pointer: String,
    /// What it is called: `metal`.
    pub what: String,
    /// What goes before that: `a`.
    pub article: &'static str,
    /// Whether an entry has a name, as fillers and processes have.
    pub named: bool,
    /// The list of choices for the name.
    pub list: Option<&'static str>,
}

/// How a field is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Text.
    Text,
    /// Text of several lines.
    Lines,
    /// A quantity with its unit.
    Quantity,
    /// One of a few words.
    Word,
    /// Texts with commas between.
    List,
    /// Elements or gases with their shares.
    Composition,
    /// Names with their values, one on each line.
    Pairs,
    /// A date.
    Date,
}

/// A field.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Field {
    /// JSON pointer of its value.
    pub pointer: String,
    /// What it is.
    #[serde(flatten, serialize_with = "shared")]
    pub what: Arc<What>,
    /// What is stated, as typed.
    pub value: String,
    /// What holds where nothing is stated: that of the process.
    pub inherited: String,
    /// Whether a document must state it.
    pub required: bool,
}

/// What a field is, whatever stands in it: the rows of a table share it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct What {
    /// Its label, in the words of ISO.
    pub label: Cow<'static, str>,
    /// In the words of AWS, where they differ.
    pub aws: Option<&'static str>,
    /// What it states.
    pub meaning: &'static str,
    /// How it is filled.
    pub kind: Kind,
    /// The quantity, by the name of its format.
    pub format: Option<&'static str>,
    /// The words, where it is one of a few.
    pub words: Vec<&'static str>,
    /// The list of choices.
    pub list: Option<&'static str>,
    /// How a value looks.
    pub example: String,
    /// Whether no standard asks for it.
    #[serde(skip)]
    pub beside: bool,
}

fn shared<S: Serializer>(what: &Arc<What>, serializer: S) -> Result<S::Ok, S::Error> {
    what.as_ref().serialize(serializer)
}

impl Form {
    /// Shows a field as it is written, where it was read as what it stands for.
    pub fn show(&mut self, pointer: &str, written: String) {
        let groups = self.sections.iter_mut().flat_map(|section| &mut section.groups);
        if let Some(field) = groups.flat_map(|group| &mut group.fields).find(|field| field.pointer == pointer) {
            field.value = written;
        }
    }
}

/// Every field of groups.
pub fn fields_of(groups: &[Group]) -> impl Iterator<Item = &Field> {
    groups.iter().flat_map(|group| group.fields.iter().chain(&group.more).chain(&group.elsewhere))
}

/// Every field of a form, but for those below the rows of its tables.
pub fn fields(form: &Form) -> impl Iterator<Item = &Field> {
    form.sections.iter().flat_map(|section| {
        let rows = section.table.iter().flat_map(|table| &table.rows).flat_map(|row| &row.fields);
        let plates = section.plates.iter().flat_map(|plate| fields_of(&plate.groups));
        rows.chain(fields_of(&section.groups)).chain(plates)
    })
}
