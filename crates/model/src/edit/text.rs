//! Where entries begin and end in the author's text.

use std::ops::Range;

use super::draft::Draft;
use crate::source::{Entry, Node, NodeKind, Scalar, Style};

/// A text with what its lines end in.
pub struct Text<'t> {
    text: &'t str,
    /// Line feed, or carriage return and line feed.
    pub newline: &'static str,
}

impl<'t> Text<'t> {
    /// A text as it stands.
    pub fn new(text: &'t str) -> Self {
        let crlf = text.find('\n').is_some_and(|at| text.as_bytes().get(at.wrapping_sub(1)) == Some(&b'\r'));
        Self { text, newline: if crlf { "\r\n" } else { "\n" } }
    }

    /// A part of it; nothing where it has no such part.
    pub fn slice(&self, range: Range<usize>) -> &'t str {
        self.text.get(range).unwrap_or_default()
    }

    /// Whether a part is white space alone.
    pub fn blank(&self, range: Range<usize>) -> bool {
        self.slice(range).bytes().all(|byte| byte == b' ')
    }

    /// Where the line of a byte begins, after a byte order mark.
    pub fn line_start(&self, at: usize) -> usize {
        let start = self.slice(0..at).rfind('\n').map_or(0, |at| at + 1);
        if start == 0 && self.text.starts_with('\u{FEFF}') { '\u{FEFF}'.len_utf8().min(at) } else { start }
    }

    /// Characters between the beginning of the line and a byte.
    pub fn column(&self, at: usize) -> usize {
        self.slice(self.line_start(at)..at).chars().count()
    }

    /// Where the line of a byte ends, before its line break.
    pub fn line_end(&self, at: usize) -> usize {
        let rest = self.text.get(at..).unwrap_or_default();
        let line = rest.split('\n').next().unwrap_or_default();
        at + line.strip_suffix('\r').unwrap_or(line).len()
    }

    /// Where the line of a byte ends, after its line break.
    pub fn line_end_with_break(&self, at: usize) -> usize {
        let rest = self.text.get(at..).unwrap_or_default();
        rest.find('\n').map_or(self.text.len(), |end| at + end + 1)
    }

    /// The byte after the colon of a key.
    pub fn after_colon(&self, entry: &Entry) -> Option<usize> {
        let end = entry.key_span.end;
        let rest = self.text.get(end..)?;
        rest.trim_start_matches(' ').starts_with(':').then(|| end + rest.find(':').unwrap_or_default() + 1)
    }

    /// Where an entry ends: behind its value, or behind its colon where it has none.
    pub fn entry_end(&self, entry: &Entry) -> usize {
        entry.value.end().max(self.after_colon(entry).unwrap_or(entry.key_span.end))
    }

    /// The dash of an item of a list on lines of its own.
    pub fn dash(&self, item: &Node) -> Option<usize> {
        let before = self.slice(0..start_of(item)).trim_end_matches([' ', '\n', '\r']);
        // The place of an empty item may be told behind or at its dash.
        before.ends_with('-').then(|| before.len() - 1)
    }

    /// A new last entry of a section in braces or a list in brackets, after the byte where the last one ends.
    pub fn flow_end(&self, node: &Node, end: usize, entry: &str) -> Option<Draft> {
        let rest = self.text.get(end..node.span.end)?;
        let some = !rest.is_empty() && end > node.span.start + 1;
        let (at, before) = match rest.trim_start_matches(' ').strip_prefix(',') {
            Some(_) => (end + rest.find(',')? + 1, " "),
            None if some => (end, ", "),
            None => (end, ""),
        };
        Some(Draft::new(at..at, format!("{before}{entry}")))
    }

    /// A new line after the line on which a byte stands.
    pub fn line_after(&self, at: usize, indent: usize, line: &str) -> Draft {
        let end = self.line_end(at);
        Draft::new(end..end, format!("{}{}{line}", self.newline, " ".repeat(indent)))
    }

    /// The comments that begin in a part of it.
    pub fn comments_in(&self, tree: &Node, range: &Range<usize>) -> Vec<&'t str> {
        comment_places(self.text, tree)
            .into_iter()
            .filter(|place| range.contains(&place.start))
            .map(|place| self.slice(place))
            .collect()
    }
}

/// Where a value begins: at its first key where it is a section on lines of its own.
fn start_of(node: &Node) -> usize {
    match &node.kind {
        NodeKind::Map(entries) if node.style == Style::Block => {
            entries.first().map_or(node.span.start, |entry| entry.key_span.start)
        }
        _ => node.span.start,
    }
}

/// The comments of a text in their order, each from its `#` to the end of its line.
pub fn comments<'t>(text: &'t str, tree: &Node) -> Vec<&'t str> {
    comment_places(text, tree).into_iter().map(|place| text.get(place).unwrap_or_default().trim_end()).collect()
}

/// The places of the comments of a text: each `#` after white space that no value holds.
pub fn comment_places(text: &str, tree: &Node) -> Vec<Range<usize>> {
    let mut held = Vec::new();
    values(tree, &mut held);
    held.retain(|place| place.start < place.end);
    held.sort_unstable_by_key(|place| (place.start, place.end));
    let (mut places, mut at, mut next) = (Vec::new(), 0, 0);
    while let Some(found) = text.get(at..).and_then(|rest| rest.find('#')).map(|found| at + found) {
        while held.get(next).is_some_and(|place| place.end <= found) {
            next += 1;
        }
        if let Some(place) = held.get(next).filter(|place| place.start <= found) {
            at = place.end;
            continue;
        }
        let after_space = text
            .get(..found)
            .unwrap_or_default()
            .chars()
            .next_back()
            .is_none_or(|before| before.is_whitespace() || before == '\u{FEFF}');
        let end = text.get(found..).and_then(|rest| rest.find(['\n', '\r'])).map_or(text.len(), |end| found + end);
        if after_space {
            places.push(found..end);
            at = end;
        } else {
            at = found + 1;
        }
    }
    places
}

/// The places of keys and single values.
fn values(node: &Node, held: &mut Vec<Range<usize>>) {
    match &node.kind {
        // What an alias stands for is held where it is written.
        _ if node.style == Style::Alias => {}
        // The parser tells the place of its first line, but that of its `|`, which a comment may follow, where it has none.
        NodeKind::Scalar(Scalar::Text(lines)) if node.style == Style::TextBlock && lines.is_empty() => {}
        NodeKind::Scalar(_) => held.push(node.span.bytes()),
        NodeKind::List(items) => items.iter().for_each(|item| values(item, held)),
        NodeKind::Map(entries) => {
            for entry in entries {
                held.push(entry.key_span.bytes());
                values(&entry.value, held);
            }
        }
    }
}
