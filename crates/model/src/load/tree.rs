//! YAML events to a tree of located values, in one pass and within limits.

use std::collections::HashMap;

use serde_json::Number;
use serde_yaml::granit_parser::{Event, Parser, ScalarStyle, Span as EventSpan, StructureStyle};

use super::fault::Fault;
use super::limits;
use crate::source::{Entry, Node, NodeKind, Scalar, Span, Style, hidden};

/// May begin a text file, and is no part of its values.
pub(super) const BYTE_ORDER_MARK: char = '\u{FEFF}';

/// Reads one YAML document into a tree; `Err` holds every fault of its structure.
pub(crate) fn read(whole: &str) -> Result<Node, Vec<Fault>> {
    let text = whole.strip_prefix(BYTE_ORDER_MARK).unwrap_or(whole);
    let before = whole.len() - text.len();
    let mut builder = Builder {
        text,
        before,
        stack: Vec::new(),
        root: None,
        anchors: HashMap::new(),
        nodes: 0,
        bytes: 0,
        faults: vec![],
    };
    let mut documents = 0_usize;
    let mut parser = Parser::new_from_str(text);
    while let Some(next) = parser.next_event() {
        let (event, span) = match next {
            Ok(next) => next,
            Err(error) => {
                let at = error.marker().byte_offset().unwrap_or(text.len()).min(text.len());
                builder.faults.push(super::broken::fault(text, before, at, &error.info()));
                return Err(builder.faults);
            }
        };
        match event {
            Event::DocumentStart(..) => {
                documents += 1;
                if documents > 1 {
                    let place = builder.span(&span);
                    builder.faults.push(
                        Fault::at(place, "a second document starts here; one file is one document")
                            .hint("move it to a file of its own"),
                    );
                    return Err(builder.faults);
                }
            }
            Event::StreamEnd => break,
            event => {
                if let Err(fault) = builder.take(event, &span) {
                    builder.faults.push(fault);
                    return Err(builder.faults);
                }
            }
        }
    }
    match builder.root {
        Some(root) if builder.faults.is_empty() => Ok(root),
        Some(_) => Err(builder.faults),
        None => Err(vec![Fault::whole("the file is empty").hint("start with `format: 1` and `document: procedure`")]),
    }
}

struct Open {
    span: Span,
    style: Style,
    anchor: usize,
    kind: OpenKind,
}

enum OpenKind {
    List(Vec<Node>),
    Map { entries: Vec<Entry>, key: Option<(String, Span)> },
}

struct Builder<'t> {
    text: &'t str,
    /// Bytes of the file before its text.
    before: usize,
    stack: Vec<Open>,
    root: Option<Node>,
    anchors: HashMap<usize, Node>,
    nodes: usize,
    bytes: usize,
    faults: Vec<Fault>,
}

