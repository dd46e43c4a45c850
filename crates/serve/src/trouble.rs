//! Why nothing is served.

use std::io;
use std::path::PathBuf;

/// Why nothing is served.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// The folder is not there, or is none.
    #[error("{}: {reason}", .folder.display())]
    Folder {
        /// As it was named.
        folder: PathBuf,
        /// What is wrong with it.
        reason: String,
    },
    /// The port is taken.
    #[error("port {0} is in use by another program: name another with --port, or leave --port out for a free one")]
    PortInUse(u16),
    /// A shop or record that was named cannot be read.
    #[error("{0}")]
    Companion(String),
    /// The system refuses.
    #[error("the page cannot be served: {0}")]
    Io(#[from] io::Error),
}
