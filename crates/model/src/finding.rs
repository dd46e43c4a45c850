//! What a check reports: severity, place, stated value, limit, source and hint. Knows no rule.

use std::borrow::Cow;
use std::fmt;
use std::ops::Deref;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// For information; nothing need change.
    Note,
    /// Outside the usual range.
    Caution,
    /// Outside a limit, or cannot work.
    Error,
}

impl Severity {
    /// The word used in messages and in JSON.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Caution => "caution",
            Self::Error => "error",
        }
    }
}

/// Where a figure's authority comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// Read in a published page, which `source` names.
    Published,
    /// The standard is known, the figure is remembered: verify against your edition.
    FromMemory,
    /// A rule of the trade, with no published source.
    CommonPractice,
    /// A page without standing, such as a seller's: it raises a note at most.
    WebPage,
}

impl Basis {
    /// The word used in messages and in JSON.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::FromMemory => "from-memory",
            Self::CommonPractice => "common-practice",
            Self::WebPage => "web-page",
        }
    }

    /// The words that a sheet adds after a source.
    pub fn remark(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::FromMemory => "from memory, verify against your edition",
            Self::CommonPractice => "common practice",
            Self::WebPage => "a page without standing",
        }
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "as serde calls it")]
fn is_none_other(others: &usize) -> bool {
    *others == 0
}

/// Where a limit is written: publisher, title, edition, clause or page, and its basis.
///
/// Two are equal where they name the same place, whatever is in doubt of one figure that stands there.
#[derive(Debug, Clone, Eq, Serialize)]
pub struct SourceRef {
    /// Who published it; `None` for practice and for the document itself.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub publisher: Option<Cow<'static, str>>,
    /// Title of the standard, handbook or practice.
    pub title: Cow<'static, str>,
    /// Edition, where known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub edition: Option<Cow<'static, str>>,
    /// Clause, table or page, where known.
    pub clause: Option<Cow<'static, str>>,
    /// How many other sources say the same.
    #[serde(skip_serializing_if = "is_none_other")]
    pub others: usize,
    /// Address of a page that may be printed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub address: Option<Cow<'static, str>>,
    /// Where the figure's authority comes from.
    pub basis: Basis,
    /// The handbook table of this program that holds the figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub table: Option<Cow<'static, str>>,
    /// Why the figure is not beyond doubt, where it is not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub doubt: Option<Cow<'static, str>>,
}

impl PartialEq for SourceRef {
    fn eq(&self, other: &Self) -> bool {
        let Self { publisher, title, edition, clause, others, basis, table, address: _, doubt: _ } = self;
        (publisher, title, edition) == (&other.publisher, &other.title, &other.edition)
            && (clause, others, basis, table) == (&other.clause, &other.others, &other.basis, &other.table)
    }
}

impl SourceRef {
    /// A source that is no published document: its title and its basis.
    pub fn plain(title: impl Into<Cow<'static, str>>, basis: Basis) -> Self {
        Self {
            publisher: None,
            title: title.into(),
            edition: None,
            clause: None,
            others: 0,
            address: None,
            basis,
            table: None,
            doubt: None,
        }
    }

    /// The publisher where the title does not open with it, and the title.
    pub fn named(&self) -> String {
        match self.publisher.as_deref().filter(|publisher| !self.title.starts_with(publisher)) {
            Some(publisher) => format!("{publisher}, {}", self.title),
            None => self.title.to_string(),
        }
    }

    /// The line, and what is in doubt.
    pub fn line_with_doubt(&self) -> String {
        match &self.doubt {
            Some(doubt) => format!("{}. Doubt: {doubt}", self.line()),
            None => self.line(),
        }
    }

    /// Publisher, title, edition and clause or page, and how many other sources say the same.
    pub fn place(&self) -> String {
        let mut place = self.named();
        for part in [&self.edition, &self.clause].into_iter().flatten() {
            place.push_str(", ");
            place.push_str(part);
        }
        match self.others {
            0 => {}
            1 => place.push_str(", and 1 more source"),
            more => place.push_str(&format!(", and {more} more sources")),
        }
        place
    }

    /// One line: title, edition, clause, basis.
    pub fn line(&self) -> String {
        format!("{} ({})", self.place(), self.basis.remark())
    }
}

/// A limit: its words, and beside them its figures where it is one of numbers.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Limit {
    /// As printed.
    pub text: String,
    /// The same as figures; nothing where it is one of words.
    pub figures: Option<Figures>,
}

/// The figures of a limit, rounded as they are printed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Figures {
    /// The lowest; nothing where it is open below.
    pub low: Option<f64>,
    /// The highest; nothing where it is open above.
    pub high: Option<f64>,
    /// The unit as printed, or what they are multiples or a share of: `A per mm of rod`.
    pub unit: String,
}

impl Limit {
    /// The same after a word that says what it is of: `carbon 0.04 % maximum`.
    #[must_use]
    pub fn of(self, what: &str) -> Self {
        Self { text: format!("{what} {}", self.text), ..self }
    }

    /// The same in the unit of a value beside it, where that is of another system.
    pub fn in_unit_of(&self, stated: &str) -> Option<Self> {
        quantity::in_unit_of(&self.text, stated).map(|text| Self::stated(&text))
    }

    /// What a document itself states as a limit.
    pub fn stated(text: &str) -> Self {
        Self { text: text.to_owned(), figures: Figures::stated(text) }
    }
}

impl Figures {
    /// The figures of a quantity as a document states it, in its own unit.
    pub fn stated(text: &str) -> Option<Self> {
        let unit = quantity::unit_of(text)?;
        let (low, high) = quantity::convert(text, unit).ok()?.ends();
        Some(Self { low, high, unit: unit.to_owned() })
    }
}

impl Deref for Limit {
    type Target = str;

    fn deref(&self) -> &str {
        &self.text
    }
}

impl fmt::Display for Limit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl<T: Into<String>> From<T> for Limit {
    fn from(words: T) -> Self {
        Self { text: words.into(), figures: None }
    }
}

/// One thing that a check found.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Name of the check, kebab-case, named after the fault.
    pub check: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What was found and the limit, lower case, no full stop.
    pub message: String,
    /// JSON pointer of the value, or of the section where a value is missing.
    pub pointer: String,
    /// The value as stated.
    pub stated: Option<String>,
    /// The limit.
    pub limit: Option<Limit>,
    /// Where the limit is written.
    pub source: Option<SourceRef>,
    /// What to write instead.
    pub hint: Option<String>,
}
