//! Text to a located document, or every error of the file with its place.
//!
//! One pass over the YAML gives a tree that knows the place of each value (`tree.rs`); a text that is none is told in plain words
//! (`broken.rs`). The types read from it; where they refuse, the JSON Schema made from the same types is asked for everything
//! that is wrong (`sentence.rs`, with what was meant in `meant.rs`), so that a writer mends the file in one go. A test holds the
//! types to what the schema accepts.

mod broken;
mod fault;
pub mod limits;
mod meant;
mod place;
mod schema;
mod sentence;
mod spelling;
pub(crate) mod tree;
mod whole;

use std::sync::Arc;

use serde_json::Value;

pub use fault::Fault;
pub use schema::validator;

use crate::document::{Document, FORMAT, KINDS};
use crate::source::{Node, NodeKind, Scalar, Source, Span, escape, steps};
use crate::trade::{self, Taken};
use crate::variants::{self, Beyond};
use schema::kind_of;
use tree::BYTE_ORDER_MARK;

/// A document with the place of every value.
#[derive(Debug, Clone)]
pub struct Loaded {
    /// The file.
    pub source: Source,
    /// Its values with their places.
    pub tree: Node,
    /// The document as types.
    pub document: Document,
}

/// What could be read of a file, faults and all.
#[derive(Debug, Clone)]
pub struct Reading {
    /// The file, where it is text.
    pub source: Option<Source>,
    /// Its values with their places, where it is well-formed.
    pub tree: Option<Node>,
    /// The document as far as it goes: what is faulty is left out of it; nothing where too much is faulty.
    pub document: Option<Document>,
    /// Every fault, in the order of the file.
    pub faults: Vec<Fault>,
    /// JSON pointers of what was left out.
    pub left_out: Vec<String>,
    /// The tree without what was left out.
    kept: Option<Node>,
}

impl Reading {
    fn broken((source, faults): (Option<Source>, Vec<Fault>)) -> Self {
        Self { source, tree: None, document: None, faults, left_out: Vec::new(), kept: None }
    }

    /// The JSON pointer in the file of a place in the document, whose lists may be shorter.
    pub fn in_file(&self, pointer: &str) -> String {
        let (Some(mut whole), Some(mut kept)) = (self.tree.as_ref(), self.kept.as_ref()) else {
            return pointer.to_owned();
        };
        let mut place = String::new();
        for step in steps(pointer) {
            let own = format!("/{}", escape(&step));
            let next = kept.at(&own);
            let (Some(next), NodeKind::List(items)) = (next, &whole.kind) else {
                place.push_str(&own);
                if let (Some(next), Some(other)) = (next, whole.at(&own)) {
                    (kept, whole) = (next, other);
                }
                continue;
            };
            let Some((at, item)) = items.iter().enumerate().find(|(_, item)| item.span == next.span) else {
                return pointer.to_owned();
            };
            place.push_str(&format!("/{at}"));
            (kept, whole) = (next, item);
        }
        place
    }
}

impl From<Loaded> for Reading {
    fn from(Loaded { source, tree, document }: Loaded) -> Self {
        let (source, tree, document) = (Some(source), Some(tree), Some(document));
        Self { source, tree, document, faults: Vec::new(), left_out: Vec::new(), kept: None }
    }
}

/// Reads bytes as a document as far as it goes: where values are faulty, the rest is a document all the same.
pub fn read(name: &str, bytes: &[u8]) -> Reading {
    let (source, tree, taken) = match start(name, bytes) {
        Ok(started) => started,
        Err(broken) => return Reading::broken(broken),
    };
    let mut reading = Reading {
        source: Some(source),
        tree: None,
        document: None,
        faults: Vec::new(),
        left_out: Vec::new(),
        kept: None,
    };
    match read_document(&tree, &tree.to_value()) {
        Ok(mut document) => {
            document.note(taken);
            reading.document = Some(document);
        }
        Err(faults) => {
            if let Some((kept, mut document, left_out)) = as_far_as_it_goes(&tree, &faults) {
                // What stands elsewhere once something is left out before it is told when that is mended.
                let stays = |own: &Taken| kept.span_of(&own.pointer) == tree.span_of(&own.pointer);
                document.note(taken.into_iter().filter(stays).collect());
                (reading.kept, reading.document, reading.left_out) = (Some(kept), Some(document), left_out);
            }
            reading.faults = faults;
        }
    }
    reading.tree = Some(tree);
    reading
}

/// Leaves out what is faulty until the rest is a document; nothing where that takes away what a document needs.
fn as_far_as_it_goes(tree: &Node, faults: &[Fault]) -> Option<(Node, Document, Vec<String>)> {
    // A section may need what was left out of it, and the one around it that section.
    const ROUNDS: usize = limits::DEPTH;
    let mut kept = tree.clone();
    let mut left_out = Vec::new();
    let mut wrong: Vec<String> = faults.iter().map(|fault| fault.pointer.clone()).collect();
    for _ in 0..ROUNDS {
        // From the end on, so that the places of items before stay what they are.
        wrong.sort_by_key(|pointer| std::cmp::Reverse(kept.span_of(pointer).start));
        for pointer in &wrong {
            left_out.push(kept.take_out(pointer)?);
        }
        match read_document(&kept, &kept.to_value()) {
            Ok(document) => return Some((kept, document, left_out)),
            Err(faults) => wrong = faults.into_iter().map(|fault| fault.pointer).collect(),
        }
    }
    None
}

