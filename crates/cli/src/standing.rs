//! Which sheets stand already: made of the same source, options, look, records and version of the program, and not touched
//! since. `render` leaves those as they are.
//!
//! What depends on the day, such as a date that still lies ahead, never stands: it is made again every time.

use std::fs;
use std::path::{Path, PathBuf};

use seamwright_check::Outcome;
use seamwright_handbook as handbook;
use seamwright_model::document::Document;
use seamwright_model::shop::Shop;
use seamwright_sheet::house::House;
use seamwright_sheet::html;
use seamwright_sheet::kinds::Kind;

use crate::args::{BesideArgs, RenderArgs};
use crate::files::Input;
use crate::seal::{self, Format, Note};

/// What the sheets of a run are made of besides the files themselves.
pub struct Standing {
    /// Digest of what all files of the run share.
    shared: Vec<u8>,
    /// Nothing stands: everything is asked to be made again.
    force: bool,
}

impl Standing {
    /// Reads what the files of a run share.
    pub fn new(args: &RenderArgs, house: Option<&House>) -> Self {
        let length = args.length.as_ref().map(|length| length.spelled());
        let options = format!(
            "{} {} {:?}",
            env!("CARGO_PKG_VERSION"),
            handbook::STAMP,
            (args.units, args.terms, args.paper, &args.sheet, length, args.beside.code, house)
        );
        let mut parts = vec![options.into_bytes()];
        for (name, text) in html::template_names() {
            parts.extend([name.into(), text.into()]);
        }
        let beside = args.beside.record.iter().chain(&args.beside.shop).chain(&args.beside.procedure);
        parts.extend(beside.map(|path| fs::read(path).unwrap_or_default()));
        if let Some(folder) = &args.look.templates {
            let entries = fs::read_dir(folder).into_iter().flatten().flatten();
            let mut paths: Vec<_> = entries.map(|entry| entry.path()).filter(|path| path.is_file()).collect();
            paths.sort();
            for path in paths {
                let name = path.file_name().unwrap_or_default().as_encoded_bytes().to_vec();
                parts.extend([name, fs::read(&path).unwrap_or_default()]);
            }
        }
        Self { shared: seal::digest_of(parts.iter().map(Vec::as_slice)), force: args.force }
    }

    /// What a sheet is made of: what the run shares, the file, and the documents that it names.
    pub fn made_of(&self, input: &Input, source: &[u8], beside: &[String], kind: Kind, format: Format) -> Vec<u8> {
        let name = input.path.file_name().unwrap_or_default().as_encoded_bytes();
        let kind = format!("{} {format:?}", kind.name());
        let mut parts = vec![self.shared.clone(), kind.into_bytes(), name.to_vec(), source.to_vec()];
        for own in beside {
            let path = input.path.parent().unwrap_or(Path::new("")).join(own);
            parts.extend([own.clone().into_bytes(), fs::read(path).unwrap_or_default()]);
        }
        seal::digest_of(parts.iter().map(Vec::as_slice))
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
        let read = |kind: Kind, format: Format| fs::read(path(kind, format)).ok();
        // Of the kinds that are asked for, the document has those that any of its sheets names.
        let told = wanted.iter().find_map(|kind| seal::note(first, &read(*kind, first)?))?;
        let source = fs::read(&input.path).ok()?;
        let kinds = wanted.iter().copied().filter(|kind| told.sheets.iter().any(|name| name == kind.name()));
        let mut standing = Vec::new();
        for kind in kinds {
            let mut note = None;
            for &format in formats {
                let bytes = read(kind, format)?;
                let own = seal::note(format, &bytes)?;
                if !seal::holds(format, &bytes, &self.made_of(input, &source, &own.beside, kind, format)) {
                    return None;
                }
                note = Some(own);
            }
            standing.push((kind, note?));
        }
        Some(standing)
    }
}

/// Whether sheets of a file can stand: standard input and sheets that arrive are always looked at.
pub fn can_stand(input: &Input) -> bool {
    input.path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml")
}

/// What the sheets of a document are to remember; nothing where they would be others on another day.
pub fn note(document: &Document, outcome: &Outcome, shop: Option<&Shop>, typed: &BesideArgs) -> Option<Note> {
    let lapses = shop.is_some_and(|shop| !shop.welders.is_empty());
    let mut found = outcome.findings.iter().chain(outcome.deviations.iter().map(|(finding, _)| finding));
    if lapses || found.any(|finding| finding.check == "date-in-future") {
        return None;
    }
    let (shop, procedure) = match document {
        Document::Procedure(procedure) => (procedure.identification.shop.as_deref(), None),
        Document::Lesson(lesson) => (lesson.shop.as_deref(), Some(&*lesson.procedure)),
        _ => (None, None),
    };
    let shop = shop.filter(|_| typed.shop.is_none());
    let procedure = procedure.filter(|_| typed.procedure.is_none());
    Some(Note {
        beside: shop.into_iter().chain(procedure).map(ToOwned::to_owned).collect(),
        examined: outcome.examined,
        findings: outcome.findings.len(),
        deviations: outcome.deviations.len(),
        ..Note::default()
    })
}
