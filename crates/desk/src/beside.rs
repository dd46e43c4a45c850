//! What lies beside a file and was issued under its number: sheets, and copies that are kept as superseded.
//!
//! A seal that was taken out of a file does not free its number: the card on the wall still has it.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use seamwright_check::rules;
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::issue;
use seamwright_model::procedure::Status;

use crate::files::{self, Files, Input, Kind, Listed, Stamp};

/// The folder beside a file, and in a folder of sheets, in which superseded revisions are kept.
pub const KEPT: &str = "superseded";

/// The check that tells of a changed content under an issued number.
pub const ISSUED_CONTENT_CHANGED: &str = rules::document::issued_content_changed::RULE.name;

/// How many files of [`KEPT`] are opened, whatever their names.
const MOST: usize = 200;

/// A file beside another that has the same revision of the same number with another content.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Otherwise {
    /// The sheet or copy.
    pub file: PathBuf,
    /// Number of the procedure.
    pub number: String,
    /// Its revision.
    pub revision: String,
}

/// What a file shows as it was issued.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Shown {
    number: String,
    revision: String,
    seal: String,
}

/// What files show that were opened before, by their paths: whoever keeps it does not open them for each request.
#[derive(Debug, Default)]
pub struct Opened(Mutex<HashMap<PathBuf, (Stamp, Option<Shown>)>>);

impl Opened {
    fn all(&self) -> MutexGuard<'_, HashMap<PathBuf, (Stamp, Option<Shown>)>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What a file shows; opened where it was changed since, or cannot be told to be the same.
    fn of(&self, files: &dyn Files, path: &Path) -> Option<Shown> {
        const REMEMBERED: usize = 4096;
        let stamp = files.stamp(path);
        if let Some((_, shown)) = self.all().get(path).filter(|(then, _)| Some(*then) == stamp) {
            return shown.clone();
        }
        let shown = shown(files, path);
        if let Some(stamp) = stamp {
            let mut all = self.all();
            if all.len() >= REMEMBERED {
                all.clear();
            }
            all.insert(path.to_path_buf(), (stamp, shown.clone()));
        }
        shown
    }
}

/// What a sheet or a kept copy shows as it was issued; nothing of other files.
fn shown(files: &dyn Files, path: &Path) -> Option<Shown> {
    let (loaded, _) = files::open(files, &Input::found(path.to_path_buf(), PathBuf::new())).ok()?;
    let Document::Procedure(own) = &loaded.document else { return None };
    let head = &own.identification;
    matches!(head.status, Some(Status::Issued | Status::Superseded)).then(|| Shown {
        number: head.number.to_string(),
        revision: head.revision.to_string(),
        seal: issue::seal(&**own),
    })
}

/// What lies beside the files of one request; each folder is listed once.
pub struct Beside<'f> {
    files: &'f dyn Files,
    listed: Mutex<HashMap<PathBuf, Arc<Vec<PathBuf>>>>,
    opened: Arc<Opened>,
}

impl<'f> Beside<'f> {
    /// Nothing listed yet.
    pub fn new(files: &'f dyn Files) -> Self {
        Self::remembering(files, Arc::default())
    }

    /// The same with what was opened before.
    pub fn remembering(files: &'f dyn Files, opened: Arc<Opened>) -> Self {
        Self { files, listed: Mutex::default(), opened }
    }

    /// The first sheet or kept copy beside a procedure that shows its revision as it was issued, with another content.
    ///
    /// Beside it lie its own folder and the folders in it; sheets go by the name of the file, kept copies by their number.
    pub fn issued_otherwise(&self, input: &Input, loaded: &Loaded) -> Option<Otherwise> {
        let Document::Procedure(own) = &loaded.document else { return None };
        let stem = input.path.file_stem()?.to_string_lossy().into_owned();
        let head = &own.identification;
        let mut seal = None;
        self.listed(input.path.parent().unwrap_or(Path::new("")))
            .iter()
            .filter(|path| **path != input.path && is_kept(path).unwrap_or_else(|| is_of(path, &stem)))
            .find(|path| {
                self.opened.of(self.files, path).is_some_and(|other| {
                    other.number == *head.number
                        && other.revision == *head.revision
                        && other.seal != *seal.get_or_insert_with(|| issue::seal(&**own))
                })
            })
            .map(|path| Otherwise {
                file: path.clone(),
                number: head.number.to_string(),
                revision: head.revision.to_string(),
            })
    }

    /// The sheets of a folder and of the folders in it, and what is kept as superseded.
    fn listed(&self, folder: &Path) -> Arc<Vec<PathBuf>> {
        let mut listed = self.listed.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = listed.get(folder) {
            return Arc::clone(known);
        }
        let here = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        let all = self.files.list(here).unwrap_or_default();
        let within = all.iter().filter(|own| own.kind == Kind::Folder);
        let within = within.flat_map(|own| self.files.list(&own.path).unwrap_or_default());
        let mut found: Vec<PathBuf> = Vec::new();
        let mut kept = 0;
        for Listed { path, kind } in all.iter().cloned().chain(within) {
            let Some(is_kept) = is_kept(&path).or_else(|| is_sheet(&path).then_some(false)) else { continue };
            kept += usize::from(is_kept);
            if kind == Kind::File && (!is_kept || kept <= MOST) {
                found.push(path);
            }
        }
        let found = Arc::new(found);
        listed.insert(folder.to_path_buf(), Arc::clone(&found));
        found
    }
}

fn ends(path: &Path, endings: &[&str]) -> bool {
    path.extension().is_some_and(|own| endings.iter().any(|ending| own == *ending))
}

fn is_sheet(path: &Path) -> bool {
    ends(path, &["pdf", "html"])
}

/// Whether a sheet is named after a file: `tray.pdf`, `tray.bench-card.pdf`.
fn is_of(path: &Path, stem: &str) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    is_sheet(path) && name.strip_prefix(stem).is_some_and(|rest| rest.starts_with('.'))
}

/// That a file is kept as superseded; nothing for others.
fn is_kept(path: &Path) -> Option<bool> {
    let within = path.parent().and_then(Path::file_name).is_some_and(|name| name == KEPT);
    (within && (is_sheet(path) || ends(path, &["yaml", "yml"]))).then_some(true)
}

impl Otherwise {
    /// What it is, in a sentence.
    pub fn words(&self) -> String {
        format!(
            "{} shows revision {} of {} as it was issued, and the content is another now",
            files::shown(self.file.strip_prefix(".").unwrap_or(&self.file)),
            self.revision,
            self.number
        )
    }

    /// What to do about the file.
    pub fn hint(&self, name: &str) -> String {
        format!("raise the revision: seamwright revise {name} --why \"what changed\"")
    }

    /// The same as a finding at the revision.
    pub fn finding(&self, name: &str) -> Finding {
        Finding {
            check: ISSUED_CONTENT_CHANGED,
            severity: Severity::Error,
            message: self.words(),
            pointer: "/identification/revision".to_owned(),
            stated: Some(self.revision.clone()),
            limit: None,
            source: None,
            hint: Some(self.hint(name)),
        }
    }
}
