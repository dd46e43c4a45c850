//! A file as a document: YAML, or a sheet with its source inside.

use std::io;
use std::path::{Path, PathBuf};

use seamwright_handbook::find;
use seamwright_model::load::{Fault, limits};
use seamwright_model::source::Source;
use seamwright_model::{Loaded, Reading, read as read_as_far};
use seamwright_page::attached::PRODUCER;
use seamwright_page::made_with::MadeWith;
use seamwright_page::received::{self, Unreadable};

use super::Files;
use super::glyphs::{At, unprintable};
use super::input::Input;
use super::shown::{reason, shown};
use crate::received::Received;
use crate::seal::Format;

/// Most bytes of a file: sheets are larger than their source; nothing larger than this is one of ours.
pub const MOST: u64 = 16 * limits::FILE_BYTES as u64;

/// A file that could not be read as a document.
#[derive(Debug)]
pub struct Unread {
    /// The text, where it is text.
    pub source: Option<Source>,
    /// What is wrong with it.
    pub faults: Vec<Fault>,
    /// What could be read of it all the same.
    pub reading: Option<Box<Reading>>,
    /// What can be said of it as a sheet, where it is one.
    pub received: Option<Box<Received>>,
}

/// A finished sheet, as it arrived.
#[derive(Debug)]
pub struct Arrival {
    /// Its format.
    pub format: Format,
    /// The file.
    pub bytes: Vec<u8>,
    /// What it carries.
    pub found: received::Arrival,
    /// Which of the sources in it was read as the document.
    pub chosen: usize,
}

impl Arrival {
    /// What it says that it was made with.
    pub fn made_with(&self) -> Option<&MadeWith> {
        self.found.candidates.get(self.chosen)?.made_with.as_ref()
    }
}

/// Reads a file as a document: YAML, or a sheet of this program with its source inside.
pub fn read(files: &dyn Files, input: &Input) -> Result<Loaded, Unread> {
    open(files, input).map(|(loaded, _)| loaded)
}

