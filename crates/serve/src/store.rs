//! Nobody's work is lost: saving whole or not at all, the versions before, and texts that are not saved yet.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU16, Ordering};
use std::sync::{Mutex, PoisonError};

use serde::{Deserialize, Serialize};
use tempfile::NamedTempFile;

use crate::folder::{Folder, OWN, digest, id_of, read, reason};

/// How many versions of a document are kept.
const KEPT: usize = 50;
/// How hidden names of files begin and end that are being written.
const PART: (&str, &str) = (".seamwright-", ".part");
/// Name of the file with the port that the pages of the folder have.
const PORT: &str = "port";

/// A text that is not saved yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unsaved {
    /// Path of its document below the folder.
    pub below: PathBuf,
    /// Digest of the file that it was made from.
    pub base: String,
    /// The text.
    pub text: String,
}

/// A version before, as it is listed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Version {
    /// Its name: when it was put aside, and its digest.
    pub name: String,
    /// When it was put aside, as people read it (UTC).
    pub when: String,
}

/// Why a document was not saved.
#[derive(Debug)]
pub enum NotSaved {
    /// Nothing may be written.
    ReadOnly,
    /// Another program changed the file: its digest now, or nothing where it is gone.
    Changed(Option<String>),
    /// The system refuses, in words.
    Failed(String),
}

/// What lies in a folder beside its documents.
#[derive(Debug)]
pub struct Store {
    /// The folder of this program's own files.
    own: PathBuf,
    read_only: bool,
    unsaved: Mutex<BTreeMap<String, Unsaved>>,
    /// One save at a time: the digest is read again right before the rename.
    saving: Mutex<()>,
    /// The port to write down; 0 for none, or none any more.
    port: AtomicU16,
}

/// The port that a page of this folder had in an earlier run: what a browser kept for it is found again under the same address.
pub fn kept_port(folder: &Path) -> Option<u16> {
    fs::read_to_string(folder.join(OWN).join(PORT)).ok()?.trim().parse().ok().filter(|port| *port >= 1024)
}

impl Store {
    /// Opens what lies beside the documents, with the texts that an earlier run left unsaved.
    pub fn open(folder: &Folder, read_only: bool) -> Self {
        let own = folder.real().join(OWN);
        let store =
            Self { own, read_only, unsaved: Mutex::default(), saving: Mutex::default(), port: AtomicU16::new(0) };
        store.sweep(folder);
        let entries = fs::read_dir(store.own.join("unsaved")).into_iter().flatten().flatten();
        let left = entries.filter_map(|entry| serde_json::from_slice::<Unsaved>(&fs::read(entry.path()).ok()?).ok());
        let left = left.filter(|one| folder.path(&one.below).is_file()).map(|one| (id_of(&one.below), one)).collect();
        *store.texts() = left;
        store
    }

