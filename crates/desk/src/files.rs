//! Reading: which files are meant, and what they hold. A file is read once, so that what is checked is what is printed.

use std::collections::BTreeMap;
use std::io::{self, Read};
use std::path::{Component, Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::{fmt, fs};

use anyhow::{Result, anyhow, bail};
use seamwright_model::load::{Fault, hidden, limits};
use seamwright_model::source::{self, Node, NodeKind, Scalar, Source, Span, escape};
use seamwright_model::stated::Date;
use seamwright_model::{Loaded, Reading, read as read_as_far};
use seamwright_sheet::attached::ReadError;
use seamwright_sheet::made_with::MadeWith;
use seamwright_sheet::pdf::missing_glyphs;
use seamwright_sheet::{html, pdf};
use serde::de::DeserializeOwned;

use crate::house_style;
use crate::seal::{self, Format};

/// Where documents and all that stands beside them are read from, and the day on which they are checked.
pub trait Files: Sync {
    /// The bytes of a file, one past `most` where it has more.
    fn read(&self, path: &Path, asked: Asked, most: u64) -> io::Result<Vec<u8>>;

    /// What stands in a folder, in the order of the names.
    fn list(&self, folder: &Path) -> io::Result<Vec<Listed>>;

    /// Whether a folder stands at a path.
    fn is_folder(&self, path: &Path) -> bool;

    /// The day of the check.
    fn today(&self) -> Date;
}

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

/// The files of this machine, and a day that is told.
#[derive(Debug)]
pub struct Disk {
    today: Date,
    /// Whether standard input has been read: it can be read to its end once.
    standard_input_read: AtomicBool,
}

impl Disk {
    /// The files of this machine on a day.
    pub const fn new(today: Date) -> Self {
        Self { today, standard_input_read: AtomicBool::new(false) }
    }
}

impl Files for Disk {
    fn read(&self, path: &Path, asked: Asked, most: u64) -> io::Result<Vec<u8>> {
        match asked {
            Asked::Typed if path.as_os_str() == STANDARD_INPUT => {
                // A second document would be found empty.
                if self.standard_input_read.swap(true, Ordering::Relaxed) {
                    return Err(io::Error::other("it was read to its end before; name - once"));
                }
                at_most(io::stdin().lock(), most)
            }
            Asked::Typed => at_most(fs::File::open(path)?, most),
            Asked::Found => {
                if !fs::metadata(path)?.is_file() {
                    return Err(io::Error::other("it is not a regular file"));
                }
                at_most(fs::File::open(path)?, most)
            }
        }
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<Listed>> {
        let listed = |entry: io::Result<fs::DirEntry>| {
            let path = entry?.path();
            let kind = match (path.is_dir(), path.is_symlink()) {
                (true, true) => Kind::LinkedFolder,
                (true, false) => Kind::Folder,
                _ => Kind::File,
            };
            Ok(Listed { path, kind })
        };
        let mut all = fs::read_dir(folder)?.map(listed).collect::<io::Result<Vec<_>>>()?;
        all.sort_by(|one, other| one.path.cmp(&other.path));
        Ok(all)
    }

    fn is_folder(&self, path: &Path) -> bool {
        path.is_dir()
    }

    fn today(&self) -> Date {
        self.today
    }
}

/// At most one byte more than `most`, so that a file without end is seen to be too large.
fn at_most(reader: impl Read, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    reader.take(most + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Texts that are not saved yet, in the place of the files of their paths.
///
/// Such a text counts for its own document and for every document that names it. Paths are the same where they are after
/// `.` and `..` are taken out; links are not followed.
pub struct Overlay<'f> {
    below: &'f dyn Files,
    texts: BTreeMap<PathBuf, Vec<u8>>,
}

impl<'f> Overlay<'f> {
    /// Nothing unsaved over the files below.
    pub fn new(below: &'f dyn Files) -> Self {
        Self { below, texts: BTreeMap::new() }
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

/// A path in messages, with escapes for characters that a reader would not see or that a terminal would obey.
pub fn shown(path: &Path) -> String {
    let mut shown = String::new();
    for character in path.to_string_lossy().chars() {
        if source::hidden(character) {
            shown.extend(character.escape_unicode());
        } else {
            shown.push(character);
        }
    }
    shown
}

/// A file that was asked for: where it is, its name in messages, and where its sheets go below the output folder.
#[derive(Debug, Clone)]
pub struct Input {
    /// Path, or `-`.
    pub path: PathBuf,
    /// Name in messages.
    pub name: String,
    /// Path below the output folder, without ending.
    pub stem: PathBuf,
    /// Who asks for it.
    asked: Asked,
}

impl Input {
    /// A path that was typed.
    pub fn typed(path: &Path) -> Self {
        if path.as_os_str() == STANDARD_INPUT {
            let (name, stem) = ("standard input".into(), "standard-input".into());
            return Self { path: path.into(), name, stem, asked: Asked::Typed };
        }
        let stem = path.file_stem().map(PathBuf::from).unwrap_or_default();
        Self { path: path.into(), name: shown(path), stem, asked: Asked::Typed }
    }

    /// A path that was found in a folder.
    pub fn found(path: PathBuf, stem: PathBuf) -> Self {
        Self { name: shown(&path), path, stem, asked: Asked::Found }
    }

    /// A path that this document gives, as seen from its own place.
    pub fn named(&self, name: &str) -> Self {
        let folder = self.path.parent().unwrap_or(Path::new(""));
        Self::found(folder.join(name), PathBuf::new())
    }
}

const STANDARD_INPUT: &str = "-";

/// A file that could not be read as a document.
#[derive(Debug)]
pub struct Unread {
    /// The text, where it is text.
    pub source: Option<Source>,
    /// What is wrong with it.
    pub faults: Vec<Fault>,
    /// What could be read of it all the same.
    pub reading: Option<Box<Reading>>,
}

/// The files that paths name: folders are walked for `*.yaml` and `*.yml` in order of their names.
///
/// A path that does not exist is kept, so that it is reported beside the others; a folder without YAML is an error.
pub fn inputs(files: &dyn Files, paths: &[PathBuf]) -> Result<Vec<Input>> {
    let mut inputs = Vec::new();
    for path in paths {
        if path.as_os_str() != STANDARD_INPUT && files.is_folder(path) {
            let before = inputs.len();
            walk(files, path, Path::new(""), 0, &mut inputs)?;
            if inputs.len() == before {
                bail!("{}: no *.yaml file in this folder", shown(path));
            }
        } else {
            inputs.push(Input::typed(path));
        }
    }
    Ok(inputs)
}

fn walk(files: &dyn Files, folder: &Path, below: &Path, depth: usize, inputs: &mut Vec<Input>) -> Result<()> {
    const DEEPEST: usize = 32;
    let all = files.list(folder).map_err(|error| anyhow!("{}: cannot be read: {}", shown(folder), reason(&error)))?;
    for Listed { path, kind } in all {
        let Some(name) = path.file_name() else { continue };
        // The house style beside documents is none of them.
        if name.to_string_lossy().starts_with('.') || name == house_style::FILE {
            continue;
        }
        match kind {
            Kind::Folder if depth < DEEPEST => walk(files, &path, &below.join(name), depth + 1, inputs)?,
            Kind::Folder | Kind::LinkedFolder => {}
            Kind::File => {
                if path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml") {
                    let stem = below.join(path.file_stem().unwrap_or(name));
                    inputs.push(Input::found(path, stem));
                }
            }
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
pub fn read(files: &dyn Files, input: &Input) -> Result<Loaded, Unread> {
    open(files, input).map(|(loaded, _)| loaded)
}

/// Reads a file as a document, with the sheet that it came in where it is one.
pub fn open(files: &dyn Files, input: &Input) -> Result<(Loaded, Option<Arrival>), Unread> {
    let bytes = match files.read(&input.path, input.asked, MOST) {
        Ok(bytes) => bytes,
        Err(error) => return Err(unread(None, format!("cannot be read: {}", reason(&error)))),
    };
    if bytes.len() as u64 > MOST {
        return Err(unread(None, format!("the file is larger than {MOST} bytes: it is no document and no sheet")));
    }
    // A sheet's source has the name under which it was attached.
    let (reading, arrival) = if is_pdf(input, &bytes) {
        let attached = pdf::source_of(&bytes).map_err(|error| no_source(&error))?;
        let reading = read_as_far(&attached.file_name, attached.text.as_bytes());
        let bytes = seal::without(Format::Pdf, &bytes);
        (reading, Some(Arrival { made_with: attached.made_with, sheet: Arrived::Pdf(bytes) }))
    } else if is_page(input, &bytes) {
        let text = String::from_utf8(bytes).map_err(|_| unread(None, "the page is not text in UTF-8".into()))?;
        let attached = html::source_of(&text).map_err(|error| no_source(&error))?;
        let reading = read_as_far(&attached.file_name, attached.text.as_bytes());
        let text = String::from_utf8_lossy(&seal::without(Format::Html, text.as_bytes())).into_owned();
        (reading, Some(Arrival { made_with: attached.made_with, sheet: Arrived::Page(text) }))
    } else {
        (read_as_far(&input.name, &bytes), None)
    };
    let loaded = whole(reading)?;
    let mut faults = Vec::new();
    unprintable(&loaded.tree, &At::Root, &mut faults);
    if faults.is_empty() {
        return Ok((loaded, arrival));
    }
    Err(Unread { source: Some(loaded.source.clone()), faults, reading: Some(Box::new(loaded.into())) })
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
            Err(Unread { source, faults, reading: reading.document.is_some().then(|| Box::new(reading)) })
        }
    }
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
    Unread { source, faults: vec![Fault { message, hint: None, span: None, pointer: String::new() }], reading: None }
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

/// The text of a file that is no document: at most `most` bytes, without characters that hide or steer.
///
/// Errors name the file, with line and column where they have one.
pub fn text(files: &dyn Files, path: &Path, most: u64) -> Result<String> {
    let name = shown(path);
    let bytes = files.read(path, Asked::Typed, most);
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
