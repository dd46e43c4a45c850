//! The pages of a PDF in order, and what is drawn on each.

use std::collections::BTreeSet;

use super::{CONTENTS, OTHERWISE};
use crate::received::arrival::Unreadable;
use crate::received::contents::operators;
use crate::received::object::Object;
use crate::received::objects::Objects;

/// Most pages that are compared.
const PAGES: usize = 2_000;

/// What a page that does not state it has from the tree above it (ISO 32000-1, 7.7.3.4).
const HANDED_DOWN: [&str; 4] = ["Resources", "MediaBox", "CropBox", "Rotate"];

/// The pages of a file in order, and its catalog.
pub(super) struct Pages<'o> {
    pub(super) catalog: Object<'o>,
    pub(super) pages: Vec<Object<'o>>,
}

/// A node of the tree of pages, where one is named, with what it has from those above it.
type Node<'o> = (Option<u32>, Vec<(&'static str, Object<'o>)>);

impl<'o> Pages<'o> {
    pub(super) fn of(objects: &'o Objects<'_>) -> Result<Self, Unreadable> {
        let mut root = None;
        for trailer in objects.trailers()? {
            if let Some(Object::Reference(number)) = trailer.get("Root") {
                root = Some(*number);
            }
        }
        let catalog = match root {
            Some(number) => objects.last(number)?.map_or(Object::Other, |(object, _)| object),
            None => Object::Other,
        };
        let mut own = Self { pages: Vec::new(), catalog };
        let mut seen = BTreeSet::new();
        // Nodes of the tree, each with what it has from those above it.
        let mut next: Vec<Node<'o>> = Vec::new();
        if let Some(Object::Reference(number)) = own.catalog.get("Pages") {
            next.push((Some(*number), Vec::new()));
        }
        while let Some((number, mut above)) = next.pop() {
            if own.pages.len() >= PAGES {
                continue;
            }
            let Some(number) = number else {
                own.pages.push(Object::Other);
                continue;
            };
            let first = seen.insert(number);
            let Some((node, _)) = objects.last(number)? else { continue };
            let kids = node.get("Kids").map(|kids| objects.resolved(kids)).transpose()?;
            match kids {
                // A branch that stands twice, or below itself, is no tree: it counts as a page that no sheet has.
                Some(Object::Array(_)) if !first => own.pages.push(Object::Other),
                Some(Object::Array(kids)) => {
                    for key in HANDED_DOWN {
                        if let Some(value) = node.get(key) {
                            above.retain(|(own, _)| *own != key);
                            above.push((key, value.clone()));
                        }
                    }
                    let kids = kids.iter().rev();
                    next.extend(kids.map(|kid| match kid {
                        Object::Reference(own) => (Some(*own), above.clone()),
                        // A page that stands in the list itself is none that a sheet has.
                        _ => (None, Vec::new()),
                    }));
                }
                _ => own.pages.push(node.with(above)),
            }
        }
        Ok(own)
    }
}

/// What is drawn on a page, unpacked, as its operators and what they take.
pub(super) fn contents(objects: &Objects<'_>, page: &Object<'_>) -> Result<Vec<u8>, Unreadable> {
    let parts = match page.get("Contents") {
        None => Vec::new(),
        Some(Object::Array(parts)) => parts.clone(),
        Some(one) => match objects.resolved(one)? {
            Object::Array(parts) => parts,
            _ => vec![one.clone()],
        },
    };
    if parts.len() > PAGES {
        return Err(Unreadable::TooMuch);
    }
    let mut drawn = Vec::new();
    for part in &parts {
        let Object::Reference(number) = part else { continue };
        let Some((dictionary, Some(end))) = objects.last(*number)? else { continue };
        if dictionary.get("F").is_some() {
            drawn.extend(b"what another file holds\n");
        }
        let left = CONTENTS.saturating_sub(drawn.len());
        match objects.stream(&dictionary, end, left)? {
            Some(bytes) => drawn.extend(bytes),
            None => drawn.extend(OTHERWISE),
        }
        drawn.push(b'\n');
    }
    Ok(operators(&drawn))
}
