//! Findings on the terminal, as JSON and as SARIF.

pub mod completeness;
pub mod json;
pub mod kit;
pub mod machine;
pub mod sarif;
pub mod text;

use seamwright_check::Outcome;
use seamwright_model::Loaded;
use seamwright_model::finding::Severity;

use crate::Ending;
use crate::args::Deny;
use crate::beside::Follow;
use crate::files::{Input, Unread};

/// A file and what came of it.
pub struct Report {
    /// The file.
    pub input: Input,
    /// The document with what was found, or why it could not be read.
    pub result: Result<(Loaded, Outcome), Unread>,
}

/// A file that was checked, and what follows from it.
pub struct Checked {
    /// What came of the file.
    pub report: Report,
    /// The machines for a procedure, the kit of a lesson.
    pub follow: Follow,
}

impl Report {
    /// How this file ends the command.
    pub fn ending(&self, deny: Option<Deny>) -> Ending {
        match &self.result {
            Err(_) => Ending::Failed,
            Ok((_, outcome)) => {
                let cautions = deny == Some(Deny::Cautions) && outcome.count(Severity::Caution) > 0;
                if outcome.count(Severity::Error) > 0 || cautions { Ending::Findings } else { Ending::Clean }
            }
        }
    }
}

/// Name under which a file's own faults are reported.
pub const UNREADABLE: &str = "unreadable";