/// The file or folder whose name comes nearest to one that is not there, whatever their endings.
fn beside(files: &dyn Files, path: &Path) -> Option<String> {
    let folder = path.parent().filter(|own| !own.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let all: Vec<PathBuf> = files.list(folder).ok()?.into_iter().map(|own| own.path).collect();
    let stem = |path: &Path| path.file_stem().and_then(|own| own.to_str()).map(str::to_owned);
    let stems: Vec<String> = all.iter().filter_map(|own| stem(own)).collect();
    let typed = stem(path)?;
    // A slip leaves a name about as long as it was.
    let as_long = |own: &&str| own.len().abs_diff(typed.len()) <= 2;
    let near = find::nearest(&typed, stems.iter().map(String::as_str).filter(as_long)).first().copied()?.to_owned();
    let own = all.iter().find(|own| stem(own).as_ref() == Some(&near))?;
    Some(shown(&path.with_file_name(own.file_name()?)))
}

/// Reads a file as a document, with the sheet that it came in where it is one.
pub fn open(files: &dyn Files, input: &Input) -> Result<(Loaded, Option<Arrival>), Unread> {
    let bytes = match files.read(&input.path, input.asked, MOST) {
        Ok(bytes) => bytes,
        Err(error) => {
            let mut unread = unread(None, format!("cannot be read: {}", reason(&error)));
            if let (io::ErrorKind::NotFound, Some(fault)) = (error.kind(), unread.faults.first_mut()) {
                fault.hint = beside(files, &input.path).map(|own| format!("did you mean `{own}`?"));
            }
            return Err(unread);
        }
    };
    if bytes.len() as u64 > MOST {
        return Err(unread(None, format!("the file is larger than {MOST} bytes: it is no document and no sheet")));
    }
    let format = format_of(input, &bytes);
    let arrival = format.map(|format| arrived(format, bytes.as_slice())).transpose()?;
    // A sheet's source has the name under which it was attached.
    let reading = match arrival.as_ref().and_then(|(found, chosen)| found.candidates.get(*chosen)) {
        Some(own) => read_as_far(&own.file_name, own.text.as_bytes()),
        None => files.read_before(&input.path).map_or_else(|| read_as_far(&input.name, &bytes), Reading::from),
    };
    let as_sheet = |mut unread: Unread| {
        unread.received = arrival.as_ref().map(|(found, _)| {
            Box::new(Received::without_source("its attached source is no document", found.producer.clone()))
        });
        unread
    };
    let loaded = whole(reading).map_err(as_sheet)?;
    let mut faults = Vec::new();
    unprintable(&loaded.tree, &At::Root, &mut faults);
    if !faults.is_empty() {
        let source = Some(loaded.source.clone());
        return Err(as_sheet(Unread { source, faults, reading: Some(Box::new(loaded.into())), received: None }));
    }
    let arrival = arrival.zip(format).map(|((found, chosen), format)| Arrival { format, bytes, found, chosen });
    Ok((loaded, arrival))
}

/// A reading without faults as a document.
fn whole(reading: Reading) -> Result<Loaded, Unread> {
    match reading {
        Reading { source: Some(source), tree: Some(tree), document: Some(document), faults, .. }
            if faults.is_empty() =>
        {
            Ok(Loaded { source, tree, document })
        }
        reading => {
            let (source, faults) = (reading.source.clone(), reading.faults.clone());
            Err(Unread {
                source,
                faults,
                reading: reading.document.is_some().then(|| Box::new(reading)),
                received: None,
            })
        }
    }
}

/// What a sheet carries, and which of its sources is read; `Err` says why none can be.
fn arrived(format: Format, bytes: &[u8]) -> Result<(received::Arrival, usize), Unread> {
    let found = match format {
        Format::Pdf => received::read_pdf(bytes),
        Format::Html => match std::str::from_utf8(bytes) {
            Ok(page) => received::read_page(page),
            Err(_) => return Err(no_source("the page is not text in UTF-8", "ask for it anew", None)),
        },
    };
    let found = found.map_err(|error| match error {
        Unreadable::Not { reason } => {
            let why = format!("the file cannot be read as {}: {reason}", format.name());
            no_source(&why, "it is broken or was cut short; ask for it anew", None)
        }
        other => {
            let hint = "no sheet of this program is like that; do not trust the file";
            no_source(&format!("the file cannot be read: {other}"), hint, None)
        }
    })?;
    // The one that says what the sheet was made with, else the first.
    let chosen = found.candidates.iter().position(|own| own.made_with.is_some()).unwrap_or(0);
    if !found.candidates.is_empty() {
        return Ok((found, chosen));
    }
    let own = found.producer.as_deref().is_some_and(|name| name.starts_with(PRODUCER));
    let why = match &found.producer {
        _ if found.locked => "the file is encrypted, so that no source can be read from it".to_owned(),
        _ if found.unread > 0 => "the file carries attachments, but none that can be read as a source".to_owned(),
        Some(producer) if !own => {
            format!("the file was written by {producer}, not by {PRODUCER}, and carries no source")
        }
        _ => "the file carries no source".to_owned(),
    };
    let producer = found.producer.filter(|_| !own);
    Err(no_source(&why, "ask for the YAML source, or write it from the sheet", producer))
}

/// A sheet without a source that can be read, with what to ask for.
fn no_source(why: &str, hint: &str, producer: Option<String>) -> Unread {
    let mut unread = unread(None, why.to_owned());
    for fault in &mut unread.faults {
        fault.hint = Some(hint.to_owned());
    }
    unread.received = Some(Box::new(Received::without_source(why, producer)));
    unread
}

fn unread(source: Option<Source>, message: String) -> Unread {
    let faults = vec![Fault { message, hint: None, span: None, pointer: String::new() }];
    Unread { source, faults, reading: None, received: None }
}

/// The format of a sheet: by its name, for readers open it by that, else by how it begins; no document of YAML starts with a
/// tag.
fn format_of(input: &Input, bytes: &[u8]) -> Option<Format> {
    if named(input, &["pdf"]) {
        Some(Format::Pdf)
    } else if named(input, &["html", "htm", "xhtml", "xht", "shtml"]) {
        Some(Format::Html)
    } else if bytes.starts_with(b"%PDF") {
        Some(Format::Pdf)
    } else {
        bytes.trim_ascii_start().starts_with(b"<").then_some(Format::Html)
    }
}

fn named(input: &Input, endings: &[&str]) -> bool {
    input.path.extension().is_some_and(|own| endings.iter().any(|ending| own.eq_ignore_ascii_case(ending)))
}
