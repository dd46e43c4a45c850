//! What was found, as values, as JSON and as SARIF.

pub mod completeness;
mod diagnostic;
pub mod json;
pub mod kit;
pub mod machine;
pub mod sarif;

use seamwright_check::Outcome;
use seamwright_model::Loaded;

pub use diagnostic::Diagnostic;

use crate::companions::Follow;
use crate::files::{Input, Unread};

/// A file and what came of it.
pub struct Report {
    /// The file.
    pub input: Input,
    /// Of a sheet that shows what its source gives: that it does, in words.
    pub agreed: Option<String>,
    /// The document with what was found, or why it could not be read.
    pub result: Result<(Loaded, Outcome), Unread>,
    /// Of a file with faults: the document without what is faulty, and what was found in it.
    pub rest: Option<Box<(Loaded, Outcome)>>,
}

impl Report {
    /// Of a file that could not be read.
    pub fn unread(input: Input, unread: Unread) -> Self {
        Self { input, agreed: None, result: Err(unread), rest: None }
    }
}

impl Report {
    /// The document with what was found, whole or as far as it could be read.
    pub fn checked(&self) -> Option<&(Loaded, Outcome)> {
        self.result.as_ref().ok().or(self.rest.as_deref())
    }
}

/// A file that was checked, and what follows from it.
pub struct Checked {
    /// What came of the file.
    pub report: Report,
    /// The machines for a procedure, the kit of a lesson.
    pub follow: Follow,
}

/// Name under which a file's own faults are reported.
pub const UNREADABLE: &str = "unreadable";
