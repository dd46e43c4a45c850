//! Something that pages hear of.

use serde::Serialize;

/// Something that pages hear of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "what")]
pub enum Event {
    /// A file was changed or saved; its digest now.
    Changed {
        /// The document.
        id: String,
        /// The digest of its file.
        digest: String,
    },
    /// A file appeared.
    New {
        /// The document.
        id: String,
    },
    /// A file is gone.
    Gone {
        /// The document.
        id: String,
    },
    /// A text that is not saved was changed on another page; its digest.
    Edited {
        /// The document.
        id: String,
        /// The digest of the text.
        digest: String,
        /// The page that changed it.
        page: String,
    },
}
