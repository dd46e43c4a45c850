//! Whether a finished sheet still shows what its attached source gives: the sheet is made again and the two are compared.
//!
//! Sheets are repeatable, so an untouched sheet is found again byte for byte. What another program may do to a file without
//! changing what a reader sees (packing it anew, other metadata) does not count as a difference.

use std::collections::BTreeMap;

use lopdf::content::Content;
use lopdf::{DecompressError, Document, Object, Stream};
use sha2::{Digest, Sha256};

use crate::attached::ReadError;
use crate::pdf::attach::{STREAM_LIMIT, load};

/// Where two sheets differ to the eye.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// How many pages (PDF) or texts (HTML) from the start on are alike.
    pub alike: usize,
    /// What differs, in words.
    pub what: String,
}

/// Where two PDF sheets differ to the eye; nothing where they do not.
///
/// Compares the pages' contents, what is laid over them, and the fonts and pictures that they use. Errors: [`ReadError`]
/// for a file that is no sheet of this program.
pub fn pdf(given: &[u8], made: &[u8]) -> Result<Option<Difference>, ReadError> {
    if given == made {
        return Ok(None);
    }
    let (given, made) = (load(given)?, load(made)?);
    let (given_streams, made_streams) = (streams(&given)?, streams(&made)?);
    let (given_pages, made_pages) = (given.get_pages(), made.get_pages());
    if given_pages.len() != made_pages.len() {
        let what = format!("it has {} pages, where the source gives {}", given_pages.len(), made_pages.len());
        return Ok(Some(Difference { alike: 0, what }));
    }
    for (alike, ((number, own), other)) in given_pages.iter().zip(made_pages.values()).enumerate() {
        let same = contents(&given, *own) == contents(&made, *other)
            && entry(&given, *own, b"MediaBox") == entry(&made, *other, b"MediaBox")
            && laid_over(&given, *own) == laid_over(&made, *other);
        if !same {
            return Ok(Some(Difference { alike, what: format!("page {number} differs") }));
        }
    }
    let differ = given_streams != made_streams;
    Ok(differ.then(|| Difference { alike: given_pages.len(), what: "a font or a picture differs".to_owned() }))
}

/// The operators of a page, without the white space between them.
fn contents(document: &Document, page: lopdf::ObjectId) -> Option<String> {
    let mut bytes = Vec::new();
    for id in document.get_page_contents(page) {
        let stream = document.get_object(id).ok()?.as_stream().ok()?;
        bytes.extend(stream.get_plain_content_with_limit(STREAM_LIMIT).ok()?);
        bytes.push(b'\n');
        // A page may name one stream any number of times.
        if bytes.len() > UNPACKED_LIMIT {
            return None;
        }
    }
    Content::decode(&bytes).ok().map(|content| format!("{:?}", content.operations))
}

fn entry(document: &Document, page: lopdf::ObjectId, key: &[u8]) -> Option<String> {
    let value = document.get_dictionary(page).ok()?.get(key).ok()?;
    let value = match value {
        Object::Reference(id) => document.get_object(*id).ok()?,
        direct => direct,
    };
    Some(format!("{value:?}"))
}

/// How many annotations lie over a page: notes, boxes and fields hide what stands below.
fn laid_over(document: &Document, page: lopdf::ObjectId) -> usize {
    document.get_page_annotations(page).map_or(0, |annotations| annotations.len())
}

/// Most bytes that all streams of a file unpack to, read one after the other.
const UNPACKED_LIMIT: usize = 64 * 1024 * 1024;

