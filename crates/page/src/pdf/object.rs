//! Objects of a file: how they are named, dated and packed.

use flate2::{Compress, Compression, FlushCompress, Status};
use lopdf::{Object, ObjectId};

use super::error::PdfError;

/// The object that an entry of a dictionary names.
pub(super) fn named(document: &lopdf::Document, dictionary: ObjectId, key: &[u8]) -> Option<ObjectId> {
    document.get_dictionary(dictionary).ok()?.get(key).and_then(Object::as_reference).ok()
}

/// A day as a PDF date, or nothing if the text does not begin with one (ISO 32000-1, 7.9.4).
pub(super) fn pdf_date(iso: &str) -> Option<String> {
    let day = iso.get(..10)?;
    let mut parts = day.split('-');
    let (year, month, date) = (parts.next()?, parts.next()?, parts.next()?);
    let number = |text: &str, length: usize| {
        (text.len() == length && text.bytes().all(|byte| byte.is_ascii_digit()))
            .then(|| text.parse::<u32>().ok())
            .flatten()
    };
    let fine = number(year, 4).is_some()
        && number(month, 2).is_some_and(|month| (1..=12).contains(&month))
        && number(date, 2).is_some_and(|date| (1..=31).contains(&date));
    fine.then(|| format!("D:{year}{month}{date}000000Z"))
}

/// Packs every stream that gains by it.
pub(super) fn pack(document: &mut lopdf::Document) -> Result<(), PdfError> {
    // A packer holds 300 kB, which are not asked for anew for each stream.
    let mut packer = Compress::new(Compression::new(LEVEL), true);
    for object in document.objects.values_mut() {
        let Object::Stream(stream) = object else { continue };
        if stream.dict.has(b"Filter") {
            continue;
        }
        let packed = packed(&mut packer, &stream.content)?;
        if packed.len() + 20 < stream.content.len() {
            stream.dict.set("Filter", Object::Name(b"FlateDecode".to_vec()));
            stream.set_content(packed);
        }
    }
    Ok(())
}

/// How hard to pack: takes half the time of the best level and gives 4 % more bytes.
pub(super) const LEVEL: u32 = 3;

fn packed(packer: &mut Compress, bytes: &[u8]) -> Result<Vec<u8>, PdfError> {
    packer.reset();
    let mut out = Vec::with_capacity(bytes.len() / 2 + 64);
    loop {
        let taken = usize::try_from(packer.total_in()).unwrap_or(usize::MAX);
        let rest = bytes.get(taken..).unwrap_or_default();
        let status = packer
            .compress_vec(rest, &mut out, FlushCompress::Finish)
            .map_err(|error| PdfError::Write { reason: error.to_string() })?;
        if status == Status::StreamEnd {
            return Ok(out);
        }
        out.reserve(bytes.len() / 2 + 64);
    }
}
