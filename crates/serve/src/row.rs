//! A document's line in the list of the folder.

use serde::Serialize;

/// A document's line in the list of the folder.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Row {
    /// Its id.
    pub id: String,
    /// Its path below the folder.
    pub file: String,
    /// The kind of document, in a word.
    pub kind: String,
    /// Its number.
    pub number: String,
    /// Its revision.
    pub revision: String,
    /// Its title.
    pub title: String,
    /// Processes, by number.
    pub processes: Vec<String>,
    /// Parent metals.
    pub metals: Vec<String>,
    /// Thicknesses.
    pub thicknesses: Vec<String>,
    /// Positions.
    pub positions: Vec<String>,
    /// Draft, issued or superseded.
    pub status: String,
    /// The worst severity, or `unreadable`, or `clean`.
    pub worst: String,
    /// How many findings of that severity.
    pub count: usize,
    /// The worst finding, in words.
    pub finding: String,
    /// When the file was changed (ISO 8601, UTC).
    pub changed: String,
    /// Whether a text of it is not saved.
    pub unsaved: bool,
    /// Other words by which it is looked for.
    pub words: String,
    /// Whether what was found may change with another document.
    #[serde(skip)]
    pub hangs_on_others: bool,
}
