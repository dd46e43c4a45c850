//! Reading: which files are meant, and what they hold. A file is read once, so that what is checked is what is printed.

use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::{fs, io};

use anyhow::{Result, anyhow, bail};
use seamwright_model::load::{Fault, hidden, limits};
use seamwright_model::source::{Node, NodeKind, Scalar, Source, Span, escape};
use seamwright_model::{Loaded, load};
use seamwright_sheet::attached::ReadError;
use seamwright_sheet::made_with::MadeWith;
use seamwright_sheet::pdf::missing_glyphs;
use seamwright_sheet::{html, pdf};
use serde::de::DeserializeOwned;

use crate::seal::{self, Format};
use crate::terminal::shown;

/// A file that was asked for: where it is, its name in messages, and where its sheets go below the output folder.
#[derive(Debug, Clone)]
pub struct Input {
    /// Path, or `-`.
    pub path: PathBuf,
    /// Name in messages.
    pub name: String,
    /// Path below the output folder, without ending.
    pub stem: PathBuf,
    /// Whether a person typed it: `-` is standard input then, and a pipe is read to its end.
    typed: bool,
}

impl Input {
    /// A path that was typed.
    pub fn typed(path: &Path) -> Self {
        if path.as_os_str() == STANDARD_INPUT {
            let (name, stem) = ("standard input".into(), "standard-input".into());
            return Self { path: path.into(), name, stem, typed: true };
        }
        let stem = path.file_stem().map(PathBuf::from).unwrap_or_default();
        Self { path: path.into(), name: shown(path), stem, typed: true }
    }

    /// A path that was found in a folder.
    fn found(path: PathBuf, stem: PathBuf) -> Self {
        Self { name: shown(&path), path, stem, typed: false }
    }

    /// A path that this document gives, as seen from its own place.
    pub fn named(&self, name: &str) -> Self {
        let folder = self.path.parent().unwrap_or(Path::new(""));
        Self::found(folder.join(name), PathBuf::new())
    }

    fn is_standard_input(&self) -> bool {
        self.typed && self.path.as_os_str() == STANDARD_INPUT
    }
}

const STANDARD_INPUT: &str = "-";

/// Whether standard input has been read.
static STANDARD_INPUT_READ: AtomicBool = AtomicBool::new(false);

/// A file that could not be read as a document.
#[derive(Debug)]
pub struct Unread {
    /// The text, where it is text.
    pub source: Option<Source>,
    /// What is wrong with it.
    pub faults: Vec<Fault>,
}

/// The files that paths name: folders are walked for `*.yaml` and `*.yml` in order of their names.
///
/// A path that does not exist is kept, so that it is reported beside the others; a folder without YAML is an error.
pub fn inputs(paths: &[PathBuf]) -> Result<Vec<Input>> {
    let mut inputs = Vec::new();
    for path in paths {
        if path.as_os_str() != STANDARD_INPUT && path.is_dir() {
            let before = inputs.len();
            walk(path, Path::new(""), 0, &mut inputs)?;
            if inputs.len() == before {
                bail!("{}: no *.yaml file in this folder", shown(path));
            }
        } else {
            inputs.push(Input::typed(path));
        }
    }
    Ok(inputs)
}

fn walk(folder: &Path, below: &Path, depth: usize, inputs: &mut Vec<Input>) -> Result<()> {
    const DEEPEST: usize = 32;
    let paths = fs::read_dir(folder).and_then(|entries| entries.map(|entry| entry.map(|entry| entry.path())).collect());
    let mut paths: Vec<PathBuf> =
        paths.map_err(|error: io::Error| anyhow!("{}: cannot be read: {}", shown(folder), reason(&error)))?;
    paths.sort();
    for path in paths {
        let Some(name) = path.file_name() else { continue };
        // The house style beside documents is none of them.
        if name.to_string_lossy().starts_with('.') || name == crate::style::FILE {
            continue;
        }
        if path.is_dir() {
            // A linked folder may lead round in a circle.
            if !path.is_symlink() && depth < DEEPEST {
                walk(&path, &below.join(name), depth + 1, inputs)?;
            }
        } else if path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml") {
            let stem = below.join(path.file_stem().unwrap_or(name));
            inputs.push(Input::found(path, stem));
        }
    }
    Ok(())
}

