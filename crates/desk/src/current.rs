//! A sheet of a procedure that arrives, held against the procedure as it is now: whether it still holds, and what changed.

use seamwright_check::revision::{self, Change};
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::procedure::Procedure;

/// Name under which a sheet that no longer holds is reported.
pub const SUPERSEDED: &str = "superseded";

/// How a sheet stands to the procedure as it is now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// It shows the revision and the content that hold.
    Current,
    /// It shows an earlier revision.
    Superseded,
    /// It shows the revision that holds, with another content.
    Altered,
    /// It shows a later revision than the file that was named.
    Later,
    /// It is of another procedure.
    Another,
}

impl State {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Current => "current",
            Self::Superseded => "superseded",
            Self::Altered => "altered",
            Self::Later => "later",
            Self::Another => "another-procedure",
        }
    }
}

/// A sheet beside the procedure as it is now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Current {
    /// How it stands.
    pub state: State,
    /// Number and revision that the sheet shows.
    pub shown: (String, String),
    /// Number and revision of the file that was named.
    pub now: (String, String),
    /// The file that was named.
    pub file: String,
    /// Why the revision was raised, where the file says it.
    pub why: Option<String>,
    /// What changed, from the sheet to the file, a line for each value.
    pub changes: Vec<String>,
}

impl Current {
    /// Holds the source of a sheet against a procedure; nothing where either is another kind of document.
    pub fn of(sheet: &Loaded, file: &Loaded) -> Option<Self> {
        let (Document::Procedure(old), Document::Procedure(new)) = (&sheet.document, &file.document) else {
            return None;
        };
        let own = |procedure: &Procedure| {
            let head = &procedure.identification;
            (head.number.to_string(), head.revision.to_string())
        };
        let (shown, now) = (own(old), own(new));
        let changes: Vec<String> = if shown.0 == now.0 {
            let compared = revision::compare((sheet, old), (file, new), None);
            compared.changes.iter().filter(|change| is_content(change)).map(line).collect()
        } else {
            Vec::new()
        };
        let state = if shown.0 != now.0 {
            State::Another
        } else if shown.1 != now.1 {
            if is_later(old, new) { State::Later } else { State::Superseded }
        } else if changes.is_empty() {
            State::Current
        } else {
            State::Altered
        };
        let entry = new.revisions.iter().find(|entry| entry.revision == new.identification.revision);
        let why = entry.filter(|_| state == State::Superseded).map(|entry| entry.change.to_string());
        Some(Self { state, shown, now, file: file.source.name.to_string(), why, changes })
    }

    /// What holds, in a sentence.
    pub fn words(&self) -> String {
        let (Self { file, .. }, (number, revision), (_, now)) = (self, &self.shown, &self.now);
        match self.state {
            State::Current => format!("the sheet shows revision {revision} of {number}, which holds by {file}"),
            State::Superseded => {
                let why = self.why.as_ref().map_or_else(String::new, |why| format!(" ({why})"));
                format!(
                    "the sheet is superseded: it shows revision {revision} of {number}, which is revision {now} now{why}"
                )
            }
            State::Altered => format!(
                "the sheet shows revision {revision} of {number}, and {file} has another content under the same revision"
            ),
            State::Later => format!(
                "the sheet shows revision {revision} of {number}, {file} is revision {now}: the file is the older one"
            ),
            State::Another => format!("the sheet is of {number}, {file} is {}", self.now.0),
        }
    }

    /// What to do; nothing where the sheet holds.
    pub fn hint(&self) -> Option<&'static str> {
        match self.state {
            State::Current => None,
            State::Superseded => Some("take it off the wall and print the revision that holds"),
            State::Altered => Some("raise the revision of the file with `seamwright revise`, and print it anew"),
            State::Later | State::Another => Some("name the file of this sheet with --procedure"),
        }
    }
}

/// Whether a change is one of what is welded or written, and not of number, days and names.
fn is_content(change: &Change) -> bool {
    const HEAD: &[&str] = &["revision", "date", "status", "seal", "approved_by", "prepared_by"];
    let head = change.pointer.strip_prefix("/identification/").is_some_and(|key| HEAD.contains(&key));
    !head && !change.pointer.starts_with("/revisions")
}

fn line(change: &Change) -> String {
    let runs = change.runs.as_ref().map_or_else(String::new, |runs| format!(", run {runs}"));
    format!("{}{runs}: {}", change.term, change.from_and_to())
}

/// Whether a sheet shows a later revision than a file: its history names that of the file, or its number is higher.
fn is_later(sheet: &Procedure, file: &Procedure) -> bool {
    let (shown, now) = (&sheet.identification.revision, &file.identification.revision);
    let names =
        |procedure: &Procedure, revision: &str| procedure.revisions.iter().any(|own| *own.revision == *revision);
    if names(file, shown) {
        return false;
    }
    let number = |text: &str| text.parse::<u64>().ok();
    names(sheet, now) || matches!((number(shown), number(now)), (Some(shown), Some(now)) if shown > now)
}
