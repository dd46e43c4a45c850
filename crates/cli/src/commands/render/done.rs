//! What came of the files of a run.

use std::path::PathBuf;

use seamwright_desk::report::Report;
use seamwright_page::block::Sheet;
use seamwright_page::html::IndexEntry;

/// What was looked at of a file.
pub(super) enum Looked {
    /// The document, which was checked.
    Checked(Box<Report>),
    /// Its sheets, which stand as they are: how many values were examined and how many stand under a deviation, and
    /// nothing was found.
    Stands(usize, usize),
}

/// What came of a file.
#[derive(Default)]
pub(super) struct Written {
    /// What could not be written, in words.
    pub(super) failures: Vec<String>,
    /// Lines of the index, for a folder.
    pub(super) entries: Vec<IndexEntry>,
    /// The sheets, for a binder.
    pub(super) sheets: Vec<Sheet>,
    /// The files that were written.
    pub(super) put: Vec<PathBuf>,
    /// How many sheets were left, because they are already what they would be.
    pub(super) left: usize,
    /// Why files of a folder have no sheet, each in words.
    pub(super) without: Vec<String>,
}
