//! A file's text and the place of every value in it.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

use serde_json::{Map, Number, Value};

/// A file as it was read: its name for messages and its text.
#[derive(Debug, Clone)]
pub struct Source {
    /// Name as it is shown in messages.
    pub name: Arc<str>,
    /// The text, byte for byte.
    pub text: Arc<str>,
}

/// A stretch of text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

impl Span {
    /// The bytes that it covers.
    pub fn bytes(&self) -> Range<usize> {
        self.start..self.end
    }
}

/// A value of the file with its place.
#[derive(Debug, Clone)]
pub struct Node {
    /// Where the value stands.
    pub span: Span,
    /// How it is written.
    pub style: Style,
    /// What it is.
    pub kind: NodeKind,
}

/// How a value is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style {
    /// A value without quotes, or an empty one.
    Plain,
    /// A value in single quotes.
    SingleQuoted,
    /// A value in double quotes.
    DoubleQuoted,
    /// A text on lines of its own, after `|` or `>`.
    TextBlock,
    /// A section or a list on lines of its own.
    Block,
    /// A section in braces, or a list in brackets.
    Flow,
    /// An alias: the value stands elsewhere, and so does what is inside it.
    Alias,
}

/// What a node holds.
#[derive(Debug, Clone)]
pub enum NodeKind {
    /// A single value.
    Scalar(Scalar),
    /// A list.
    List(Vec<Node>),
    /// Keys and values in the order of the file.
    Map(Vec<Entry>),
}

/// A key with its value.
#[derive(Debug, Clone)]
pub struct Entry {
    /// The key.
    pub key: String,
    /// Where the key stands.
    pub key_span: Span,
    /// The value.
    pub value: Node,
}

/// A single value: text as written, and what YAML's core schema makes of it.
#[derive(Debug, Clone, PartialEq)]
pub enum Scalar {
    /// Nothing, `~` or `null`.
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// A number without a unit, with its spelling.
    Number(Number, String),
    /// Anything else.
    Text(String),
}

impl Node {
    /// The node at a JSON pointer, or `None`.
    pub fn at(&self, pointer: &str) -> Option<&Node> {
        let mut node = self;
        for step in steps(pointer) {
            node = match &node.kind {
                NodeKind::Map(entries) => &entries.iter().find(|entry| entry.key == step)?.value,
                NodeKind::List(items) => items.get(step.parse::<usize>().ok()?)?,
                NodeKind::Scalar(_) => return None,
            };
        }
        Some(node)
    }

    /// The span of the value at a JSON pointer; where it is missing, the nearest section that holds it: its key,
    /// or the start of the file.
    pub fn span_of(&self, pointer: &str) -> Span {
        let mut node = self;
        let mut span = Span { end: self.span.start, ..self.span };
        for step in steps(pointer) {
            let next = match &node.kind {
                NodeKind::Map(entries) => entries.iter().find(|entry| entry.key == step).map(|entry| {
                    let place =
                        if matches!(entry.value.kind, NodeKind::Scalar(_)) { entry.value.span } else { entry.key_span };
                    (&entry.value, place)
                }),
                NodeKind::List(items) => {
                    step.parse::<usize>().ok().and_then(|index| items.get(index)).map(|item| (item, item.first_span()))
                }
                NodeKind::Scalar(_) => None,
            };
            match next {
                Some((found, place)) => {
                    node = found;
                    span = place;
                }
                None => break,
            }
        }
        span
    }

    /// The span of the key at a JSON pointer, where that is a key.
    pub fn key_span_of(&self, pointer: &str) -> Option<Span> {
        let (parent, key) = pointer.rsplit_once('/')?;
        let key = unescape(key);
        match &self.at(parent)?.kind {
            NodeKind::Map(entries) => entries.iter().find(|entry| entry.key == key).map(|entry| entry.key_span),
            _ => None,
        }
    }

    fn first_span(&self) -> Span {
        match &self.kind {
            NodeKind::Map(entries) => entries.first().map_or(self.span, |entry| entry.key_span),
            NodeKind::List(items) => items.first().map_or(self.span, Node::first_span),
            NodeKind::Scalar(_) => self.span,
        }
    }

    /// The same values without places.
    pub fn to_value(&self) -> Value {
        match &self.kind {
            NodeKind::Scalar(Scalar::Null) => Value::Null,
            NodeKind::Scalar(Scalar::Bool(value)) => Value::Bool(*value),
            NodeKind::Scalar(Scalar::Number(number, _)) => Value::Number(number.clone()),
            NodeKind::Scalar(Scalar::Text(text)) => Value::String(text.clone()),
            NodeKind::List(items) => Value::Array(items.iter().map(Node::to_value).collect()),
            NodeKind::Map(entries) => {
                let mut map = Map::with_capacity(entries.len());
                for entry in entries {
                    map.insert(entry.key.clone(), entry.value.to_value());
                }
                Value::Object(map)
            }
        }
    }
}

/// The steps of a JSON pointer (RFC 6901).
pub fn steps(pointer: &str) -> impl Iterator<Item = String> {
    pointer.split('/').skip(1).map(unescape)
}

fn unescape(step: &str) -> String {
    if step.contains('~') { step.replace("~1", "/").replace("~0", "~") } else { step.to_owned() }
}

/// Whether a character is one that a reader does not see, or that moves the cursor or the reading direction.
pub fn hidden(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{FEFF}')
}

/// A key as a step of a JSON pointer (RFC 6901).
pub fn escape(key: &str) -> Cow<'_, str> {
    if key.contains(['~', '/']) { key.replace('~', "~0").replace('/', "~1").into() } else { key.into() }
}
