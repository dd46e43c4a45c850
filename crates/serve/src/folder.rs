//! The documents of a folder, named by ids and never by paths.

use std::collections::BTreeMap;
use std::fs;
use std::io::{self, Read};
use std::path::{Component, Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::time::SystemTime;

use seamwright_model::load::limits;
use sha2::{Digest, Sha256};

/// Folders inside folders that are walked.
const DEEPEST: usize = 32;
/// The folder of this program's own files inside a folder of documents.
pub const OWN: &str = ".seamwright";

/// What the file system says of a file: enough to see that it was changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stamp {
    /// When it was changed.
    pub changed: Option<SystemTime>,
    /// Its bytes.
    pub bytes: u64,
}

/// A document of the folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// Its id.
    pub id: String,
    /// Its path below the folder.
    pub below: PathBuf,
    /// When it was looked at last.
    pub stamp: Stamp,
}

/// A folder of documents.
#[derive(Debug)]
pub struct Folder {
    /// The folder as it was typed, for messages and for the paths of documents.
    pub root: PathBuf,
    /// The folder itself, links followed.
    real: PathBuf,
    listed: Mutex<BTreeMap<String, Listed>>,
}

impl Folder {
    /// Opens a folder. Fails in words where there is none.
    pub fn open(root: &Path) -> Result<Self, String> {
        let real = root.canonicalize().map_err(|error| match error.kind() {
            io::ErrorKind::NotFound => "there is no such folder; make it, or name another".to_owned(),
            _ => format!("the folder cannot be opened: {}", reason(&error)),
        })?;
        if !real.is_dir() {
            return Err("this is a file; name the folder that it lies in".to_owned());
        }
        let folder = Self { root: root.to_owned(), real, listed: Mutex::default() };
        folder.look().map_err(|error| format!("the folder cannot be read: {}", reason(&error)))?;
        Ok(folder)
    }

    /// Walks the folder anew and gives its documents in the order of their paths.
    pub fn look(&self) -> io::Result<Vec<Listed>> {
        let mut found = Vec::new();
        self.walk(Path::new(""), 0, &mut found)?;
        *self.listed.lock().unwrap_or_else(PoisonError::into_inner) =
            found.iter().map(|one| (one.id.clone(), one.clone())).collect();
        Ok(found)
    }

    fn walk(&self, below: &Path, depth: usize, found: &mut Vec<Listed>) -> io::Result<()> {
        let mut entries = fs::read_dir(self.root.join(below))?.collect::<io::Result<Vec<_>>>()?;
        entries.sort_by_key(fs::DirEntry::file_name);
        for entry in entries {
            let name = entry.file_name();
            let own = below.join(&name);
            if name.to_string_lossy().starts_with('.') {
                continue;
            }
            let Ok(kind) = entry.file_type() else { continue };
            if kind.is_dir() {
                if depth < DEEPEST {
                    // A folder that cannot be read hides nothing else.
                    let _ = self.walk(&own, depth + 1, found);
                }
                continue;
            }
            if !is_document(&own) || (kind.is_symlink() && self.inside(&own).is_none()) {
                continue;
            }
            let Some(stamp) = stamp(&self.root.join(&own)) else { continue };
            found.push(Listed { id: id_of(&own), below: own, stamp });
        }
        Ok(())
    }

    /// The path of a listed document below the folder.
    pub fn find(&self, id: &str) -> Option<PathBuf> {
        let known =
            |own: &Self| own.listed.lock().unwrap_or_else(PoisonError::into_inner).get(id).map(|one| one.below.clone());
        known(self).or_else(|| {
            self.look().ok()?;
            known(self)
        })
    }

    /// The path under which a document is read.
    pub fn path(&self, below: &Path) -> PathBuf {
        self.root.join(below)
    }

    /// The file itself that a document's path leads to, links followed; nothing where it lies outside the folder.
    pub fn inside(&self, below: &Path) -> Option<PathBuf> {
        let file = self.real.join(below).canonicalize().ok()?;
        (file.starts_with(&self.real) && file.is_file()).then_some(file)
    }

    /// Where a new document goes: a plain name with `.yaml` in the folder itself.
    ///
    /// `Err` says in words what is wrong with the name.
    pub fn place_for(&self, name: &str) -> Result<PathBuf, String> {
        let name = name.trim();
        let ending = Path::new(name).extension();
        let yaml = ending.is_some_and(|own| own == "yaml" || own == "yml");
        let name = if yaml { name.to_owned() } else { format!("{name}.yaml") };
        let plain = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | ' ' | '+');
        let path = PathBuf::from(&name);
        let single = matches!(path.components().collect::<Vec<_>>().as_slice(), [Component::Normal(_)]);
        if !single || name.starts_with('.') || name.len() > 120 || !name.chars().all(plain) {
            return Err(
                "a file's name has letters, digits, points, hyphens and underlines, and no folder before it".to_owned()
            );
        }
        if self.real.join(&path).symlink_metadata().is_ok() {
            return Err(format!("there is a file {name} already; give the new one another name"));
        }
        Ok(path)
    }

    /// The real folder, links followed.
    pub fn real(&self) -> &Path {
        &self.real
    }
}

/// Whether a path is named as documents are.
fn is_document(path: &Path) -> bool {
    let yaml = path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml");
    yaml && path.file_name().is_none_or(|name| name != "house-style.yaml")
}

/// The id of a document: the same for the same path.
pub fn id_of(below: &Path) -> String {
    digest(below.to_string_lossy().as_bytes()).chars().take(16).collect()
}

/// The SHA-256 of bytes as hexadecimal digits.
pub fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// What the file system says of a file.
pub fn stamp(path: &Path) -> Option<Stamp> {
    let data = fs::metadata(path).ok()?;
    data.is_file().then(|| Stamp { changed: data.modified().ok(), bytes: data.len() })
}

/// The bytes of a regular file, one past the most that a document may have where it has more.
pub fn read(path: &Path) -> io::Result<Vec<u8>> {
    if !fs::metadata(path)?.is_file() {
        return Err(io::Error::other("it is not a regular file"));
    }
    let mut bytes = Vec::new();
    fs::File::open(path)?.take(limits::FILE_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// The system's reason without its number.
pub fn reason(error: &io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}
