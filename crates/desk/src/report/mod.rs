//! What was found, as values, as JSON and as SARIF.

mod columns;
pub mod completeness;
mod diagnostic;
pub mod follow;
pub mod json;
pub mod kit;
pub mod machine;
pub mod sarif;

use seamwright_check::Outcome;
use seamwright_handbook::measure::trimmed;
use seamwright_model::Loaded;
use seamwright_model::finding::{Finding, Severity};
use seamwright_page::words::Language;

pub use columns::columns;
pub use diagnostic::Diagnostic;
pub use follow::Follow;

use crate::beside::ISSUED_CONTENT_CHANGED;
use crate::files::{Input, Unread};
use crate::received::Received;

/// A file and what came of it.
pub struct Report {
    /// The file.
    pub input: Input,
    /// Of a sheet that comes from elsewhere: whether it is proved, and what else can be said of it.
    pub received: Option<Received>,
    /// The document with what was found, or why it could not be read.
    pub result: Result<(Loaded, Outcome), Unread>,
    /// Of a file with faults: the document without what is faulty, and what was found in it.
    pub rest: Option<Box<(Loaded, Outcome)>>,
    /// What was issued under its number with another content and lies beside it. Sheets know nothing of it: they are made of
    /// the document alone.
    pub issued: Option<Finding>,
}

impl Report {
    /// Of a file that could not be read.
    pub fn unread(input: Input, unread: Unread) -> Self {
        Self { input, received: None, result: Err(unread), rest: None, issued: None }
    }

    /// That a sheet or kept copy beside the file tells against it, where the file itself does not.
    pub fn beside(&self) -> Option<&Finding> {
        let (_, outcome) = self.checked()?;
        let told = outcome.findings.iter().any(|own| own.check == ISSUED_CONTENT_CHANGED);
        self.issued.as_ref().filter(|_| !told)
    }

    /// What was found, what lies beside first.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        let own = self.checked().into_iter().flat_map(|(_, outcome)| &outcome.findings);
        self.beside().into_iter().chain(own)
    }

    /// How many findings of a severity there are.
    pub fn count(&self, severity: Severity) -> usize {
        self.findings().filter(|finding| finding.severity == severity).count()
    }

    /// Why nothing is printed under its number, in words: it was issued with another content.
    pub fn not_printed(&self) -> Option<String> {
        let own = || self.findings().find(|own| own.check == ISSUED_CONTENT_CHANGED);
        let finding = self.issued.as_ref().or_else(own).filter(|_| self.received.is_none())?;
        let hint = finding.hint.as_deref().unwrap_or_default();
        Some(format!("{}: {}; no sheet is printed under its number; {hint}", self.input.name, finding.message))
    }

    /// The document with what was found, whole or as far as it could be read.
    pub fn checked(&self) -> Option<&(Loaded, Outcome)> {
        self.result.as_ref().ok().or(self.rest.as_deref())
    }

    /// Whether it is a sheet that is not proved.
    pub fn unproved(&self) -> Option<&Received> {
        self.received.as_ref().filter(|received| !received.proved())
    }

    /// The same, with a sheet that is not proved as a file that could not be read: nothing is made of such a one.
    #[must_use]
    pub fn proved_only(mut self) -> Self {
        if let Some(fault) = self.unproved().map(Received::fault)
            && let Ok((loaded, _)) = &self.result
        {
            let source = Some(loaded.source.clone());
            self.result = Err(Unread { source, faults: vec![fault], reading: None, received: None });
        }
        self
    }
}

/// Why there is no answer.
pub enum Refused {
    /// These files cannot be read, or are others than are meant.
    Unread(Vec<Report>),
    /// What was asked does not hold together, in words.
    Words(String),
}

impl From<anyhow::Error> for Refused {
    fn from(error: anyhow::Error) -> Self {
        Self::Words(format!("{error:#}"))
    }
}

/// A file that was checked, and what follows from it.
pub struct Checked {
    /// What came of the file.
    pub report: Report,
    /// The machines for a procedure, the kit of a lesson.
    pub follow: Follow,
    /// The words that a language lacks, where it was asked for.
    pub lacking: Option<(Language, Vec<String>)>,
}

/// Name under which a file's own faults are reported.
pub const UNREADABLE: &str = "unreadable";

/// A number as people read it: four significant digits, no empty decimals; whole digits are never cut.
pub fn number(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    #[expect(clippy::cast_possible_truncation, reason = "the exponent of a finite number lies within 400")]
    let exponent = value.abs().log10().floor() as i32;
    trimmed(value, usize::try_from((3 - exponent).max(0)).unwrap_or(0))
}