/// A finished sheet, as it arrived.
#[derive(Debug)]
pub struct Arrival {
    /// What it says that it was made with.
    pub made_with: Option<MadeWith>,
    /// The sheet itself.
    pub sheet: Arrived,
}

/// A sheet in its format.
#[derive(Debug)]
pub enum Arrived {
    /// PDF.
    Pdf(Vec<u8>),
    /// HTML.
    Page(String),
}

/// Reads a file as a document: YAML, or a sheet of this program with its source inside.
pub fn read(input: &Input) -> Result<Loaded, Unread> {
    open(input).map(|(loaded, _)| loaded)
}

/// Reads a file as a document, with the sheet that it came in where it is one.
pub fn open(input: &Input) -> Result<(Loaded, Option<Arrival>), Unread> {
    let bytes = match bytes(input) {
        Ok(bytes) => bytes,
        Err(error) => return Err(unread(None, format!("cannot be read: {}", reason(&error)))),
    };
    if bytes.len() as u64 > MOST {
        return Err(unread(None, format!("the file is larger than {MOST} bytes: it is no document and no sheet")));
    }
    // A sheet's source has the name under which it was attached.
    let (loaded, arrival) = if is_pdf(input, &bytes) {
        let attached = pdf::source_of(&bytes).map_err(|error| no_source(&error))?;
        let loaded = load(&attached.file_name, attached.text.as_bytes());
        let bytes = seal::without(Format::Pdf, &bytes);
        (loaded, Some(Arrival { made_with: attached.made_with, sheet: Arrived::Pdf(bytes) }))
    } else if is_page(input, &bytes) {
        let text = String::from_utf8(bytes).map_err(|_| unread(None, "the page is not text in UTF-8".into()))?;
        let attached = html::source_of(&text).map_err(|error| no_source(&error))?;
        let loaded = load(&attached.file_name, attached.text.as_bytes());
        let text = String::from_utf8_lossy(&seal::without(Format::Html, text.as_bytes())).into_owned();
        (loaded, Some(Arrival { made_with: attached.made_with, sheet: Arrived::Page(text) }))
    } else {
        (load(&input.name, &bytes), None)
    };
    let loaded = loaded.map_err(|(source, faults)| Unread { source, faults })?;
    let mut faults = Vec::new();
    unprintable(&loaded.tree, &At::Root, &mut faults);
    if faults.is_empty() { Ok((loaded, arrival)) } else { Err(Unread { source: Some(loaded.source), faults }) }
}

/// A sheet whose source cannot be read, with what to ask for.
fn no_source(error: &ReadError) -> Unread {
    let hint = match error {
        ReadError::OtherProgram { .. } | ReadError::NoSource => "ask for the YAML source, or write it from the sheet",
        ReadError::SeveralSources { .. } => "a binder holds several sheets; check each of them, or its source",
        ReadError::Changed | ReadError::NotText => "ask for the sheet or its source anew",
        ReadError::NotReadable { .. } => "it is broken or was cut short; ask for it anew",
        _ => "no sheet of this program is like that; do not trust the file",
    };
    let mut unread = unread(None, error.to_string());
    for fault in &mut unread.faults {
        fault.hint = Some(hint.to_owned());
    }
    unread
}

fn unread(source: Option<Source>, message: String) -> Unread {
    Unread { source, faults: vec![Fault { message, hint: None, span: None, pointer: String::new() }] }
}

/// The system's reason without its number.
pub fn reason(error: &io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}

/// Most bytes of a file: sheets are larger than their source; nothing larger than this is one of ours.
pub const MOST: u64 = 16 * limits::FILE_BYTES as u64;

/// Whether a file is a PDF, by its name or by how it begins.
fn is_pdf(input: &Input, bytes: &[u8]) -> bool {
    named(input, &["pdf"]) || bytes.starts_with(b"%PDF")
}

/// Whether a file is a page, by its name or by how it begins; no document of YAML starts with a tag.
fn is_page(input: &Input, bytes: &[u8]) -> bool {
    named(input, &["html", "htm"]) || bytes.trim_ascii_start().starts_with(b"<")
}

