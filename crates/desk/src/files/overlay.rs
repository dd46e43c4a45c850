//! Texts that are not saved yet, over other files.

use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::{fmt, io};

use seamwright_model::Loaded;
use seamwright_model::stated::Date;

use super::disk::at_most;
use super::{Asked, Files, Kind, Listed, Stamp};

/// Texts that are not saved yet, in the place of the files of their paths.
///
/// Such a text counts for its own document and for every document that names it. Paths are the same where they are after
/// `.` and `..` are taken out; links are not followed.
pub struct Overlay<'f> {
    below: &'f dyn Files,
    texts: BTreeMap<PathBuf, Vec<u8>>,
    /// A document that was read of one of them.
    read: Mutex<Option<(PathBuf, Loaded)>>,
}

impl<'f> Overlay<'f> {
    /// Nothing unsaved over the files below.
    pub fn new(below: &'f dyn Files) -> Self {
        Self { below, texts: BTreeMap::new(), read: Mutex::default() }
    }

    /// Puts a document in the place of a file: its text, which is not parsed again where it is read next.
    pub fn put_read(&mut self, path: &Path, loaded: Loaded) {
        self.put(path, loaded.source.text.as_bytes());
        self.read = Mutex::new(Some((straight(path), loaded)));
    }

    /// Puts a text in the place of a file, which need not be there.
    pub fn put(&mut self, path: &Path, text: impl Into<Vec<u8>>) {
        self.texts.insert(straight(path), text.into());
    }

    /// The same with a text in the place of a file.
    #[must_use]
    pub fn with(mut self, path: &Path, text: impl Into<Vec<u8>>) -> Self {
        self.put(path, text);
        self
    }

    /// Lets what lies below count again.
    pub fn drop(&mut self, path: &Path) {
        self.texts.remove(&straight(path));
    }
}

impl fmt::Debug for Overlay<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_list().entries(self.texts.keys()).finish()
    }
}

impl Files for Overlay<'_> {
    fn read(&self, path: &Path, asked: Asked, most: u64) -> io::Result<Vec<u8>> {
        match self.texts.get(&straight(path)) {
            Some(text) => at_most(text.as_slice(), most),
            None => self.below.read(path, asked, most),
        }
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<Listed>> {
        let mut all = self.below.list(folder)?;
        let place = straight(folder);
        for path in self.texts.keys().filter(|path| path.parent() == Some(&place)) {
            let Some(name) = path.file_name() else { continue };
            if !all.iter().any(|listed| listed.path.file_name() == Some(name)) {
                all.push(Listed { path: folder.join(name), kind: Kind::File });
            }
        }
        all.sort_by(|one, other| one.path.cmp(&other.path));
        Ok(all)
    }

    fn is_folder(&self, path: &Path) -> bool {
        self.below.is_folder(path)
    }

    fn stamp(&self, path: &Path) -> Option<Stamp> {
        if self.texts.contains_key(&straight(path)) { None } else { self.below.stamp(path) }
    }

    fn read_before(&self, path: &Path) -> Option<Loaded> {
        let mut read = self.read.lock().unwrap_or_else(PoisonError::into_inner);
        read.take_if(|(own, _)| *own == straight(path)).map(|(_, loaded)| loaded)
    }

    fn today(&self) -> Date {
        self.below.today()
    }
}

/// A path without `.` and `..`, as far as it goes up inside itself.
fn straight(path: &Path) -> PathBuf {
    let mut straight = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if matches!(straight.components().next_back(), Some(Component::Normal(_))) => {
                straight.pop();
            }
            other => straight.push(other),
        }
    }
    straight
}
