//! The documents that one names, and what is missing of those that a sheet was made with.

use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::load::Fault;
use seamwright_model::procedure::Procedure;
use seamwright_model::shop::Shop;
use seamwright_page::made_with::Role;

use crate::files::{Input, Unread};
use crate::read::Read;

/// The documents that one names.
#[derive(Default)]
pub struct Named {
    /// Whether the document is a lesson.
    pub(crate) lesson: bool,
    pub(crate) shop: Option<Called<Shop>>,
    pub(crate) procedure: Option<Called<Procedure>>,
}

/// A document that was read, after the name by which another calls it.
pub(crate) type Called<T> = (String, Read<T>);

impl Named {
    /// The files, as they were when they were read.
    pub fn files(&self) -> Vec<NamedFile> {
        let shop = self.shop.iter().map(|(name, read)| (name, &read.file));
        let procedure = self.procedure.iter().map(|(name, read)| (name, &read.file));
        let file = |(name, digest): (&String, &Vec<u8>)| NamedFile { name: name.clone(), digest: digest.clone() };
        shop.chain(procedure).map(file).collect()
    }

    /// The shop that the document names.
    pub(crate) fn shop(&self) -> Option<&Read<Shop>> {
        self.shop.as_ref().map(|(_, read)| read)
    }

    /// The procedure that the document names.
    pub(crate) fn procedure(&self) -> Option<&Read<Procedure>> {
        self.procedure.as_ref().map(|(_, read)| read)
    }
}

/// The files that a document names, as it names them.
pub(crate) fn names(document: &Document) -> impl Iterator<Item = &str> {
    shop_of(document).into_iter().chain(procedure_of(document)).map(|(name, _)| name)
}

/// The shop that a document names, and where.
pub(crate) fn shop_of(document: &Document) -> Option<(&str, &'static str)> {
    match document {
        Document::Procedure(own) => own.identification.shop.as_deref().map(|name| (name, "/identification/shop")),
        Document::Lesson(own) => own.shop.as_deref().map(|name| (name, "/shop")),
        _ => None,
    }
}

/// The procedure that a document names, and where.
pub(crate) fn procedure_of(document: &Document) -> Option<(&str, &'static str)> {
    match document {
        Document::Lesson(own) => Some((&own.procedure, "/procedure")),
        _ => None,
    }
}

/// The file that a document names, and how to say at its place that it cannot be read.
pub(crate) fn file_beside<'a>(
    input: &Input,
    loaded: &'a Loaded,
    name: &str,
    pointer: &'a str,
) -> (Input, impl FnOnce(Unread) -> Vec<Fault> + use<'a>) {
    let other = input.named(name);
    let told = other.name.clone();
    let fault = move |unread: Unread| {
        let first = unread.faults.first().map_or("cannot be read", |fault| fault.message.as_str());
        vec![Fault {
            message: format!("{told}: {first}"),
            hint: Some("write the path of the file as seen from this one".to_owned()),
            span: Some(loaded.tree.span_of(pointer)),
            pointer: pointer.to_owned(),
        }]
    };
    (other, fault)
}

/// A file that was read because a document names it.
#[derive(Debug, Clone)]
pub struct NamedFile {
    /// As the document names it.
    pub name: String,
    /// Digest of its bytes.
    pub digest: Vec<u8>,
}

/// What a sheet was made with and is not at hand: what it was, and in words which.
pub struct Missing(pub(crate) Vec<(Role, String)>);

impl Missing {
    /// All of it in words.
    pub fn words(&self) -> String {
        self.0.iter().map(|(_, words)| words.as_str()).collect::<Vec<_>>().join(" and ")
    }

    /// The arguments with which it is named.
    pub fn arguments(&self) -> String {
        let mut roles: Vec<Role> = self.0.iter().map(|(role, _)| *role).collect();
        roles.sort_unstable();
        roles.dedup();
        let argument = |role| match role {
            Role::Procedure => "--procedure FILE",
            Role::TestRecord => "--record FILE",
            Role::Shop => "--shop FILE",
            Role::HouseStyle => "--style FILE",
            Role::Templates => "--templates FOLDER",
        };
        roles.into_iter().map(argument).collect::<Vec<_>>().join(" ")
    }
}
