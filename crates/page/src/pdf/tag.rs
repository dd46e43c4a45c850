//! What a mark on a page is part of: the structure that readers which speak, reflow or convert a page go by
//! (ISO 32000-1, 14.7 and 14.8; ISO 14289-1).
//!
//! Layout puts a tag before the marks of a part and none after them: what has no tag is decoration. The tree is gathered
//! from the pages when they are written, in the order in which the parts stand, so that tree and reading order are one.

use std::collections::HashMap;
use std::rc::Rc;

use lopdf::{Dictionary, Object, ObjectId, dictionary, text_string};

/// A part of a page that leads to another.
pub(super) struct Link {
    pub page: usize,
    /// Left, top, width, height, pt.
    pub area: [f64; 4],
    pub target: usize,
    /// The part of the document that it belongs to, and where it leads, in words.
    pub part: Rc<Node>,
    pub words: String,
}

/// A part of a document.
#[derive(Debug)]
pub(super) struct Node {
    pub role: Role,
    /// Alternative text of a figure.
    pub alt: Option<String>,
    pub parent: Option<Rc<Self>>,
}

/// The kinds of part, by their names in PDF.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    Document,
    Title,
    Heading,
    Paragraph,
    List,
    NumberedList,
    Item,
    Label,
    Body,
    Table,
    Caption,
    Row,
    ColumnHead,
    RowHead,
    Cell,
    Figure,
    Link,
    /// What stands at the head of every page: no part of the document.
    PageHead,
    /// What stands at the foot of every page: no part of the document.
    PageFoot,
}

impl Role {
    /// Its name (ISO 32000-1, 14.8.4).
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Document => "Document",
            Self::Title => "H1",
            Self::Heading => "H2",
            Self::Paragraph => "P",
            Self::List | Self::NumberedList => "L",
            Self::Item => "LI",
            Self::Label => "Lbl",
            Self::Body => "LBody",
            Self::Table => "Table",
            Self::Caption => "Caption",
            Self::Row => "TR",
            Self::ColumnHead | Self::RowHead => "TH",
            Self::Cell => "TD",
            Self::Figure => "Figure",
            Self::Link => "Link",
            Self::PageHead | Self::PageFoot => "Artifact",
        }
    }

    /// What kind of decoration it is (ISO 32000-1, 14.8.2.2), where it is no part of the document.
    pub(super) const fn decoration(self) -> Option<&'static str> {
        match self {
            Self::PageHead => Some("/Artifact <</Type/Pagination/Subtype/Header>>BDC"),
            Self::PageFoot => Some("/Artifact <</Type/Pagination/Subtype/Footer>>BDC"),
            _ => None,
        }
    }

    /// What is told of it beside its name.
    fn attributes(self) -> Option<Dictionary> {
        let name = |text: &str| Object::Name(text.as_bytes().to_vec());
        Some(match self {
            Self::ColumnHead => dictionary! { "O" => name("Table"), "Scope" => name("Column") },
            Self::RowHead => dictionary! { "O" => name("Table"), "Scope" => name("Row") },
            Self::NumberedList => dictionary! { "O" => name("List"), "ListNumbering" => name("Decimal") },
            _ => return None,
        })
    }
}

impl Node {
    /// The root of a sheet.
    pub(super) fn document() -> Rc<Self> {
        Rc::new(Self { role: Role::Document, alt: None, parent: None })
    }

    /// A part of another.
    pub(super) fn within(parent: &Rc<Self>, role: Role) -> Rc<Self> {
        Rc::new(Self { role, alt: None, parent: Some(Rc::clone(parent)) })
    }

    /// What repeats on every page.
    pub(super) fn furniture(role: Role) -> Rc<Self> {
        Rc::new(Self { role, alt: None, parent: None })
    }

    /// A drawing with the text that stands for it.
    pub(super) fn figure(parent: &Rc<Self>, alt: &str) -> Rc<Self> {
        Rc::new(Self { role: Role::Figure, alt: Some(alt.to_owned()), parent: Some(Rc::clone(parent)) })
    }
}

/// What a part holds, in order.
#[derive(Debug, Clone, Copy)]
enum Kid {
    Node(usize),
    Content { page: usize, number: i64 },
}

/// The parts of a file, as they are met on its pages.
#[derive(Debug, Default)]
pub(super) struct Structure {
    nodes: Vec<(Rc<Node>, Vec<Kid>)>,
    known: HashMap<*const Node, usize>,
    /// For each page the part of each piece of marked content.
    pages: Vec<Vec<usize>>,
    /// Box of each figure: left, lower, right, upper.
    boxes: HashMap<usize, [f32; 4]>,
}

impl Structure {
    /// Begins the next page.
    pub(super) fn turn(&mut self) {
        self.pages.push(Vec::new());
    }

    /// The number of the next content of a part on the page.
    pub(super) fn content(&mut self, node: &Rc<Node>) -> (usize, i64) {
        let at = self.index(node);
        let page = self.pages.len().saturating_sub(1);
        let Some(own) = self.pages.last_mut() else { return (at, 0) };
        let number = i64::try_from(own.len()).unwrap_or(i64::MAX);
        own.push(at);
        if let Some((_, kids)) = self.nodes.get_mut(at) {
            kids.push(Kid::Content { page, number });
        }
        (at, number)
    }