/// Reads bytes as a document.
///
/// `name` is the file's name for messages. `Err` holds the source (where it is text) and every fault, in the order of
/// the file, never empty.
pub fn load(name: &str, bytes: &[u8]) -> Result<Loaded, (Option<Source>, Vec<Fault>)> {
    as_document(start(name, bytes)?).map(|(loaded, _)| loaded)
}

/// A text with its values as they are written: what is changed and then read as a document is parsed once.
#[derive(Debug, Clone)]
pub struct Plain {
    pub(crate) text: String,
    pub(crate) tree: Node,
}

impl Plain {
    /// Reads a text; `Err` holds every fault of its structure.
    pub fn read(text: &str) -> Result<Self, Vec<Fault>> {
        Ok(Self { text: text.to_owned(), tree: tree::read(text)? })
    }

    /// The text.
    pub fn text(&self) -> &str {
        &self.text
    }
}

/// Reads a text that is parsed already as a document, as [`load`] does; with the plain values that it was read of.
pub fn load_plain(name: &str, plain: &Plain) -> Result<(Loaded, Value), (Option<Source>, Vec<Fault>)> {
    as_document(start_plain(name, plain)?)
}

fn as_document((source, tree, taken): Started) -> Result<(Loaded, Value), (Option<Source>, Vec<Fault>)> {
    let values = tree.to_value();
    match read_document(&tree, &values) {
        Ok(mut document) => {
            document.note(taken);
            Ok((Loaded { source, tree, document }, values))
        }
        Err(faults) => Err((Some(source), faults)),
    }
}

/// The plain values of a text, whatever kind of document they are; nothing where it is no YAML within the limits.
pub fn values(bytes: &[u8]) -> Option<Value> {
    start("", bytes).ok().map(|(_, tree, _)| tree.to_value())
}

/// The plain values of a text that is parsed already.
pub fn values_of(plain: &Plain) -> Option<Value> {
    start_plain("", plain).ok().map(|(_, tree, _)| tree.to_value())
}

/// What a file is before it is read as a document: its text, its values, and the words that were taken for others.
type Started = (Source, Node, Vec<Taken>);

/// Reads bytes as text and the text as a tree.
fn start(name: &str, bytes: &[u8]) -> Result<Started, (Option<Source>, Vec<Fault>)> {
    if bytes.len() > limits::FILE_BYTES {
        return Err((None, vec![Fault::whole(format!("the file has {} bytes; the most is 1 MiB", bytes.len()))]));
    }
    let Ok(text) = std::str::from_utf8(bytes) else {
        return Err((None, vec![Fault::whole("the file is not text in UTF-8").hint("a document is a YAML text file")]));
    };
    started(name, text, || tree::read(text))
}

fn start_plain(name: &str, plain: &Plain) -> Result<Started, (Option<Source>, Vec<Fault>)> {
    started(name, &plain.text, || Ok(plain.tree.clone()))
}

fn started(
    name: &str,
    text: &str,
    tree: impl FnOnce() -> Result<Node, Vec<Fault>>,
) -> Result<Started, (Option<Source>, Vec<Fault>)> {
    let source = Source { name: Arc::from(name), text: Arc::from(text) };
    let hidden = hidden(text);
    if !hidden.is_empty() {
        return Err((Some(source), hidden));
    }
    match tree() {
        Ok(tree) => {
            let mut tree = spelling::kept(tree);
            let taken = trade::take(&mut tree);
            trade::settle(&mut tree);
            Ok((source, tree, taken))
        }
        Err(faults) => Err((Some(source), faults)),
    }
}

/// Each character that a reader of a file does not see, or that moves the cursor or the reading direction, at its first
/// place.
///
/// In comments, too, it could make a line read otherwise than it is. White space and a byte order mark are none of them.
pub fn hidden(text: &str) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut found: Vec<char> = Vec::new();
    for (start, character) in text.char_indices().filter(|(_, character)| tree::forbidden(*character)) {
        if found.contains(&character) || (start == 0 && character == BYTE_ORDER_MARK) {
            continue;
        }
        found.push(character);
        // A line of YAML ends at a line feed, a carriage return, or both.
        let before = text.get(..start).unwrap_or_default().trim_start_matches(BYTE_ORDER_MARK).replace("\r\n", "\n");
        let lines: Vec<&str> = before.split(['\n', '\r']).collect();
        let column = lines.last().map_or(0, |line| line.chars().count()) + 1;
        let span = Span { start, end: start + character.len_utf8(), line: lines.len(), column };
        let code = u32::from(character);
        faults.push(
            Fault::at(span, format!("an invisible or steering character (U+{code:04X}) stands here"))
                .hint("delete it, and type what stands around it again"),
        );
    }
    faults
}

