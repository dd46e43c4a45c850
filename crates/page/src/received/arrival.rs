//! What a sheet that arrives carries, and where it differs.

use crate::made_with::MadeWith;

/// What a sheet carries, as readers of its format would find it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Arrival {
    /// The program that the file says it was written by.
    pub producer: Option<String>,
    /// Every text that a reader could take for the source; more than one is a reason for doubt.
    pub candidates: Vec<Candidate>,
    /// Attachments that could not be read as text.
    pub unread: usize,
    /// It is encrypted, so that nothing in it can be told.
    pub locked: bool,
    /// It has a signature.
    pub signed: bool,
    /// Something was added behind its first end, as signing and commenting do, or an object stands in it more than once.
    pub added_to: bool,
}

/// A text that a reader could take for the source of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Candidate {
    /// Its file name, without folders.
    pub file_name: String,
    /// The text, byte for byte.
    pub text: String,
    /// Where it stands, in the words of the format: `EF/F`.
    pub places: Vec<String>,
    /// What the sheet says it was made with.
    pub made_with: Option<MadeWith>,
}

/// Where a sheet differs from the one that its source gives.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// Page, from one, where it is of one.
    pub page: Option<usize>,
    /// What differs, in words.
    pub what: String,
}

impl std::fmt::Display for Difference {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(page) = self.page {
            write!(formatter, "page {page}: ")?;
        }
        formatter.write_str(&self.what)
    }
}

/// Why a file cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Unreadable {
    /// It is not of the format.
    #[error("{reason}")]
    Not {
        /// What it lacks.
        reason: &'static str,
    },
    /// It holds more, or nests or unpacks to more, than any sheet.
    #[error("it holds or unpacks to more than any sheet does")]
    TooMuch,
    /// An attachment is larger than a source may be.
    #[error("an attached source has more than {} bytes", crate::attached::SOURCE_LIMIT)]
    SourceTooLarge,
}