impl Builder<'_> {
    fn span(&self, span: &EventSpan) -> Span {
        let start = span.start.byte_offset().unwrap_or(0).min(self.text.len());
        let mut end = span.end.byte_offset().unwrap_or(start).clamp(start, self.text.len());
        // A block scalar's span reaches past its last line; a value ends where its text does.
        while end > start && self.text.as_bytes().get(end - 1).is_some_and(u8::is_ascii_whitespace) {
            end -= 1;
        }
        let (start, end) = (self.before + start, self.before + end);
        Span { start, end, line: span.start.line().max(1), column: span.start.col().saturating_add(1) }
    }

    fn take(&mut self, event: Event<'_>, span: &EventSpan) -> Result<(), Fault> {
        let place = self.span(span);
        match event {
            Event::Scalar(text, style, anchor, tag) => {
                if let Some(tag) = tag
                    && tag.handle() != "tag:yaml.org,2002:"
                {
                    return Err(Fault::at(place, "tags such as `!name` are not used in these files")
                        .hint("write the plain value"));
                }
                if text.len() > limits::SCALAR_BYTES {
                    return Err(Fault::at(
                        Span { end: place.start, ..place },
                        format!("a value of {} bytes; the most is {}", text.len(), limits::SCALAR_BYTES),
                    ));
                }
                // An escape such as `\x1b` in quotes makes one out of plain text.
                if let Some(character) = text.chars().find(|c| forbidden(*c)) {
                    return Err(Fault::at(
                        place,
                        format!("an invisible or steering character (U+{:04X}) stands in this value", character as u32),
                    )
                    .hint("type the value again without it"));
                }
                let scalar = if style == ScalarStyle::Plain { resolve(&text) } else { Scalar::Text(text.into_owned()) };
                let style = match style {
                    ScalarStyle::Plain => Style::Plain,
                    ScalarStyle::SingleQuoted => Style::SingleQuoted,
                    ScalarStyle::DoubleQuoted => Style::DoubleQuoted,
                    ScalarStyle::Literal | ScalarStyle::Folded => Style::TextBlock,
                };
                self.put(Node { span: place, style, kind: NodeKind::Scalar(scalar) }, anchor)
            }
            Event::SequenceStart(style, anchor, _) => self.open(place, style, anchor, OpenKind::List(Vec::new())),
            Event::MappingStart(style, anchor, _) => {
                self.open(place, style, anchor, OpenKind::Map { entries: Vec::new(), key: None })
            }
            Event::SequenceEnd | Event::MappingEnd => {
                let Some(open) = self.stack.pop() else { return Ok(()) };
                let kind = match open.kind {
                    OpenKind::List(items) => NodeKind::List(items),
                    OpenKind::Map { entries, .. } => NodeKind::Map(entries),
                };
                let span = Span { end: place.end.max(open.span.start), ..open.span };
                self.put(Node { span, style: open.style, kind }, open.anchor)
            }
            Event::Alias(id) => {
                let Some(anchored) = self.anchors.get(&id) else {
                    return Err(Fault::at(place, "this alias names no finished value").hint("write the value itself"));
                };
                let size = size(anchored);
                if self.stack.len() + size.depth > limits::DEPTH {
                    return Err(too_deep(place));
                }
                self.room_for(size, place)?;
                let kind = self.anchors.get(&id).map(|node| node.kind.clone());
                let kind = kind.unwrap_or(NodeKind::Scalar(Scalar::Null));
                self.put(Node { span: place, style: Style::Alias, kind }, 0)
            }
            _ => Ok(()),
        }
    }

    fn open(&mut self, span: Span, style: StructureStyle, anchor: usize, kind: OpenKind) -> Result<(), Fault> {
        if self.stack.len() >= limits::DEPTH {
            return Err(too_deep(span));
        }
        let style = match style {
            StructureStyle::Block => Style::Block,
            StructureStyle::Flow => Style::Flow,
        };
        self.stack.push(Open { span, style, anchor, kind });
        Ok(())
    }

    /// Counts values and their text, those of an alias and of what an anchor keeps for one as if they were written out.
    fn room_for(&mut self, size: Size, span: Span) -> Result<(), Fault> {
        self.nodes += size.nodes;
        self.bytes += size.bytes;
        let most = if self.nodes > limits::NODES {
            format!("{} values", limits::NODES)
        } else if self.bytes > limits::TEXT_BYTES {
            format!("{} bytes of text", limits::TEXT_BYTES)
        } else {
            return Ok(());
        };
        Err(Fault::at(
            Span { end: span.start, ..span },
            format!("the file holds more than {most} once its aliases are written out"),
        )
        .hint("split it, or write the values without aliases"))
    }

    fn put(&mut self, node: Node, anchor: usize) -> Result<(), Fault> {
        self.room_for(Size { nodes: 1, depth: 0, bytes: 0 }, node.span)?;
        if anchor != 0 {
            self.room_for(size(&node), node.span)?;
            self.anchors.insert(anchor, node.clone());
        }
        let Some(open) = self.stack.last_mut() else {
            self.root = Some(node);
            return Ok(());
        };
        match &mut open.kind {
            OpenKind::List(items) => items.push(node),
            OpenKind::Map { entries, key } => match key.take() {
                None => *key = Some(as_key(node)?),
                Some((name, key_span)) => {
                    if name == "<<" {
                        return Err(Fault::at(key_span, "merge keys (`<<`) are not used in these files")
                            .hint("write the keys themselves"));
                    }
                    if let Some(first) = entries.iter().find(|entry| entry.key == name) {
                        if self.faults.len() >= limits::FAULTS {
                            return Ok(());
                        }
                        self.faults.push(
                            Fault::at(
                                key_span,
                                format!(
                                    "the key `{name}` stands twice; it stood first on line {}",
                                    first.key_span.line
                                ),
                            )
                            .hint("keep one of the two"),
                        );
                    } else if entries.len() >= limits::KEYS {
                        return Err(Fault::at(
                            key_span,
                            format!("more than {} keys stand in one section", limits::KEYS),
                        ));
                    } else {
                        entries.push(Entry { key: name, key_span, value: node });
                    }
                }
            },
        }
        Ok(())
    }
}

