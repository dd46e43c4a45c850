//! Documents read as one kind, to be held against others: test records, shops, procedures.

use std::path::Path;

use seamwright_check::codes::{Qualification, Refusal};
use seamwright_model::Loaded;
use seamwright_model::document::{self, Document};
use seamwright_model::load::Fault;
use seamwright_model::procedure::{CodeName, Identification, Procedure};
use seamwright_model::shop::Shop;
use seamwright_model::source::Source;
use seamwright_model::test_record::TestRecord;
use seamwright_page::made_with::{Companion, Role};
use seamwright_sheet::kinds;

use crate::files::{self, Files, Input, Unread};
use crate::report::Report;
use crate::seal;

/// A document that was read, and what a sheet says of it.
pub struct Read<T> {
    /// The document.
    pub document: Box<T>,
    /// Its number.
    pub(crate) number: String,
    /// Digest of its text.
    pub(crate) digest: String,
    /// Digest of what its file held when it was read.
    pub(crate) file: Vec<u8>,
}

impl<T> Read<T> {
    pub(crate) fn new(document: Box<T>, loaded: (&Identification, &Source)) -> Self {
        let (number, text) = (loaded.0.number.to_string(), &loaded.1.text);
        Self { document, number, digest: kinds::digest(text), file: seal::digest_of([text.as_bytes()]) }
    }

    /// What a sheet says of it.
    pub(crate) fn companion(&self, role: Role) -> Companion {
        Companion { role, name: self.number.clone(), digest: self.digest.clone() }
    }
}

/// A test record and what it qualifies.
pub struct Tested {
    /// The record.
    pub record: Read<TestRecord>,
    /// What it qualifies.
    pub qualification: Qualification,
}

/// Reads a shop, which must name its machines.
pub fn shop(files: &dyn Files, path: &Path) -> Result<Box<Shop>, Box<Report>> {
    let input = Input::typed(path);
    match read_shop(files, &input) {
        Ok(shop) => Ok(shop.document),
        Err(unread) => Err(Box::new(Report::unread(input, unread))),
    }
}

pub(crate) fn read_shop(files: &dyn Files, input: &Input) -> Result<Read<Shop>, Unread> {
    let loaded = kind(files, input, "shop")?;
    let Document::Shop(shop) = &loaded.document else { return Err(not_a(&loaded, "shop")) };
    if shop.power_sources.is_empty() {
        let fault = Fault {
            message: "this shop names no power source; nothing can be held against it".to_owned(),
            hint: Some("list its machines under `power_sources:`".to_owned()),
            span: Some(loaded.tree.span_of("/document")),
            pointer: "/document".to_owned(),
        };
        return Err(refused(&loaded, vec![fault]));
    }
    Ok(Read::new(shop.clone(), (loaded.document.identification(), &loaded.source)))
}

/// Reads a procedure.
pub(crate) fn procedure(files: &dyn Files, input: &Input) -> Result<Read<Procedure>, Unread> {
    as_procedure(&kind(files, input, "procedure")?)
}

pub(crate) fn as_procedure(loaded: &Loaded) -> Result<Read<Procedure>, Unread> {
    let Document::Procedure(procedure) = &loaded.document else { return Err(not_a(loaded, "procedure")) };
    Ok(Read::new(procedure.clone(), (loaded.document.identification(), &loaded.source)))
}

/// A document as a test record, with what it qualifies.
pub fn tested(loaded: &Loaded, code: Option<CodeName>) -> Result<Tested, Unread> {
    let Document::TestRecord(record) = &loaded.document else { return Err(not_a(loaded, "test-record")) };
    let qualification = seamwright_check::qualified(record, code).map_err(|refusals| {
        let fault = |refusal: Refusal| Fault {
            message: refusal.message,
            hint: refusal.hint,
            span: Some(loaded.tree.span_of(&refusal.pointer)),
            pointer: refusal.pointer,
        };
        refused(loaded, refusals.into_iter().map(fault).collect())
    })?;
    let record = Read::new(record.clone(), (loaded.document.identification(), &loaded.source));
    Ok(Tested { record, qualification })
}

/// Reads a file as one kind of document.
pub(crate) fn kind(files: &dyn Files, input: &Input, meant: &str) -> Result<Loaded, Unread> {
    debug_assert!(document::KINDS.contains(&meant));
    let loaded = files::read(files, input)?;
    if loaded.document.kind() == meant {
        return Ok(loaded);
    }
    Err(not_a(&loaded, meant))
}

fn not_a(loaded: &Loaded, meant: &str) -> Unread {
    let fault = Fault {
        message: format!("this is a {}, and a {meant} is meant", loaded.document.kind()),
        hint: Some(format!("name a file with `document: {meant}`")),
        span: Some(loaded.tree.span_of("/document")),
        pointer: "/document".to_owned(),
    };
    refused(loaded, vec![fault])
}

pub(crate) fn refused(loaded: &Loaded, faults: Vec<Fault>) -> Unread {
    Unread { source: Some(loaded.source.clone()), faults, reading: None, received: None }
}
