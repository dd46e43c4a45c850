//! The source of a sheet, attached to its PDF and read back from it.
//!
//! What is read may come from anywhere: every stream has a limit, and a file that this program did not write, that was
//! changed, or that holds no source or more than one, is refused with an error of its own.

use lopdf::xref::XrefEntry;
use lopdf::{
    Dictionary, Document, LoadOptions, Object, ObjectId, Stream, StringFormat, decode_text_string, dictionary,
    text_string,
};
use md5::{Digest, Md5};

use crate::attached::{Attached, PRODUCER, ReadError, SOURCE_LIMIT, plain_file_name};
use crate::block::Source;
use crate::made_with::MadeWith;
use crate::paper::Paper;

use super::object::pdf_date;

/// Most bytes of a file that is read.
const FILE_LIMIT: usize = 64 * 1024 * 1024;
/// Most bytes of any other stream that must be unpacked to find the source.
pub(crate) const STREAM_LIMIT: usize = 4 * 1024 * 1024;
/// Key of an attachment's description under which stands what the sheet was made with.
pub(crate) const MADE_WITH: &str = "SeamwrightMadeWith";
/// Before the digest in the description of an attachment.
const DIGEST: &str = "source digest ";

/// Embeds sources; gives their names in order and the objects that describe them.
pub(super) fn embed(document: &mut Document, sources: &[&Source], paper: Paper) -> Vec<(String, ObjectId)> {
    let mut files = Vec::with_capacity(sources.len());
    for (index, source) in sources.iter().enumerate() {
        let bytes = source.text.as_bytes();
        let mut parameters = dictionary! {
            "Size" => i64::try_from(bytes.len()).unwrap_or(i64::MAX),
            "CheckSum" => Object::String(Md5::digest(bytes).to_vec(), StringFormat::Hexadecimal),
        };
        if let Some(date) = source.date.as_deref().and_then(pdf_date) {
            parameters.set("ModDate", Object::string_literal(date));
        }
        let file = Stream::new(
            dictionary! {
                "Type" => "EmbeddedFile",
                "Subtype" => Object::Name(b"text/yaml".to_vec()),
                "Params" => parameters,
            },
            bytes.to_vec(),
        );
        let file = document.add_object(file);
        let mut description = dictionary! {
            "Type" => "Filespec",
            "F" => text_string(&source.file_name),
            "UF" => text_string(&source.file_name),
            "Desc" => text_string(&format!("{DIGEST}{}", source.digest)),
            "AFRelationship" => "Source",
            "EF" => dictionary! { "F" => Object::Reference(file), "UF" => Object::Reference(file) },
        };
        if let Some(made_with) = &source.made_with {
            description.set(MADE_WITH, text_string(&made_with.text(paper)));
        }
        // Keys of a name tree are sorted; readers show the file name from the description.
        files.push((format!("{:04}", index + 1), document.add_object(description)));
    }
    files
}

/// Reads the source that a sheet's PDF carries.
///
/// Errors: [`ReadError`] for a file that is no sheet of this program, carries no source or several (a binder; see
/// [`sources_of`]), or holds a source over 1 MiB.
pub fn source_of(pdf: &[u8]) -> Result<Attached, ReadError> {
    let document = load(pdf)?;
    let files = attachments(&document)?;
    match files.as_slice() {
        [] => Err(ReadError::NoSource),
        [one] => read(&document, one),
        several => Err(ReadError::SeveralSources { count: several.len() }),
    }
}

/// Reads every source that a PDF carries, in order: one for a sheet, one for each document of a binder.
///
/// Errors: as [`source_of`], but for the number of sources.
pub fn sources_of(pdf: &[u8]) -> Result<Vec<Attached>, ReadError> {
    let document = load(pdf)?;
    let files = attachments(&document)?;
    if files.is_empty() {
        return Err(ReadError::NoSource);
    }
    files.iter().map(|file| read(&document, file)).collect()
}

fn not_pdf(reason: &(impl ToString + ?Sized)) -> ReadError {
    ReadError::NotReadable { format: "PDF", reason: reason.to_string() }
}