    /// Tells where a figure stands.
    pub(super) fn place(&mut self, at: usize, area: [f32; 4]) {
        self.boxes.insert(at, area);
    }

    fn index(&mut self, node: &Rc<Node>) -> usize {
        if let Some(&at) = self.known.get(&Rc::as_ptr(node)) {
            return at;
        }
        let parent = node.parent.as_ref().map(|parent| self.index(parent));
        let at = self.nodes.len();
        self.nodes.push((Rc::clone(node), Vec::new()));
        self.known.insert(Rc::as_ptr(node), at);
        if let Some((_, kids)) = parent.and_then(|parent| self.nodes.get_mut(parent)) {
            kids.push(Kid::Node(at));
        }
        at
    }

    /// Writes the tree; gives its root. The pages are told how their content is found in it.
    pub(super) fn write(
        &self,
        document: &mut lopdf::Document,
        pages: &[ObjectId],
        links: &[(&Link, ObjectId)],
    ) -> Option<ObjectId> {
        if self.nodes.is_empty() {
            return None;
        }
        let root = document.new_object_id();
        // After the pages, each link has a number of its own.
        let mut linked = Vec::new();
        let ids: Vec<ObjectId> = self.nodes.iter().map(|_| document.new_object_id()).collect();
        for (at, ((node, kids), &id)) in self.nodes.iter().zip(&ids).enumerate() {
            let parent = node.parent.as_ref().and_then(|parent| self.known.get(&Rc::as_ptr(parent)));
            let parent = parent.and_then(|&parent| ids.get(parent)).copied().unwrap_or(root);
            let own_page = kids.iter().find_map(|kid| match kid {
                Kid::Content { page, .. } => Some(*page),
                Kid::Node(_) => None,
            });
            let mut kids: Vec<Object> = kids
                .iter()
                .filter_map(|kid| match kid {
                    Kid::Node(at) => ids.get(*at).map(|id| Object::Reference(*id)),
                    Kid::Content { page, number } if Some(*page) == own_page => Some(Object::Integer(*number)),
                    Kid::Content { page, number } => pages.get(*page).map(|page| {
                        Object::Dictionary(dictionary! {
                            "Type" => Object::Name(b"MCR".to_vec()),
                            "Pg" => Object::Reference(*page),
                            "MCID" => *number,
                        })
                    }),
                })
                .collect();
            for (link, annotation) in links.iter().filter(|(link, _)| Rc::ptr_eq(&link.part, node)) {
                let mut kid = dictionary! {
                    "Type" => Object::Name(b"OBJR".to_vec()),
                    "Obj" => Object::Reference(*annotation),
                };
                if let Some(page) = pages.get(link.page) {
                    kid.set("Pg", Object::Reference(*page));
                }
                kids.push(Object::Dictionary(kid));
                let key = i64::try_from(self.pages.len() + linked.len() / 2).unwrap_or(i64::MAX);
                linked.extend([Object::Integer(key), Object::Reference(id)]);
                if let Ok(own) = document.get_dictionary_mut(*annotation) {
                    own.set("StructParent", key);
                }
            }
            let mut element = dictionary! {
                "S" => Object::Name(node.role.name().as_bytes().to_vec()),
                "P" => Object::Reference(parent),
            };
            match <[Object; 1]>::try_from(kids) {
                Ok([one]) => element.set("K", one),
                Err(several) => element.set("K", Object::Array(several)),
            }
            if let Some(page) = own_page.and_then(|page| pages.get(page)) {
                element.set("Pg", Object::Reference(*page));
            }
            if let Some(alt) = &node.alt {
                element.set("Alt", text_string(alt));
            }
            if let Some(area) = self.boxes.get(&at) {
                let area = area.iter().map(|value| Object::Real(*value)).collect();
                element
                    .set("A", dictionary! { "O" => Object::Name(b"Layout".to_vec()), "BBox" => Object::Array(area) });
            } else if let Some(attributes) = node.role.attributes() {
                element.set("A", attributes);
            }
            document.set_object(id, element);
        }
        let tops = self.nodes.iter().zip(&ids).filter(|((node, _), _)| node.parent.is_none());
        let tops: Vec<Object> = tops.map(|(_, id)| Object::Reference(*id)).collect();
        let mut numbers = Vec::new();
        for (index, own) in self.pages.iter().enumerate() {
            let key = i64::try_from(index).unwrap_or(i64::MAX);
            let parts = own.iter().filter_map(|at| ids.get(*at)).map(|id| Object::Reference(*id)).collect();
            numbers.extend([Object::Integer(key), Object::Array(parts)]);
            if let Some(page) = pages.get(index).and_then(|page| document.get_dictionary_mut(*page).ok()) {
                page.set("StructParents", key);
                page.set("Tabs", Object::Name(b"S".to_vec()));
            }
        }
        numbers.extend(linked);
        let next = i64::try_from(numbers.len() / 2).unwrap_or(i64::MAX);
        document.set_object(
            root,
            dictionary! {
                "Type" => "StructTreeRoot",
                "K" => Object::Array(tops),
                "ParentTree" => dictionary! { "Nums" => Object::Array(numbers) },
                "ParentTreeNextKey" => next,
            },
        );
        Some(root)
    }
}
