//! How far an SVG unfolds: parts that are used again and again, nested parts, styles that every part inherits.
//!
//! A small file can stand for a drawing without end. The parts are counted as they would be drawn, before anything
//! is made of them.

use std::collections::HashMap;

use roxmltree::{Document, Node};

use crate::refused::Unprinted;

pub(super) const TOO_MUCH: Unprinted = Unprinted { found: "an SVG of so many parts", instead: "simplify it" };

/// Most parts that are drawn, each use of one counted.
const PARTS: usize = 5_000;
/// Deepest nesting, uses counted.
const DEPTH: usize = 64;
/// Most bytes of attributes and styles that the parts together read, inherited ones counted for each.
const READ: usize = 16 * 1024 * 1024;

const TOO_DEEP: Unprinted = Unprinted { found: "an SVG nested so deep", instead: "ungroup its parts" };

/// What is left to unfold.
struct Left<'a, 'input> {
    parts: usize,
    bytes: usize,
    /// Every part by its name; two may share one.
    named: HashMap<&'a str, Vec<Node<'a, 'input>>>,
}

/// Whether the drawing unfolds to an amount that is drawn in no time.
pub(super) fn check(drawing: &Document) -> Result<(), Unprinted> {
    let styles: usize = drawing.descendants().filter(|node| node.has_tag_name("style")).map(text_length).sum();
    let mut named: HashMap<&str, Vec<Node>> = HashMap::new();
    for node in drawing.descendants() {
        if let Some(name) = node.attribute("id") {
            named.entry(name).or_default().push(node);
        }
    }
    let mut left = Left { parts: PARTS, bytes: READ, named };
    left.take(drawing.root_element(), styles, 0)
}

fn text_length(node: Node) -> usize {
    node.children().filter_map(|child| child.text()).map(str::len).sum()
}

impl Left<'_, '_> {
    /// Counts a part, what it holds and what it refers to; `inherited` are the bytes that its parents hand down.
    fn take(&mut self, node: Node, inherited: usize, depth: usize) -> Result<(), Unprinted> {
        if depth > DEPTH {
            return Err(TOO_DEEP);
        }
        let own: usize = node.attributes().map(|attribute| attribute.value().len()).sum();
        let read = inherited.saturating_add(own);
        self.parts = self.parts.checked_sub(1).ok_or(TOO_MUCH)?;
        self.bytes = self.bytes.checked_sub(read).ok_or(TOO_MUCH)?;
        for referred in node.attributes().flat_map(|attribute| references(attribute.value())) {
            for part in self.named.get(referred).cloned().unwrap_or_default() {
                self.take(part, read, depth + 1)?;
            }
        }
        node.children().filter(Node::is_element).try_for_each(|child| self.take(child, read, depth + 1))
    }
}

/// The names of parts that a value refers to: `#name` and `url(#name)`.
fn references(value: &str) -> impl Iterator<Item = &str> {
    value.split('#').skip(1).map(|rest| rest.split([')', '"', '\'', ';', ' ']).next().unwrap_or_default())
}
