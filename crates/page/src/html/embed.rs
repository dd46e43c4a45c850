//! The source of a sheet in its page, and read back from it.
//!
//! The page offers the source as a download: a link whose address holds the bytes in base64, its name and digests in
//! the same tag. Nothing in that tag can end it, and a browser that saves the page keeps it as it is.

use std::fmt::Write as _;

use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::attached::{Attached, ReadError, SOURCE_LIMIT, plain_file_name};
use crate::block::Source;
use crate::made_with::MadeWith;
use crate::paper::Paper;

use super::base64;
use super::bound::PAGE_LIMIT;
use super::error::HtmlError;

/// How the link starts. A less-than sign and quotation marks are always escaped elsewhere, so no value holds this.
const LINK: &str = "<a id=\"source-file\" ";
/// Before the bytes in the address of the link.
const DATA: &str = "data:application/yaml;base64,";
/// How the line starts that names the program.
const GENERATOR: &str = "<meta name=\"generator\" content=\"";
/// What the name of the program starts with.
const PROGRAM: &str = "Seamwright ";

/// The source as the templates see it.
#[derive(Debug, Serialize)]
pub(super) struct Link<'a> {
    pub file_name: &'a str,
    pub text: &'a str,
    pub digest: &'a str,
    pub sha256: String,
    pub href: String,
    pub date: Option<&'a str>,
    pub made_with: Option<String>,
}

impl<'a> Link<'a> {
    /// Errors: [`HtmlError::SourceTooLarge`], since what could not be read back is not embedded.
    pub(super) fn new(source: &'a Source, paper: Paper) -> Result<Self, HtmlError> {
        if source.text.len() > SOURCE_LIMIT {
            return Err(HtmlError::SourceTooLarge { bytes: source.text.len() });
        }
        Ok(Self {
            file_name: &source.file_name,
            text: &source.text,
            digest: &source.digest,
            sha256: sha256(source.text.as_bytes()),
            href: format!("{DATA}{}", base64::encode(source.text.as_bytes())),
            date: source.date.as_deref(),
            made_with: source.made_with.as_ref().map(|made_with| made_with.text(paper)),
        })
    }
}

/// SHA-256 (FIPS 180-4) in hexadecimal.
fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::with_capacity(64), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// Reads the source back from a page that this program made.
///
/// Errors: [`ReadError`] for a page that is too large, that another program made, that carries no source or several,
/// or whose source is too large, not text, or changed.
pub fn source_of(html: &str) -> Result<Attached, ReadError> {
    if html.len() > PAGE_LIMIT {
        return Err(ReadError::FileTooLarge { bytes: html.len(), limit: PAGE_LIMIT });
    }
    let start: String = html.chars().take(1024).collect::<String>().to_ascii_lowercase();
    if !start.contains("<!doctype html") && !start.contains("<html") {
        let reason = "it has neither a document type nor an html element".to_owned();
        return Err(ReadError::NotReadable { format: "HTML", reason });
    }
    let generator = html.split_once(GENERATOR).and_then(|(_, rest)| rest.split_once('"')).map(|(name, _)| name);
    if !generator.is_some_and(|name| name.starts_with(PROGRAM)) {
        let named: String = unescape(generator.unwrap_or_default()).chars().take(60).collect();
        let producer = if named.trim().is_empty() { "an unnamed program".to_owned() } else { named };
        return Err(ReadError::OtherProgram { producer });
    }
    let mut links = html.split(LINK).skip(1);
    let link = links.next().ok_or(ReadError::NoSource)?;
    let others = links.count();
    if others > 0 {
        return Err(ReadError::SeveralSources { count: others + 1 });
    }
    let packed = attribute(link, "href").and_then(|address| address.strip_prefix(DATA)).ok_or(ReadError::NoSource)?;
    if packed.len() > SOURCE_LIMIT.div_ceil(3) * 4 {
        return Err(ReadError::SourceTooLarge { limit: SOURCE_LIMIT });
    }
    let bytes = base64::decode(packed).ok_or(ReadError::Changed)?;
    if bytes.len() > SOURCE_LIMIT {
        return Err(ReadError::SourceTooLarge { limit: SOURCE_LIMIT });
    }
    if attribute(link, "data-sha256") != Some(sha256(&bytes).as_str()) {
        return Err(ReadError::Changed);
    }
    let text = String::from_utf8(bytes).map_err(|_| ReadError::NotText)?;
    let value = |name| attribute(link, name).map(unescape).unwrap_or_default();
    let made_with = MadeWith::read(&value("data-made-with"));
    Ok(Attached { file_name: plain_file_name(&value("download")), text, digest: value("data-digest"), made_with })
}

/// The program that a page names, in at most 60 characters.
pub(crate) fn generator(html: &str) -> Option<String> {
    let (name, _) = html.split_once(GENERATOR)?.1.split_once('"')?;
    Some(
        unescape(name.get(..name.len().min(400)).unwrap_or_default())
            .chars()
            .filter(|c| !c.is_control())
            .take(60)
            .collect(),
    )
}

/// File name, text and what the sheet was made with, as a link gives them.
type Linked = (String, String, Option<MadeWith>);

/// Every download of a page that a reader could take for its source, with where it stands; nothing for one that is broken,
/// too large or no text.
pub(crate) fn links(html: &str) -> Vec<(&'static str, Option<Linked>)> {
    const MOST: usize = 16;
    let mut found = Vec::new();
    let mut before = 0;
    for part in html.split(LINK).skip(1).take(MOST) {
        before += 1;
        let packed = attribute(part, "href").and_then(|address| address.strip_prefix(DATA));
        let text = packed.and_then(text_of);
        let value = |name| attribute(part, name).map(unescape).unwrap_or_default();
        let whole =
            text.map(|text| (plain_file_name(&value("download")), text, MadeWith::read(&value("data-made-with"))));
        found.push(("the link to the source", whole));
    }
    // Any other address that holds a text of this kind.
    for part in html.split(DATA).skip(1 + before).take(MOST) {
        let packed = part.split(['"', '\'', ' ', '>']).next().unwrap_or_default();
        let whole = text_of(packed).map(|text| (plain_file_name(""), text, None));
        found.push(("another link", whole));
    }
    found
}

/// The text that an address holds.
fn text_of(packed: &str) -> Option<String> {
    if packed.len() > SOURCE_LIMIT.div_ceil(3) * 4 {
        return None;
    }
    String::from_utf8(base64::decode(packed)?).ok()
}

/// The value of an attribute in the rest of a tag, as it is written; the tag ends at a `>` outside quotation marks.
fn attribute<'a>(mut rest: &'a str, name: &str) -> Option<&'a str> {
    loop {
        rest = rest.trim_start();
        let (found, after) = rest.split_once("=\"")?;
        if found.contains(['>', '<', '"']) {
            return None;
        }
        let (value, after) = after.split_once('"')?;
        if found == name {
            return Some(value);
        }
        rest = after;
    }
}

/// Text without the escapes that this program writes.
fn unescape(text: &str) -> String {
    // The ampersand comes last, or "&amp;lt;" would become "<".
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&nbsp;", "\u{a0}")
        .replace("&amp;", "&")
}