/// Fonts and pictures by the digests of their bytes, and how often each stands in the file.
///
/// Errors: [`ReadError::UnpacksTooLarge`] for a stream over [`STREAM_LIMIT`], or streams that are over [`UNPACKED_LIMIT`]
/// together, whatever they are for.
fn streams(document: &Document) -> Result<BTreeMap<[u8; 32], usize>, ReadError> {
    const UNSEEN: [&[u8]; 4] = [b"Metadata", b"XRef", b"ObjStm", b"EmbeddedFile"];
    // The pages' own contents are compared by their operators.
    let pages = document.get_pages();
    let contents: Vec<lopdf::ObjectId> = pages.values().flat_map(|page| document.get_page_contents(*page)).collect();
    let mut streams = BTreeMap::new();
    let mut unpacked = 0;
    for (id, object) in &document.objects {
        let Ok(stream) = object.as_stream() else { continue };
        let bytes = plain(stream)?;
        unpacked += bytes.len();
        if unpacked > UNPACKED_LIMIT {
            return Err(ReadError::UnpacksTooLarge { limit: UNPACKED_LIMIT });
        }
        let kind = stream.dict.get(b"Type").and_then(Object::as_name).unwrap_or_default();
        if !UNSEEN.contains(&kind) && !contents.contains(id) {
            *streams.entry(Sha256::digest(&bytes).into()).or_default() += 1;
        }
    }
    Ok(streams)
}

/// The bytes of a stream; those that stand in the file where they are packed in a way that no sheet is.
fn plain(stream: &Stream) -> Result<Vec<u8>, ReadError> {
    match stream.get_plain_content_with_limit(STREAM_LIMIT) {
        Ok(bytes) => Ok(bytes),
        Err(lopdf::Error::Decompress(DecompressError::MemoryLimitExceeded { .. })) => {
            Err(ReadError::UnpacksTooLarge { limit: STREAM_LIMIT })
        }
        Err(_) => Ok(stream.content.clone()),
    }
}

/// Where two pages differ to the eye; nothing where they do not.
pub fn html(given: &str, made: &str) -> Option<Difference> {
    if given == made {
        return None;
    }
    let (given, made) = (texts(given), texts(made));
    let same = given.iter().zip(&made).take_while(|(own, other)| own == other).count();
    let what = match (given.get(same), made.get(same)) {
        (Some(own), Some(other)) => {
            let alike = own.chars().zip(other.chars()).take_while(|(a, b)| a == b).count();
            format!("it shows `{}` where the source gives `{}`", part(own, alike), part(other, alike))
        }
        (Some(own), None) => format!("it shows `{}`, which the source does not give", part(own, 0)),
        (None, Some(other)) => format!("it lacks `{}`, which the source gives", part(other, 0)),
        // The words are the same, the look is not: a style may hide or move what is there.
        (None, None) => "its styles or drawings differ".to_owned(),
    };
    Some(Difference { alike: same, what })
}

/// A short part of a text around a place in it.
fn part(text: &str, at: usize) -> String {
    const BEFORE: usize = 20;
    const LENGTH: usize = 60;
    text.chars().skip(at.saturating_sub(BEFORE)).take(LENGTH).collect()
}

/// The texts of a page between its tags, without those of styles and scripts.
fn texts(page: &str) -> Vec<String> {
    let mut texts = Vec::new();
    let mut rest = page;
    while let Some((text, tagged)) = rest.split_once('<') {
        let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if !words.is_empty() {
            texts.push(words);
        }
        let silent = ["style", "script"]
            .into_iter()
            .find(|name| tagged.get(..name.len()).is_some_and(|start| start.eq_ignore_ascii_case(name)));
        let after = match silent {
            Some(name) => tagged.split_once(&format!("</{name}")).map_or("", |(_, after)| after),
            None => tagged,
        };
        rest = after.split_once('>').map_or("", |(_, after)| after);
    }
    texts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_changed_word_is_named() {
        let page = "<html><style>p{}</style><p>Current</p><p>150 A</p></html>";
        assert_eq!(html(page, page), None);
        let changed = page.replace("150 A", "190 A");
        let what = |given: &str| html(given, page).map(|difference| difference.what).unwrap_or_default();
        assert_eq!(what(&changed), "it shows `190 A` where the source gives `150 A`");
        assert!(what(&page.replace("p{}", "p{display:none}")).contains("styles"));
        assert!(what("<p>Current</p>").contains("lacks `150 A`"));
    }
}