/// Reads a tree, of which the values are given, as the document that its `document` key names.
fn read_document(tree: &Node, value: &Value) -> Result<Document, Vec<Fault>> {
    let NodeKind::Map(_) = &tree.kind else {
        return Err(vec![
            Fault::at(tree.span, "a document is a list of keys and values").hint("start with `format: 1`"),
        ]);
    };
    head(tree)?;
    // The types alone would take a list for a section and pass over an empty value: there the schema judges first.
    // Elsewhere types that accept are enough, and the schema need not be compiled.
    let read = if plain(tree, false) || validator().is_valid(value) {
        Document::read(kind_of(value), value)
    } else {
        Err("the schema refuses it".to_owned())
    };
    let document = read.map_err(|reason| sentence::faults(tree, value, &reason))?;
    match beyond(&document) {
        Some((pointer, message)) => {
            let hint = "state what is left over in a procedure of its own";
            let told = Fault::at(tree.span_of(&pointer), message).hint(hint);
            Err(vec![Fault { pointer, ..told }])
        }
        None => Ok(document),
    }
}

/// Where a procedure leaves more open than can be told apart, and how much.
fn beyond(document: &Document) -> Option<(String, String)> {
    let Document::Procedure(own) = document else { return None };
    let Beyond { pointer, found, most } = variants::beyond(own)?;
    Some((pointer, format!("the procedure has {found}; at most {most} can be told apart")))
}

/// Keys whose value is a list; in no kind of document is one of them a section.
const LISTS: &[&str] = &[
    "arc_start",
    "current_control",
    "demonstration",
    "deviations",
    "exercises",
    "faults",
    "fillers",
    "gas_cylinders",
    "gas_lenses",
    "gases",
    "good",
    "inspection",
    "joints",
    "measures",
    "metals",
    "notes",
    "nozzles",
    "objectives",
    "parent_metals",
    "polarity",
    "positions",
    "power_sources",
    "procedures",
    "processes",
    "protection",
    "questions",
    "rated_points",
    "reading",
    "records",
    "references",
    "regulators",
    "revisions",
    "runs",
    "safety_briefing",
    "steps",
    "tests",
    "timetable",
    "torches",
    "tungstens",
    "values",
    "welders",
];

/// Whether every key has a value and lists stand only where they are meant.
fn plain(node: &Node, list_meant: bool) -> bool {
    match &node.kind {
        NodeKind::Scalar(scalar) => *scalar != Scalar::Null,
        NodeKind::List(items) => list_meant && items.iter().all(|item| plain(item, false)),
        NodeKind::Map(entries) => entries.iter().all(|entry| plain(&entry.value, LISTS.contains(&entry.key.as_str()))),
    }
}

/// Checks `format` and `document`, on which everything else hangs.
fn head(tree: &Node) -> Result<(), Vec<Fault>> {
    let mut faults = Vec::new();
    let mut wrong = |pointer: &str, message: String, hint: String| {
        let mut fault = Fault::at(tree.span_of(pointer), message).hint(hint);
        pointer.clone_into(&mut fault.pointer);
        faults.push(fault);
    };
    match tree.at("/format").map(|node| &node.kind) {
        Some(NodeKind::Scalar(Scalar::Number(number, _))) if number.as_u64() == Some(u64::from(FORMAT)) => {}
        Some(NodeKind::Scalar(Scalar::Number(number, _))) if number.as_u64() > Some(u64::from(FORMAT)) => wrong(
            "/format",
            format!("the file has format {number}; this program reads format {FORMAT}"),
            "use a newer version of this program, or write the file in format 1".to_owned(),
        ),
        Some(_) => wrong("/format", "`format` is not a format number".into(), format!("write `format: {FORMAT}`")),
        None => wrong("", "`format` is missing".into(), format!("start the file with `format: {FORMAT}`")),
    }
    match tree.at("/document").map(|node| &node.kind) {
        Some(NodeKind::Scalar(Scalar::Text(text))) if KINDS.contains(&text.as_str()) => {}
        Some(NodeKind::Scalar(Scalar::Text(text))) => wrong(
            "/document",
            format!("`{text}` is not a kind of document that this program reads"),
            format!("write `document: {}`", KINDS.join("` or `document: ")),
        ),
        Some(_) => {
            wrong("/document", "`document` is not a kind of document".into(), "write `document: procedure`".into());
        }
        None => wrong("", "`document` is missing".into(), "write `document: procedure` under `format`".into()),
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// Reads plain values as a document; `Err` is the first refusal of the types.
pub fn from_value(value: &Value) -> Result<Document, String> {
    let mut tree = Node::from(value);
    let taken = trade::take(&mut tree);
    trade::settle(&mut tree);
    let value = tree.to_value();
    let mut document = Document::read(kind_of(&value), &value)?;
    if let Some((_, message)) = beyond(&document) {
        return Err(message);
    }
    document.note(taken);
    Ok(document)
}
