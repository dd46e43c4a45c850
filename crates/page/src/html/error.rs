//! Why a page cannot be made.

use std::time::Duration;

use crate::attached::SOURCE_LIMIT;

/// Why a page cannot be made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum HtmlError {
    /// A template cannot be read or does not work with the sheet.
    #[error("{}: {reason}", Place(file, *line))]
    Template {
        /// Name of the file in the folder of templates.
        file: String,
        /// Line, from one, where it is known.
        line: Option<usize>,
        /// What is wrong.
        reason: String,
    },
    /// A template whose name no page asks for.
    #[error("{file}: no template of this name is built in, and no other file of the folder includes it")]
    UnusedTemplate {
        /// Name of the file.
        file: String,
        /// The built-in name that is nearest to it, if any is near.
        nearest: Option<String>,
    },
    /// The templates took too long.
    #[error("the templates did not finish within {} s: one of them repeats itself too often", limit.as_secs_f64())]
    TooSlow {
        /// The limit.
        limit: Duration,
    },
    /// The page grew too large.
    #[error("the page has more than {limit} bytes")]
    TooLarge {
        /// The limit.
        limit: usize,
    },
    /// The templates left out or changed the source that every page carries.
    #[error("the templates do not carry the source: {reason}")]
    SourceLost {
        /// What reading it back found.
        reason: String,
    },
    /// The source is larger than can be read back.
    #[error("the source has {bytes} bytes, over the limit of {SOURCE_LIMIT}")]
    SourceTooLarge {
        /// Its size.
        bytes: usize,
    },
    /// A drawing has a number that cannot be drawn.
    #[error("the drawing \"{title}\" has a measure that is not a number or out of bounds")]
    Drawing {
        /// Title of the figure.
        title: String,
    },
    /// The text of the QR code is too long for one.
    #[error("the text of the QR code has {bytes} bytes, more than a code holds")]
    QrTooLong {
        /// Length of the text.
        bytes: usize,
    },
}

/// A file and, where known, its line.
struct Place<'a>(&'a str, Option<usize>);

impl std::fmt::Display for Place<'_> {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(self.0)?;
        self.1.map_or(Ok(()), |line| write!(formatter, ", line {line}"))
    }
}
