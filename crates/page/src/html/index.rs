//! The page that lists a folder of sheets: a table to search without a server, and a plain table without script.

use std::collections::HashMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use tera::Context;

use crate::house::House;
use crate::logo::Logo;

use super::error::HtmlError;
use super::templates::SCRIPT;
use super::text::GENERATOR;
use super::{HtmlRenderer, base64};

/// One sheet of the folder.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct IndexEntry {
    /// The document's number.
    pub number: String,
    /// Its revision.
    pub revision: String,
    /// Its title.
    pub title: String,
    /// What kind of sheet it is, in words.
    pub kind: String,
    /// The processes, as stated: "141", "135 and 136".
    pub process: String,
    /// The parent metal or its group.
    pub metal: String,
    /// Thickness or its range, with unit.
    pub thickness: String,
    /// The welding positions.
    pub position: String,
    /// Thickness in the units that the sheet is not in, for the search.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub other_units: String,
    /// Path of the page relative to the index, if there is one.
    pub html: Option<String>,
    /// Path of the PDF relative to the index, if there is one.
    pub pdf: Option<String>,
}

/// How the index is set.
#[derive(Debug, Clone, PartialEq)]
pub struct IndexOptions {
    /// The language of the text (BCP 47).
    pub language: String,
    /// What stands over the table, such as the name of the shop.
    pub title: String,
    /// What the shop puts on its sheets.
    pub house: Option<Arc<House>>,
}

impl Default for IndexOptions {
    fn default() -> Self {
        Self { language: "en".to_owned(), title: "Welding procedures".to_owned(), house: None }
    }
}

#[derive(Serialize)]
struct Page<'a> {
    language: &'a str,
    title: &'a str,
    generator: &'a str,
    css: String,
    script: &'a str,
    script_hash: String,
    lines: &'a [String],
    logo: Option<String>,
    entries: &'a [IndexEntry],
    rows: Vec<Row<'a>>,
}

/// A document of the folder with its sheets.
#[derive(Serialize)]
struct Row<'a> {
    /// What its sheets have in common.
    entry: &'a IndexEntry,
    /// Its sheets, in the order given.
    sheets: Vec<&'a IndexEntry>,
}

/// The entries by document, in the order in which each first stands.
fn by_document(entries: &[IndexEntry]) -> Vec<Row<'_>> {
    let document = |entry: &IndexEntry| (entry.number.clone(), entry.revision.clone(), entry.title.clone());
    let mut known: HashMap<(String, String, String), usize> = HashMap::new();
    let mut rows: Vec<Row<'_>> = Vec::new();
    for entry in entries {
        let at = *known.entry(document(entry)).or_insert(rows.len());
        match rows.get_mut(at) {
            Some(row) => row.sheets.push(entry),
            None => rows.push(Row { entry, sheets: vec![entry] }),
        }
    }
    rows
}

impl HtmlRenderer {
    /// Sets the list of a folder of sheets as one page, in the order given.
    ///
    /// Its one script is named by its hash, so that the browser runs no other. Equal entries give equal text. Errors:
    /// [`HtmlError`] for templates of a user's own.
    pub fn index(&self, entries: &[IndexEntry], options: &IndexOptions) -> Result<String, HtmlError> {
        let script = SCRIPT.trim_end();
        let house = options.house.as_deref();
        let accent = house.and_then(House::css).unwrap_or_default();
        let page = Page {
            language: &options.language,
            title: &options.title,
            generator: GENERATOR,
            css: format!("{}\n{}\n{accent}", self.styles.sheet, self.styles.index),
            script,
            script_hash: format!("sha256-{}", base64::encode(&Sha256::digest(script.as_bytes()))),
            lines: house.map_or(&[], |house| &house.lines),
            logo: house.and_then(|house| house.logo.as_ref()).map(Logo::address),
            entries,
            rows: by_document(entries),
        };
        let context = Context::from_serialize(&page).map_err(|error| HtmlError::Template {
            file: "index.html".to_owned(),
            line: None,
            reason: format!("the entries cannot be handed over: {error}"),
        })?;
        self.run("index.html", context)
    }
}

/// Sets the list of a folder of sheets with the built-in templates; see [`HtmlRenderer::index`].
pub fn index(entries: &[IndexEntry]) -> Result<String, HtmlError> {
    HtmlRenderer::new()?.index(entries, &IndexOptions::default())
}