fn named(input: &Input, endings: &[&str]) -> bool {
    input.path.extension().is_some_and(|own| endings.iter().any(|ending| own.eq_ignore_ascii_case(ending)))
}

/// The bytes of a file, one past [`MOST`] where it has more.
fn bytes(input: &Input) -> io::Result<Vec<u8>> {
    if input.is_standard_input() {
        // It can be read to its end once: a second document would be found empty.
        if STANDARD_INPUT_READ.swap(true, Ordering::Relaxed) {
            return Err(io::Error::other("it was read to its end before; name - once"));
        }
        return at_most(io::stdin().lock(), MOST);
    }
    if input.typed { at_most(fs::File::open(&input.path)?, MOST) } else { regular(&input.path, MOST) }
}

/// The bytes of a regular file, one past `most` where it has more.
///
/// A pipe or a device that nobody typed could keep its reader waiting for ever.
pub fn regular(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    if !fs::metadata(path)?.is_file() {
        return Err(io::Error::other("it is not a regular file"));
    }
    at_most(fs::File::open(path)?, most)
}

/// At most one byte more than `most`, so that a file without end is seen to be too large.
fn at_most(reader: impl Read, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    reader.take(most + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// The text of a file that is no document: at most `most` bytes, without characters that hide or steer.
///
/// Errors name the file, with line and column where they have one.
pub fn text(path: &Path, most: u64) -> Result<String> {
    let name = shown(path);
    let bytes = fs::File::open(path).and_then(|file| at_most(file, most));
    let bytes = bytes.map_err(|error| anyhow!("{name}: cannot be read: {}", reason(&error)))?;
    if bytes.len() as u64 > most {
        bail!("{name}: the file has more than {most} bytes");
    }
    let text = String::from_utf8(bytes).map_err(|_| anyhow!("{name}: the file is not text in UTF-8"))?;
    match hidden(&text).first() {
        Some(Fault { message, span: Some(span), .. }) => bail!("{name}:{}:{}: {message}", span.line, span.column),
        _ => Ok(text),
    }
}

/// Reads the text of a file that is no document as YAML; errors name the file, line and column.
pub fn yaml<T: DeserializeOwned>(path: &Path, text: &str) -> Result<T> {
    serde_yaml::from_str(text).map_err(|error| {
        let place = error.location().map_or_else(String::new, |at| format!(":{}:{}", at.line(), at.column()));
        let words = error.without_snippet().to_string();
        let words = words.split(" at line ").next().unwrap_or(&words);
        anyhow!("{}{place}: {words}", shown(path))
    })
}

/// A place in a document, written out only where something is wrong there.
enum At<'a> {
    Root,
    Item(&'a At<'a>, usize),
    Entry(&'a At<'a>, &'a str),
}

impl At<'_> {
    /// As JSON pointer (RFC 6901).
    fn pointer(&self) -> String {
        match self {
            Self::Root => String::new(),
            Self::Item(list, index) => format!("{}/{index}", list.pointer()),
            Self::Entry(map, key) => format!("{}/{}", map.pointer(), escape(key)),
        }
    }
}

/// Characters that the sheets' type cannot print, each with its place.
fn unprintable(node: &Node, at: &At<'_>, faults: &mut Vec<Fault>) {
    let mut look = |text: &str, span: Span| {
        for character in missing_glyphs(text) {
            if character != '\n' {
                faults.push(Fault {
                    message: format!(
                        "the character `{character}` (U+{:04X}) cannot be printed on a sheet",
                        u32::from(character)
                    ),
                    hint: Some("write it in letters, digits and signs of the Latin, Greek or Cyrillic script".into()),
                    span: Some(span),
                    pointer: at.pointer(),
                });
            }
        }
    };
    match &node.kind {
        NodeKind::Scalar(Scalar::Text(text)) => look(text, node.span),
        NodeKind::Scalar(_) => {}
        NodeKind::List(items) => {
            for (index, item) in items.iter().enumerate() {
                unprintable(item, &At::Item(at, index), faults);
            }
        }
        NodeKind::Map(entries) => {
            for entry in entries {
                look(&entry.key, entry.key_span);
            }
            for entry in entries {
                unprintable(&entry.value, &At::Entry(at, &entry.key), faults);
            }
        }
    }
}
