//! Reading: which files are meant, and what they hold. A file is read once, so that what is checked is what is printed.

mod disk;
mod glyphs;
mod input;
mod open;
mod overlay;
mod shown;
mod text;

use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use seamwright_model::Loaded;
use seamwright_model::stated::Date;

pub use disk::Disk;
pub use input::{Input, below, inputs};
pub use open::{Arrival, MOST, Unread, open, read};
pub use overlay::Overlay;
pub use shown::{reason, shown};
pub use text::{text, yaml};

/// The file in which a shop keeps the look of its sheets, beside its documents.
pub const HOUSE_STYLE: &str = "house-style.yaml";

/// The name of standard input among paths.
const STANDARD_INPUT: &str = "-";

/// Where documents and all that stands beside them are read from, and the day on which they are checked.
pub trait Files: Sync {
    /// The bytes of a file, one past `most` where it has more.
    fn read(&self, path: &Path, asked: Asked, most: u64) -> io::Result<Vec<u8>>;

    /// What stands in a folder, in the order of the names.
    fn list(&self, folder: &Path) -> io::Result<Vec<Listed>>;

    /// Whether a folder stands at a path.
    fn is_folder(&self, path: &Path) -> bool;

    /// By what it is seen that a file was not changed since; nothing where that cannot be told.
    fn stamp(&self, path: &Path) -> Option<Stamp>;

    /// A document that was read of what stands at a path, once.
    fn read_before(&self, _: &Path) -> Option<Loaded> {
        None
    }

    /// The day of the check.
    fn today(&self) -> Date;
}

/// Length of a file, and when it was changed.
pub type Stamp = (u64, SystemTime);

/// Who asks for a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    /// A person typed its path: `-` is standard input, and a pipe is read to its end.
    Typed,
    /// A folder or a document names it: a pipe or a device that nobody typed could keep its reader waiting for ever.
    Found,
}

/// What stands in a folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// Its path, with that of the folder.
    pub path: PathBuf,
    /// What it is.
    pub kind: Kind,
}

/// What a path leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A file, or what is neither file nor folder.
    File,
    /// A folder.
    Folder,
    /// A link to a folder, which may lead round in a circle.
    LinkedFolder,
}
