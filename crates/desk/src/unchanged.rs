//! Which sheets stand already: made of the same source, options, look, records and version of the program, and not touched
//! since. `render` leaves those as they are.
//!
//! What depends on the day, such as a date that still lies ahead, never stands: it is made again every time.

use std::path::PathBuf;

use seamwright_check::Outcome;
use seamwright_page::Kind;
use seamwright_page::html;
use seamwright_version::VERSION;

use crate::companions::Companions;
use crate::files::{Asked, Files, Input, MOST};
use crate::named::Named;
use crate::seal::{self, Format, Note};
use crate::sheets::SheetRequest;

pub use crate::named::NamedFile;

/// What the sheets of a run are made of besides the files themselves.
pub struct Unchanged<'f> {
    /// Where sheets and sources are read from.
    files: &'f dyn Files,
    /// Digest of what all files of the run share.
    shared: Vec<u8>,
    /// Nothing stands: everything is asked to be made again.
    force: bool,
}

impl<'f> Unchanged<'f> {
    /// Takes what the files of a run share: options, templates, and what was read beside them.
    pub fn new(request: &SheetRequest, companions: &Companions<'f>, force: bool) -> Self {
        let SheetRequest { kinds, options, paper, length } = request;
        let length = length.as_ref().map(|length| length.spelled());
        let options = (options, paper, kinds, length, companions.code(), companions.typed());
        let mut parts = vec![format!("{VERSION} {options:?}").into_bytes()];
        for (name, text) in html::template_names() {
            parts.extend([name.into(), text.into()]);
        }
        Self { shared: seal::digest_of(parts.iter().map(Vec::as_slice)), force, files: companions.files() }
    }

    /// What a sheet is made of: what the run shares, the file, and the documents that it names, as they were read.
    pub fn made_of(&self, input: &Input, source: &[u8], beside: &[NamedFile], kind: Kind, format: Format) -> Vec<u8> {
        let name = input.path.file_name().unwrap_or_default().as_encoded_bytes();
        let kind = format!("{} {format:?}", kind.name());
        let mut parts = vec![&*self.shared, kind.as_bytes(), name, source];
        for own in beside {
            parts.extend([own.name.as_bytes(), &*own.digest]);
        }
        seal::digest_of(parts)
    }

    /// The sheets of a file with their notes, where all that would be made of it stand; `path` says where each belongs.
    pub fn of(
        &self,
        input: &Input,
        wanted: &[Kind],
        formats: &[Format],
        path: impl Fn(Kind, Format) -> PathBuf,
    ) -> Option<Vec<(Kind, Note)>> {
        let first = *formats.first()?;
        if self.force || !can_stand(input) {
            return None;
        }
        let read = |kind: Kind, format: Format| self.files.read(&path(kind, format), Asked::Found, MOST).ok();
        // Of the kinds that are asked for, the document has those that any of its sheets names.
        let told = wanted.iter().find_map(|kind| seal::note(first, &read(*kind, first)?))?;
        let source = self.files.read(&input.path, Asked::Found, MOST).ok()?;
        let kinds = wanted.iter().copied().filter(|kind| told.sheets.iter().any(|name| name == kind.name()));
        let mut standing = Vec::new();
        let mut named: Vec<NamedFile> = Vec::new();
        for kind in kinds {
            let mut note = None;
            for &format in formats {
                let bytes = read(kind, format)?;
                let own = seal::note(format, &bytes)?;
                if !own.beside.iter().eq(named.iter().map(|one| &one.name)) {
                    named = own.beside.iter().map(|name| now(self.files, input, name)).collect::<Option<_>>()?;
                }
                if !seal::holds(format, &bytes, &self.made_of(input, &source, &named, kind, format)) {
                    return None;
                }
                note = Some(own);
            }
            standing.push((kind, note?));
        }
        Some(standing)
    }
}

/// A file that a document names as it is now; nothing where it cannot be read.
fn now(files: &dyn Files, input: &Input, name: &str) -> Option<NamedFile> {
    let bytes = files.read(&input.named(name).path, Asked::Found, MOST).ok()?;
    Some(NamedFile { name: name.to_owned(), digest: seal::digest_of([bytes.as_slice()]) })
}

/// Whether sheets of a file can stand: standard input and sheets that arrive are always looked at.
pub fn can_stand(input: &Input) -> bool {
    input.path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml")
}

/// What the sheets of a document are to remember; nothing where they would be others on another day.
pub fn note(companions: &Companions<'_>, outcome: &Outcome, named: &Named) -> Option<Note> {
    (!companions.hangs_on_the_day(outcome, named)).then(|| Note {
        beside: named.files().into_iter().map(|file| file.name).collect(),
        examined: outcome.examined,
        findings: outcome.findings.len(),
        deviations: outcome.deviations.len(),
        ..Note::default()
    })
}