fn too_deep(span: Span) -> Fault {
    Fault::at(Span { end: span.start, ..span }, format!("values are nested more than {} deep", limits::DEPTH))
}

/// How large a value is.
#[derive(Clone, Copy)]
struct Size {
    /// Values, itself among them.
    nodes: usize,
    /// Sections inside sections; none in a single value.
    depth: usize,
    /// Bytes of its texts and keys.
    bytes: usize,
}

fn size(node: &Node) -> Size {
    let with = |all: Size, key: &str, one: &Node| {
        let one = size(one);
        Size {
            nodes: all.nodes + one.nodes,
            depth: all.depth.max(one.depth + 1),
            bytes: all.bytes + key.len() + one.bytes,
        }
    };
    let section = Size { nodes: 1, depth: 1, bytes: 0 };
    match &node.kind {
        NodeKind::Scalar(Scalar::Text(text) | Scalar::Number(_, text)) => {
            Size { nodes: 1, depth: 0, bytes: text.len() }
        }
        NodeKind::Scalar(_) => Size { nodes: 1, depth: 0, bytes: 0 },
        NodeKind::List(items) => items.iter().fold(section, |all, item| with(all, "", item)),
        NodeKind::Map(entries) => entries.iter().fold(section, |all, entry| with(all, &entry.key, &entry.value)),
    }
}

fn as_key(node: Node) -> Result<(String, Span), Fault> {
    let name = match node.kind {
        NodeKind::Scalar(Scalar::Text(text)) => text,
        NodeKind::Scalar(Scalar::Number(_, spelled)) => spelled,
        NodeKind::Scalar(Scalar::Bool(value)) => value.to_string(),
        _ => return Err(Fault::at(node.span, "a key must be a word or a number")),
    };
    Ok((name, node.span))
}

/// What a reader does not see, other than tab and line breaks.
pub(crate) fn forbidden(character: char) -> bool {
    hidden(character) && !matches!(character, '\t' | '\n' | '\r')
}

/// YAML 1.2 core schema for plain scalars, but for what would change what the author wrote: a leading zero and
/// digits with underscores stay text, as do `no`, `yes`, `on`, `off` (they are words in YAML 1.2).
pub(crate) fn resolve(text: &str) -> Scalar {
    match text {
        "" | "~" | "null" | "Null" | "NULL" => return Scalar::Null,
        "true" | "True" | "TRUE" => return Scalar::Bool(true),
        "false" | "False" | "FALSE" => return Scalar::Bool(false),
        _ => {}
    }
    number(text).map_or_else(|| Scalar::Text(text.to_owned()), |number| Scalar::Number(number, text.to_owned()))
}

fn number(text: &str) -> Option<Number> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let mut bytes = digits.bytes();
    if !bytes.next()?.is_ascii_digit() || !digits.bytes().all(|b| b.is_ascii_digit() || b == b'.') {
        return None;
    }
    let whole = digits.split('.').next()?;
    if (whole.len() > 1 && whole.starts_with('0')) || digits.ends_with('.') {
        return None;
    }
    if digits.contains('.') {
        text.parse::<f64>().ok().and_then(Number::from_f64)
    } else {
        text.parse::<i64>().ok().map(Number::from)
    }
}