pub(crate) fn load(pdf: &[u8]) -> Result<Document, ReadError> {
    if pdf.len() > FILE_LIMIT {
        return Err(ReadError::FileTooLarge { bytes: pdf.len(), limit: FILE_LIMIT });
    }
    if !pdf.starts_with(b"%PDF-") {
        return Err(not_pdf("it does not begin with %PDF-"));
    }
    let options = LoadOptions { max_decompressed_size: Some(STREAM_LIMIT), ..LoadOptions::default() };
    let document = Document::load_mem_with_options(pdf, options).map_err(|error| not_pdf(&error))?;
    if let Some(id) = unread(&document) {
        return Err(not_pdf(&format!("object {id} is broken, or unpacks to more than {STREAM_LIMIT} bytes")));
    }
    let producer = document
        .trailer
        .get(b"Info")
        .ok()
        .and_then(|info| dictionary_of(&document, info))
        .and_then(|info| info.get(b"Producer").ok())
        .and_then(|producer| text_of(&document, producer));
    match producer {
        Some(producer) if producer == PRODUCER => Ok(document),
        producer => Err(ReadError::OtherProgram {
            producer: producer.map_or_else(
                || "an unnamed program".to_owned(),
                |name| name.chars().filter(|c| !c.is_control()).take(60).collect(),
            ),
        }),
    }
}

/// The first object that the file lists and that the reader left out in silence.
fn unread(document: &Document) -> Option<u32> {
    if document.encryption_state.is_some() {
        return None;
    }
    let mut listed = document.reference_table.entries.iter().filter_map(|(id, entry)| match entry {
        XrefEntry::Normal { generation, .. } => Some((*id, *generation)),
        XrefEntry::Compressed { .. } => Some((*id, 0)),
        XrefEntry::Free | XrefEntry::UnusableFree => None,
    });
    listed.find(|id| !document.objects.contains_key(id)).map(|(id, _)| id)
}

/// Follows a reference, once: this program writes no reference to a reference.
fn resolved<'a>(document: &'a Document, object: &'a Object) -> Option<&'a Object> {
    match object {
        Object::Reference(id) => document.get_object(*id).ok(),
        direct => Some(direct),
    }
}

fn dictionary_of<'a>(document: &'a Document, object: &'a Object) -> Option<&'a Dictionary> {
    resolved(document, object).and_then(|object| object.as_dict().ok())
}

fn text_of(document: &Document, object: &Object) -> Option<String> {
    resolved(document, object).and_then(|object| decode_text_string(object).ok())
}

/// The descriptions of the attached files.
fn attachments(document: &Document) -> Result<Vec<&Dictionary>, ReadError> {
    let catalog = document.catalog().map_err(|error| not_pdf(&error))?;
    let entries = catalog
        .get(b"Names")
        .ok()
        .and_then(|names| dictionary_of(document, names))
        .and_then(|names| names.get(b"EmbeddedFiles").ok())
        .and_then(|files| dictionary_of(document, files))
        .and_then(|files| files.get(b"Names").ok())
        .and_then(|names| resolved(document, names))
        .and_then(|names| names.as_array().ok());
    let Some(entries) = entries else { return Ok(Vec::new()) };
    Ok(entries.iter().skip(1).step_by(2).filter_map(|entry| dictionary_of(document, entry)).collect())
}

fn read(document: &Document, file: &Dictionary) -> Result<Attached, ReadError> {
    let too_large = ReadError::SourceTooLarge { limit: SOURCE_LIMIT };
    let stream = file
        .get(b"EF")
        .ok()
        .and_then(|files| dictionary_of(document, files))
        .and_then(|files| files.get(b"F").ok())
        .and_then(|stream| resolved(document, stream))
        .and_then(|stream| stream.as_stream().ok())
        .ok_or(ReadError::NoSource)?;
    if stream.content.len() > SOURCE_LIMIT {
        return Err(too_large);
    }
    let bytes = stream.get_plain_content_with_limit(SOURCE_LIMIT).map_err(|error| match error {
        lopdf::Error::Decompress(lopdf::DecompressError::MemoryLimitExceeded { .. }) => too_large,
        other => not_pdf(&other),
    })?;
    let checksum = stream
        .dict
        .get(b"Params")
        .ok()
        .and_then(|parameters| dictionary_of(document, parameters))
        .and_then(|parameters| parameters.get(b"CheckSum").ok())
        .and_then(|checksum| checksum.as_str().ok());
    if checksum != Some(Md5::digest(&bytes).as_slice()) {
        return Err(ReadError::Changed);
    }
    let text = String::from_utf8(bytes).map_err(|_| ReadError::NotText)?;
    let entry = |key: &[u8]| file.get(key).ok().and_then(|value| text_of(document, value));
    let name = entry(b"UF").or_else(|| entry(b"F")).unwrap_or_default();
    let file_name = plain_file_name(&name);
    let description = entry(b"Desc").unwrap_or_default();
    let digest = description.strip_prefix(DIGEST).unwrap_or_default().to_owned();
    let made_with = entry(MADE_WITH.as_bytes()).as_deref().and_then(MadeWith::read);
    Ok(Attached { file_name, text, digest, made_with })
}
