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

/// A place in a text, as editors count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Position {
    /// Line, from 0.
    pub line: usize,
    /// Characters before it on its line.
    pub characters: usize,
    /// UTF-16 code units before it on its line, by which the Language Server Protocol counts.
    pub utf16: usize,
}

/// A text in which places are told by bytes and by lines.
#[derive(Debug, Clone)]
pub struct Lines<'t> {
    text: &'t str,
    /// Where each line begins.
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    /// Of a text; a line ends at a line feed.
    pub fn new(text: &'t str) -> Self {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Self { text, starts }
    }

    /// The place of a byte; of one inside a character that character's, of one past the end that of the end.
    pub fn position(&self, byte: usize) -> Position {
        let mut byte = byte.min(self.text.len());
        while !self.text.is_char_boundary(byte) {
            byte -= 1;
        }
        let line = self.starts.partition_point(|start| *start <= byte).saturating_sub(1);
        let start = self.starts.get(line).copied().unwrap_or_default();
        let before = self.text.get(start..byte).unwrap_or_default();
        Position { line, characters: before.chars().count(), utf16: before.encode_utf16().count() }
    }

    /// The byte of a line, from 0, and a count of characters on it; the end of the line where it is shorter.
    pub fn byte_of_characters(&self, line: usize, characters: usize) -> usize {
        self.byte_of(line, characters, |_| 1)
    }

    /// The byte of a line, from 0, and a count of UTF-16 code units on it; the end of the line where it is shorter.
    pub fn byte_of_utf16(&self, line: usize, utf16: usize) -> usize {
        self.byte_of(line, utf16, char::len_utf16)
    }

    fn byte_of(&self, line: usize, count: usize, width: impl Fn(char) -> usize) -> usize {
        let Some(start) = self.starts.get(line).copied() else { return self.text.len() };
        let rest = self.text.get(start..).unwrap_or_default();
        let own = rest.split('\n').next().unwrap_or_default();
        let own = own.strip_suffix('\r').unwrap_or(own);
        let mut passed = 0;
        for (at, character) in own.char_indices() {
            passed += width(character);
            if passed > count {
                return start + at;
            }
        }
        start + own.len()
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

    /// The node at a JSON pointer, to be changed.
    pub(crate) fn at_mut(&mut self, pointer: &str) -> Option<&mut Node> {
        let mut node = self;
        for step in steps(pointer) {
            node = match &mut node.kind {
                NodeKind::Map(entries) => &mut entries.iter_mut().find(|entry| entry.key == step)?.value,
                NodeKind::List(items) => items.get_mut(step.parse::<usize>().ok()?)?,
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

    /// Takes the value at a JSON pointer out, or the nearest section that would hold it; gives the pointer of what it took,
    /// nothing where that would be the whole.
    pub(crate) fn take_out(&mut self, pointer: &str) -> Option<String> {
        let mut pointer = pointer;
        while self.at(pointer).is_none() {
            pointer = pointer.rsplit_once('/')?.0;
        }
        let (parent, key) = pointer.rsplit_once('/')?;
        let key = unescape(key);
        match &mut self.at_mut(parent)?.kind {
            NodeKind::Map(entries) => entries.retain(|entry| entry.key != key),
            NodeKind::List(items) => {
                let at = key.parse::<usize>().ok().filter(|at| *at < items.len())?;
                items.remove(at);
            }
            NodeKind::Scalar(_) => return None,
        }
        Some(pointer.to_owned())
    }

    /// The JSON pointer of the innermost value or key around a byte of the text; that of the whole where there is none.
    pub fn pointer_at(&self, byte: usize) -> String {
        let around = |span: Span| span.start <= byte && byte <= span.end;
        let mut pointer = String::new();
        let mut node = self;
        loop {
            let next = match &node.kind {
                // What an alias stands for is written elsewhere.
                _ if node.style == Style::Alias => None,
                NodeKind::Map(entries) => entries
                    .iter()
                    // From a key to the end of its value, what stands between them included.
                    .rfind(|entry| entry.key_span.start <= byte && byte <= entry.value.end().max(entry.key_span.end))
                    .map(|entry| (escape(&entry.key).into_owned(), &entry.value)),
                NodeKind::List(items) => items
                    .iter()
                    .enumerate()
                    .rfind(|(_, item)| item.first_span().start <= byte && byte <= item.end())
                    .map(|(at, item)| (at.to_string(), item)),
                NodeKind::Scalar(_) => None,
            };
            let Some((step, found)) = next else { return pointer };
            pointer.push('/');
            pointer.push_str(&step);
            node = found;
            if matches!(node.kind, NodeKind::Scalar(_)) && around(node.span) {
                return pointer;
            }
        }
    }

    /// One past its last byte: a section on lines of its own ends where its last value does, not at the next key.
    pub fn end(&self) -> usize {
        match &self.kind {
            NodeKind::Map(entries) if self.style == Style::Block => {
                entries.last().map_or(self.span.end, |entry| entry.value.end().max(entry.key_span.end))
            }
            NodeKind::List(items) if self.style == Style::Block => items.last().map_or(self.span.end, Node::end),
            _ => self.span.end,
        }
    }

    fn first_span(&self) -> Span {
        match &self.kind {
            NodeKind::Map(entries) => entries.first().map_or(self.span, |entry| entry.key_span),
            NodeKind::List(items) => items.first().map_or(self.span, Node::first_span),
            NodeKind::Scalar(_) => self.span,
        }
    }

    /// Whether it holds these values and no others, keys in the same order.
    pub fn has(&self, value: &Value) -> bool {
        match (&self.kind, value) {
            (NodeKind::Scalar(Scalar::Null), Value::Null) => true,
            (NodeKind::Scalar(Scalar::Bool(own)), Value::Bool(other)) => own == other,
            // A whole number and the same with a decimal are not one value.
            (NodeKind::Scalar(Scalar::Number(own, _)), Value::Number(other)) => own.to_string() == other.to_string(),
            (NodeKind::Scalar(Scalar::Text(own)), Value::String(other)) => own == other,
            (NodeKind::List(own), Value::Array(other)) => {
                own.len() == other.len() && own.iter().zip(other).all(|(own, other)| own.has(other))
            }
            (NodeKind::Map(own), Value::Object(other)) => {
                own.len() == other.len()
                    && own.iter().zip(other).all(|(own, (key, value))| own.key == *key && own.value.has(value))
            }
            _ => false,
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

/// Values that stand nowhere.
impl From<&Value> for Node {
    fn from(value: &Value) -> Self {
        let kind = match value {
            Value::Null => NodeKind::Scalar(Scalar::Null),
            Value::Bool(value) => NodeKind::Scalar(Scalar::Bool(*value)),
            Value::Number(number) => NodeKind::Scalar(Scalar::Number(number.clone(), number.to_string())),
            Value::String(text) => NodeKind::Scalar(Scalar::Text(text.clone())),
            Value::Array(items) => NodeKind::List(items.iter().map(Self::from).collect()),
            Value::Object(map) => NodeKind::Map(
                map.iter()
                    .map(|(key, value)| Entry { key: key.clone(), key_span: Span::default(), value: Self::from(value) })
                    .collect(),
            ),
        };
        Self { span: Span::default(), style: Style::Plain, kind }
    }
}

/// The steps of a JSON pointer (RFC 6901).
pub fn steps(pointer: &str) -> impl Iterator<Item = String> {
    pointer.split('/').skip(1).map(unescape)
}

fn unescape(step: &str) -> String {
    if step.contains('~') { step.replace("~1", "/").replace("~0", "~") } else { step.to_owned() }
}

/// Whether a character is one that a reader does not see, or that moves the cursor or the reading direction: controls
/// (C0, DEL, C1), formatting characters, blanks that are no white space, selectors, and places that hold no character.
///
/// Source: The Unicode Standard, general categories Cc and Cf and the property `Default_Ignorable_Code_Point`, and with
/// them the blank braille pattern, the object replacement character and the noncharacters.
pub fn hidden(character: char) -> bool {
    if character.is_ascii() {
        return character.is_ascii_control();
    }
    character.is_control()
        || u32::from(character) & 0xFFFE == 0xFFFE
        || matches!(
            character,
            '\u{AD}'
                | '\u{34F}'
                | '\u{600}'..='\u{605}'
                | '\u{61C}'
                | '\u{6DD}'
                | '\u{70F}'
                | '\u{890}'..='\u{891}'
                | '\u{8E2}'
                | '\u{115F}'..='\u{1160}'
                | '\u{17B4}'..='\u{17B5}'
                | '\u{180B}'..='\u{180F}'
                | '\u{200B}'..='\u{200F}'
                | '\u{2028}'..='\u{202E}'
                | '\u{2060}'..='\u{206F}'
                | '\u{2800}'
                | '\u{3164}'
                | '\u{FDD0}'..='\u{FDEF}'
                | '\u{FE00}'..='\u{FE0F}'
                | '\u{FEFF}'
                | '\u{FFA0}'
                | '\u{FFF0}'..='\u{FFFC}'
                | '\u{110BD}'
                | '\u{110CD}'
                | '\u{13430}'..='\u{1343F}'
                | '\u{1BCA0}'..='\u{1BCA3}'
                | '\u{1D173}'..='\u{1D17A}'
                | '\u{E0000}'..='\u{E0FFF}'
        )
}

/// A key as a step of a JSON pointer (RFC 6901).
pub fn escape(key: &str) -> Cow<'_, str> {
    if key.contains(['~', '/']) { key.replace('~', "~0").replace('/', "~1").into() } else { key.into() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::tree;

    #[test]
    fn a_place_is_told_in_bytes_characters_and_utf_16() {
        let lines = Lines::new("ä: 1\n\u{1F525}°: \u{1F525}\r\nlast");
        assert_eq!(lines.position(0), Position::default());
        let at = "ä: 1\n\u{1F525}°: ".len();
        assert_eq!(lines.position(at), Position { line: 1, characters: 4, utf16: 5 });
        assert_eq!((lines.byte_of_characters(1, 4), lines.byte_of_utf16(1, 5)), (at, at));
        // Inside a character, past the end of a line and of the text.
        assert_eq!(lines.position(1), lines.position(0));
        assert_eq!(lines.byte_of_utf16(1, 1), "ä: 1\n".len());
        assert_eq!(lines.byte_of_characters(1, 99), at + 4);
        assert_eq!(lines.byte_of_utf16(9, 0), lines.text.len());
        assert_eq!(lines.position(999), Position { line: 2, characters: 4, utf16: 4 });
    }

    #[test]
    fn every_value_is_found_at_its_own_place() {
        let text = "a: {b: [1 mm, 2 mm], c/d: x}\ne:\n  - f: 3 mm\n    g: y\n  # between\n  - h\nlast: z\n";
        let tree = tree::read(text).unwrap();
        for pointer in ["/a/b/0", "/a/b/1", "/a/c~1d", "/e/0/f", "/e/0/g", "/e/1", "/last"] {
            let span = tree.at(pointer).unwrap().span;
            assert_eq!(tree.pointer_at(span.start), pointer);
            assert_eq!(tree.pointer_at(span.end), pointer);
            if let Some(key) = tree.key_span_of(pointer) {
                assert_eq!(tree.pointer_at(key.start), pointer);
            }
        }
        assert_eq!(tree.pointer_at(text.find("# between").unwrap() + 2), "/e");
        assert_eq!(tree.pointer_at(text.len() + 9), "");
    }
}
