//! The source of a sheet, attached to its PDF and read back from it.
//!
//! What is read may come from anywhere: every stream has a limit, and a file that this program did not write, that was
//! changed, or that holds no source or more than one, is refused with an error of its own.

use lopdf::{
    Dictionary, Document, LoadOptions, Object, ObjectId, Stream, StringFormat, decode_text_string, dictionary,
    text_string,
};

use crate::block::Source;

use super::document::pdf_date;
use super::md5::md5;

/// What the file says of the program that wrote it.
pub(super) const PRODUCER: &str = "Seamwright";

/// Most bytes of a source.
pub const SOURCE_LIMIT: usize = 1024 * 1024;
/// Most bytes of a file that is read.
const FILE_LIMIT: usize = 64 * 1024 * 1024;
/// Most bytes of any other stream that must be unpacked to find the source.
const STREAM_LIMIT: usize = 4 * 1024 * 1024;
/// Before the digest in the description of an attachment.
const DIGEST: &str = "source digest ";

/// The source that a PDF carries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attached {
    /// Name of the file, without folders.
    pub file_name: String,
    /// The text, byte for byte.
    pub text: String,
    /// The digest that the sheet states for it.
    pub digest: String,
}

/// Why no source could be read from a PDF.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ReadError {
    /// The file is larger than any that this program writes.
    #[error("the file has {bytes} bytes, over the limit of {limit}")]
    FileTooLarge {
        /// Its size.
        bytes: usize,
        /// The limit.
        limit: usize,
    },
    /// It is no PDF, or a broken one.
    #[error("the file cannot be read as PDF: {reason}")]
    NotPdf {
        /// What the reader found.
        reason: String,
    },
    /// Another program wrote it.
    #[error("the file was written by {producer}, not by {PRODUCER}, so it carries no source")]
    OtherProgram {
        /// The program it names, or "an unnamed program".
        producer: String,
    },
    /// It has no attachment.
    #[error("the file carries no source")]
    NoSource,
    /// It has more than one attachment.
    #[error("the file carries {count} sources, where one is read")]
    SeveralSources {
        /// How many.
        count: usize,
    },
    /// The attachment is larger than a source may be, packed or unpacked.
    #[error("the attached source has more than {limit} bytes")]
    SourceTooLarge {
        /// The limit.
        limit: usize,
    },
    /// The attachment is not text.
    #[error("the attached source is not UTF-8 text")]
    NotText,
    /// The attachment does not agree with its checksum.
    #[error("the attached source was changed: its checksum does not agree")]
    Changed,
}

/// Embeds sources; gives their names in order and the objects that describe them.
pub(super) fn embed(document: &mut Document, sources: &[&Source]) -> Vec<(String, ObjectId)> {
    let mut files = Vec::with_capacity(sources.len());
    for (index, source) in sources.iter().enumerate() {
        let bytes = source.text.as_bytes();
        let mut parameters = dictionary! {
            "Size" => i64::try_from(bytes.len()).unwrap_or(i64::MAX),
            "CheckSum" => Object::String(md5(bytes).to_vec(), StringFormat::Hexadecimal),
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
        let description = dictionary! {
            "Type" => "Filespec",
            "F" => text_string(&source.file_name),
            "UF" => text_string(&source.file_name),
            "Desc" => text_string(&format!("{DIGEST}{}", source.digest)),
            "AFRelationship" => "Source",
            "EF" => dictionary! { "F" => Object::Reference(file), "UF" => Object::Reference(file) },
        };
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

fn load(pdf: &[u8]) -> Result<Document, ReadError> {
    if pdf.len() > FILE_LIMIT {
        return Err(ReadError::FileTooLarge { bytes: pdf.len(), limit: FILE_LIMIT });
    }
    if !pdf.starts_with(b"%PDF-") {
        return Err(ReadError::NotPdf { reason: "it does not begin with %PDF-".to_owned() });
    }
    let options = LoadOptions { max_decompressed_size: Some(STREAM_LIMIT), ..LoadOptions::default() };
    let document = Document::load_mem_with_options(pdf, options)
        .map_err(|error| ReadError::NotPdf { reason: error.to_string() })?;
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
    let catalog = document.catalog().map_err(|error| ReadError::NotPdf { reason: error.to_string() })?;
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
        other => ReadError::NotPdf { reason: other.to_string() },
    })?;
    let checksum = stream
        .dict
        .get(b"Params")
        .ok()
        .and_then(|parameters| dictionary_of(document, parameters))
        .and_then(|parameters| parameters.get(b"CheckSum").ok())
        .and_then(|checksum| checksum.as_str().ok());
    if checksum != Some(md5(&bytes).as_slice()) {
        return Err(ReadError::Changed);
    }
    let text = String::from_utf8(bytes).map_err(|_| ReadError::NotText)?;
    let entry = |key: &[u8]| file.get(key).ok().and_then(|value| text_of(document, value));
    let name = entry(b"UF").or_else(|| entry(b"F")).unwrap_or_default();
    // A name from a file never leads out of the folder it is written to.
    let name = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let name: String = name.chars().filter(|c| !c.is_control()).collect();
    let file_name = if matches!(name.as_str(), "" | "." | "..") { "source.yaml".to_owned() } else { name };
    let description = entry(b"Desc").unwrap_or_default();
    let digest = description.strip_prefix(DIGEST).unwrap_or_default().to_owned();
    Ok(Attached { file_name, text, digest })
}
