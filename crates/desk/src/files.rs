//! Reading: which files are meant, and what they hold. A file is read once, so that what is checked is what is printed.

use std::collections::BTreeMap;
use std::io::{self, Read};
use std::path::{Component, Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, PoisonError};
use std::time::SystemTime;
use std::{fmt, fs};

use anyhow::{Result, anyhow, bail};
use seamwright_handbook::find;
use seamwright_model::load::{Fault, hidden, limits};
use seamwright_model::source::{self, Node, NodeKind, Scalar, Source, Span, escape};
use seamwright_model::stated::Date;
use seamwright_model::{Loaded, Reading, read as read_as_far};
use seamwright_page::attached::PRODUCER;
use seamwright_page::made_with::MadeWith;
use seamwright_page::pdf::missing_glyphs;
use seamwright_page::received::{self, Unreadable};
use serde::de::DeserializeOwned;

use crate::received::Received;
use crate::seal::Format;

/// The file in which a shop keeps the look of its sheets, beside its documents.
pub const HOUSE_STYLE: &str = "house-style.yaml";

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
            Asked::Typed => at_most(opened(path)?, most),
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
            let entry = entry?;
            let (path, own) = (entry.path(), entry.file_type().ok());
            let kind = match own {
                Some(own) if own.is_dir() => Kind::Folder,
                Some(own) if own.is_symlink() && path.is_dir() => Kind::LinkedFolder,
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

    fn stamp(&self, path: &Path) -> Option<Stamp> {
        let own = fs::metadata(path).ok()?;
        Some((own.len(), own.modified().ok()?))
    }

    fn today(&self) -> Date {
        self.today
    }
}

/// A path that was typed, opened: a pipe waits for its writer, but not for ever.
fn opened(path: &Path) -> io::Result<fs::File> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::FileTypeExt;
        use std::sync::mpsc;
        use std::thread;
        use std::time::Duration;
        const PATIENCE: Duration = Duration::from_secs(5);
        let own = fs::metadata(path)?.file_type();
        if own.is_socket() {
            return Err(io::Error::other("it is a socket, and no file"));
        }
        if own.is_fifo() {
            let (path, (give, take)) = (path.to_owned(), mpsc::channel());
            // Whoever opens a pipe waits until it is opened at its other end.
            thread::spawn(move || give.send(fs::File::open(path)));
            let none = |_| io::Error::other("it is a pipe, and nothing has opened it to write for 5 s");
            return take.recv_timeout(PATIENCE).map_err(none)?;
        }
    }
    fs::File::open(path)
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
    #[must_use]
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
    /// What can be said of it as a sheet, where it is one.
    pub received: Option<Box<Received>>,
}

/// The files that paths name: folders are walked for `*.yaml` and `*.yml` in order of their names.
///
/// A path that does not exist is kept, so that it is reported beside the others; a folder without YAML is an error.
pub fn inputs(files: &dyn Files, paths: &[PathBuf]) -> Result<Vec<Input>> {
    let mut inputs = Vec::new();
    for path in paths {
        if path.as_os_str() != STANDARD_INPUT && files.is_folder(path) {
            // The house style beside documents is none of them.
            let below = below(files, path)?;
            let before = inputs.len();
            inputs.extend(below.into_iter().filter(|input| !input.path.ends_with(HOUSE_STYLE)));
            if inputs.len() == before {
                bail!("{}: no *.yaml file in this folder", shown(path));
            }
        } else {
            inputs.push(Input::typed(path));
        }
    }
    Ok(inputs)
}

/// Every `*.yaml` and `*.yml` below a folder, in order of their names.
pub fn below(files: &dyn Files, folder: &Path) -> Result<Vec<Input>> {
    let mut found = Vec::new();
    walk(files, folder, Path::new(""), 0, &mut found)?;
    Ok(found)
}

fn walk(files: &dyn Files, folder: &Path, below: &Path, depth: usize, inputs: &mut Vec<Input>) -> Result<()> {
    const DEEPEST: usize = 32;
    let all = files.list(folder).map_err(|error| anyhow!("{}: cannot be read: {}", shown(folder), reason(&error)))?;
    for Listed { path, kind } in all {
        let Some(name) = path.file_name() else { continue };
        if name.to_string_lossy().starts_with('.') {
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

/// The system's reason without its number.
pub fn reason(error: &io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}

/// Most bytes of a file: sheets are larger than their source; nothing larger than this is one of ours.
pub const MOST: u64 = 16 * limits::FILE_BYTES as u64;

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