    /// Removes what a run left behind that was stopped in the middle of writing.
    fn sweep(&self, folder: &Folder) {
        if self.read_only {
            return;
        }
        let mut folders: Vec<PathBuf> = vec![folder.real().to_owned(), self.own.join("unsaved")];
        folders.extend(
            folder
                .look()
                .unwrap_or_default()
                .iter()
                .filter_map(|one| folder.path(&one.below).parent().map(Path::to_owned)),
        );
        let history = self.own.join("history");
        folders.extend(fs::read_dir(history).into_iter().flatten().flatten().map(|entry| entry.path()));
        folders.sort();
        folders.dedup();
        for folder in folders {
            for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
                let name = entry.file_name();
                let ours = name.to_str().is_some_and(|name| name.starts_with(PART.0) && name.ends_with(PART.1));
                // What another run is writing now is locked.
                if ours && File::open(entry.path()).is_ok_and(|file| file.try_lock().is_ok()) {
                    let _ = fs::remove_file(entry.path());
                }
            }
        }
    }

    fn texts(&self) -> std::sync::MutexGuard<'_, BTreeMap<String, Unsaved>> {
        self.unsaved.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether nothing may be written.
    pub fn read_only(&self) -> bool {
        self.read_only
    }

    /// Says which port the pages have, to be written down when a document is opened.
    pub fn has_port(&self, port: u16) {
        self.port.store(port, Ordering::Relaxed);
    }

    /// Writes the port of the pages down for the next run.
    pub fn keep_port(&self) {
        let port = self.port.swap(0, Ordering::Relaxed);
        if port != 0 && !self.read_only && self.folder("unsaved").is_ok() {
            // Where it cannot be written, the next run has another one.
            let _ = fs::write(self.own.join(PORT), format!("{port}\n"));
        }
    }

    /// The text of a document that is not saved yet.
    pub fn unsaved(&self, id: &str) -> Option<Unsaved> {
        self.texts().get(id).cloned()
    }

    /// Every text that is not saved yet.
    pub fn all_unsaved(&self) -> Vec<Unsaved> {
        self.texts().values().cloned().collect()
    }

    /// Keeps a text that is not saved yet, in memory and beside the documents.
    #[cfg(test)]
    fn keep(&self, id: &str, unsaved: Unsaved) {
        self.write_down(id, &unsaved);
        self.remember(id, unsaved);
    }

    /// Keeps a text that is not saved yet in memory.
    pub fn remember(&self, id: &str, unsaved: Unsaved) {
        self.texts().insert(id.to_owned(), unsaved);
    }

    /// Keeps a text that is not saved yet beside the documents, against a crash.
    pub fn write_down(&self, id: &str, unsaved: &Unsaved) {
        if !self.read_only {
            // Where the folder cannot be written, memory holds it.
            let _ = self.put_unsaved(id, unsaved);
        }
    }

    fn put_unsaved(&self, id: &str, unsaved: &Unsaved) -> io::Result<()> {
        let folder = self.folder("unsaved")?;
        let mut file = part(&folder)?;
        // In one piece: each piece is a call of the system.
        file.write_all(&serde_json::to_vec(unsaved)?)?;
        file.flush()?;
        file.persist(folder.join(format!("{id}.json"))).map_err(|error| error.error)?;
        Ok(())
    }

    /// Lets go of the text of a document that is not saved yet.
    pub fn forget(&self, id: &str) {
        self.texts().remove(id);
        let _ = fs::remove_file(self.own.join("unsaved").join(format!("{id}.json")));
    }

    /// A folder of this program's own, which version control is told to leave alone.
    fn folder(&self, name: &str) -> io::Result<PathBuf> {
        let folder = self.own.join(name);
        fs::create_dir_all(&folder)?;
        let ignore = self.own.join(".gitignore");
        if !ignore.exists() {
            fs::write(ignore, "*\n")?;
        }
        Ok(folder)
    }

    /// Writes a document whole or not at all, if its file still has the digest `expected`; gives the new digest.
    ///
    /// The bytes before are put aside first, and the new ones with them: another program may write over them at any time. A
    /// link is followed inside the folder only.
    pub fn save(&self, folder: &Folder, below: &Path, text: &str, expected: &str) -> Result<String, NotSaved> {
        if self.read_only {
            return Err(NotSaved::ReadOnly);
        }
        let _one = self.saving.lock().unwrap_or_else(PoisonError::into_inner);
        let Some(file) = folder.inside(below) else { return Err(NotSaved::Changed(None)) };
        let failed = |error: io::Error| NotSaved::Failed(not_written(&error));
        let before = read(&file).map_err(failed)?;
        if digest(&before) != expected {
            return Err(NotSaved::Changed(Some(digest(&before))));
        }
        if before != text.as_bytes() {
            self.put_aside(below, &before).map_err(failed)?;
            self.put_aside(below, text.as_bytes()).map_err(failed)?;
            let parent = file.parent().unwrap_or(folder.real());
            let mut part = part(parent).map_err(failed)?;
            part.write_all(text.as_bytes()).map_err(failed)?;
            part.as_file().set_permissions(fs::metadata(&file).map_err(failed)?.permissions()).map_err(failed)?;
            part.as_file().sync_all().map_err(failed)?;
            let now = read(&file).map_err(failed)?;
            if now != before {
                return Err(NotSaved::Changed(Some(digest(&now))));
            }
            part.persist(&file).map_err(|error| failed(error.error))?;
            sync_folder(parent);
        }
        Ok(digest(text.as_bytes()))
    }

    /// Writes a new document; fails where there is a file of its name.
    pub fn create(&self, folder: &Folder, below: &Path, text: &str) -> Result<(), NotSaved> {
        if self.read_only {
            return Err(NotSaved::ReadOnly);
        }
        let _one = self.saving.lock().unwrap_or_else(PoisonError::into_inner);
        let file = folder.real().join(below);
        let parent = file.parent().unwrap_or(folder.real());
        let put = || {
            let mut part = part(parent)?;
            part.write_all(text.as_bytes())?;
            part.as_file().sync_all()?;
            part.persist_noclobber(&file).map_err(|error| error.error)?;
            sync_folder(parent);
            Ok(())
        };
        put().map_err(|error: io::Error| NotSaved::Failed(not_written(&error)))
    }

    /// Takes back a document that was created a moment ago, if it is still what was written.
    pub fn withdraw(folder: &Folder, below: &Path, text: &str) {
        let file = folder.real().join(below);
        if read(&file).is_ok_and(|bytes| bytes == text.as_bytes()) {
            let _ = fs::remove_file(file);
        }
    }

    /// Puts the bytes of a document aside, where they are not what was put aside last.
    fn put_aside(&self, below: &Path, bytes: &[u8]) -> io::Result<()> {
        let folder = self.folder(&format!("history/{}", id_of(below)))?;
        let now = jiff::Timestamp::now().strftime("%Y%m%dT%H%M%S%6fZ");
        let short: String = digest(bytes).chars().take(8).collect();
        if names(&folder).last().is_some_and(|last| last.ends_with(&format!("-{short}.yaml"))) {
            return Ok(());
        }
        let mut part = part(&folder)?;
        part.write_all(bytes)?;
        part.as_file().sync_all()?;
        part.persist(folder.join(format!("{now}-{short}.yaml"))).map_err(|error| error.error)?;
        sync_folder(&folder);
        let names = names(&folder);
        for old in names.iter().take(names.len().saturating_sub(KEPT)) {
            let _ = fs::remove_file(folder.join(old));
        }
        Ok(())
    }

    /// The versions before of a document, newest first.
    pub fn versions(&self, id: &str) -> Vec<Version> {
        let all = names(&self.own.join("history").join(id)).into_iter().rev();
        all.map(|name| Version { when: when(&name), name }).collect()
    }

    /// The text of a version before.
    pub fn version(&self, id: &str, name: &str) -> Option<Vec<u8>> {
        let known = self.versions(id).into_iter().any(|version| version.name == name);
        known.then(|| read(&self.own.join("history").join(id).join(name)).ok()).flatten()
    }
}

