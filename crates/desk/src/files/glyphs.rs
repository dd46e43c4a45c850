//! Characters of a document that no sheet can print.

use seamwright_model::load::Fault;
use seamwright_model::source::{Node, NodeKind, Scalar, Span, escape};
use seamwright_page::pdf::missing_glyphs;

/// A place in a document, written out only where something is wrong there.
pub(super) enum At<'a> {
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
pub(super) fn unprintable(node: &Node, at: &At<'_>, faults: &mut Vec<Fault>) {
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