/// `20260301T101500123456Z-1a2b3c4d.yaml` as `2026-03-01 10:15:00`.
fn when(name: &str) -> String {
    let part = |from: usize, to: usize| name.get(from..to).unwrap_or_default();
    format!("{}-{}-{} {}:{}:{}", part(0, 4), part(4, 6), part(6, 8), part(9, 11), part(11, 13), part(13, 15))
}

/// The names of kept versions, oldest first.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| !name.starts_with('.') && Path::new(name).extension().is_some_and(|own| own == "yaml"))
        .collect();
    names.sort();
    names
}

/// A new hidden file, locked while it is written.
fn part(folder: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(PART.0).suffix(PART.1);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o644));
    }
    let file = builder.tempfile_in(folder)?;
    // Where the file system knows no locks, no run can sweep either.
    let _ = file.as_file().lock();
    Ok(file)
}

/// Makes a rename last through a loss of power, where the system can.
fn sync_folder(folder: &Path) {
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
}

/// Why a file was not written, in words.
pub fn not_written(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::StorageFull => {
            "the disk is full: make room and save again; the text is kept on the page".to_owned()
        }
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            "this folder may not be written to: ask for the right to, or keep a copy elsewhere".to_owned()
        }
        io::ErrorKind::AlreadyExists => "there is a file of this name already; give another name".to_owned(),
        _ => reason(error),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder() -> (tempfile::TempDir, Folder, Store) {
        let place = tempfile::tempdir().unwrap();
        fs::write(place.path().join("a.yaml"), "one\n").unwrap();
        let folder = Folder::open(place.path()).unwrap();
        let store = Store::open(&folder, false);
        (place, folder, store)
    }

    #[test]
    fn a_save_needs_the_digest_of_the_file_as_it_is() {
        let (place, folder, store) = folder();
        let below = Path::new("a.yaml");
        let first = digest(b"one\n");
        let second = store.save(&folder, below, "two\n", &first).unwrap();
        assert_eq!(fs::read_to_string(place.path().join("a.yaml")).unwrap(), "two\n");
        let NotSaved::Changed(Some(now)) = store.save(&folder, below, "three\n", &first).unwrap_err() else { panic!() };
        assert_eq!(now, second);
        assert_eq!(fs::read_to_string(place.path().join("a.yaml")).unwrap(), "two\n");
        let id = id_of(below);
        let versions = store.versions(&id);
        assert_eq!(versions.len(), 2);
        assert_eq!(store.version(&id, &versions[0].name).unwrap(), b"two\n");
        assert_eq!(store.version(&id, &versions[1].name).unwrap(), b"one\n");
        assert!(store.version(&id, "../../../a.yaml").is_none());
    }

    #[test]
    fn the_oldest_versions_go_first() {
        let (_place, folder, store) = folder();
        let below = Path::new("a.yaml");
        let mut now = digest(b"one\n");
        for turn in 0..KEPT + 5 {
            now = store.save(&folder, below, &format!("{turn}\n"), &now).unwrap();
        }
        let versions = store.versions(&id_of(below));
        assert_eq!(versions.len(), KEPT);
        assert_eq!(store.version(&id_of(below), &versions[0].name).unwrap(), format!("{}\n", KEPT + 4).as_bytes());
    }

    #[test]
    fn what_was_not_saved_is_there_in_the_next_run() {
        let (_place, folder, store) = folder();
        let unsaved = Unsaved { below: "a.yaml".into(), base: digest(b"one\n"), text: "half\n".into() };
        store.keep("x", unsaved.clone());
        let next = Store::open(&folder, false);
        assert_eq!(next.unsaved(&id_of(Path::new("a.yaml"))), Some(unsaved));
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_followed_inside_the_folder_only_and_the_mode_stays() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let (place, folder, store) = folder();
        let outside = tempfile::tempdir().unwrap();
        fs::write(outside.path().join("x.yaml"), "secret\n").unwrap();
        symlink(outside.path().join("x.yaml"), place.path().join("out.yaml")).unwrap();
        symlink("a.yaml", place.path().join("in.yaml")).unwrap();
        fs::set_permissions(place.path().join("a.yaml"), fs::Permissions::from_mode(0o640)).unwrap();
        let names: Vec<_> = folder.look().unwrap().into_iter().map(|one| one.below).collect();
        assert_eq!(names, [PathBuf::from("a.yaml"), "in.yaml".into()]);
        assert!(store.save(&folder, Path::new("out.yaml"), "changed\n", &digest(b"secret\n")).is_err());
        store.save(&folder, Path::new("in.yaml"), "two\n", &digest(b"one\n")).unwrap();
        assert!(place.path().join("in.yaml").symlink_metadata().unwrap().is_symlink());
        let file = place.path().join("a.yaml");
        assert_eq!(fs::read_to_string(&file).unwrap(), "two\n");
        assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o640);
    }

    #[test]
    fn a_new_name_is_plain_and_free() {
        let (_place, folder, _store) = folder();
        assert_eq!(folder.place_for("p-021").unwrap(), PathBuf::from("p-021.yaml"));
        for bad in ["../x", "a/b", ".hidden", "", "a.yaml", "x\u{0}y"] {
            assert!(folder.place_for(bad).is_err(), "{bad}");
        }
    }
}
