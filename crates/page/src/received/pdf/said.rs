//! The words of a PDF beside its pages: read out, in the list of contents, and in what it says of itself.

use std::collections::BTreeSet;

use super::CONTENTS;
use crate::received::arrival::Unreadable;
use crate::received::object::Object;
use crate::received::objects::Objects;

/// A text string (7.9.2): UTF-16 after its mark, UTF-8 after its mark, else Latin letters.
pub(super) fn text(bytes: &[u8]) -> String {
    match bytes {
        [0xFE, 0xFF, rest @ ..] => {
            let units: Vec<u16> = rest.chunks_exact(2).map(|two| u16::from_be_bytes([two[0], two[1]])).collect();
            String::from_utf16_lossy(&units)
        }
        [0xEF, 0xBB, 0xBF, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        other => other.iter().map(|byte| char::from(*byte)).collect(),
    }
}

/// The words that are read out in place of what is seen (14.9.3 to 14.9.5), sorted.
pub(super) fn spoken(objects: &Objects<'_>) -> Result<Vec<Vec<u8>>, Unreadable> {
    let mut words = Vec::new();
    for number in objects.numbers() {
        let Some((part, _)) = objects.last(number)? else { continue };
        for key in ["Alt", "ActualText", "E"] {
            let Some(value) = part.get(key) else { continue };
            if let Object::Text(own) = objects.resolved(value)? {
                words.push(text(&own).into_bytes());
            }
        }
    }
    words.sort_unstable();
    Ok(words)
}

/// The lines of the list of contents beside the pages, sorted, each with whether it does more than to lead to a page.
pub(super) fn listed(objects: &Objects<'_>) -> Result<Vec<(String, bool)>, Unreadable> {
    let mut lines = Vec::new();
    for number in objects.numbers() {
        let Some((line, _)) = objects.last(number)? else { continue };
        let (Some(title), Some(_)) = (line.get("Title"), line.get("Parent")) else { continue };
        if let Object::Text(own) = objects.resolved(title)? {
            lines.push((text(&own), line.get("A").is_some() || line.get("AA").is_some()));
        }
    }
    lines.sort_unstable();
    Ok(lines)
}

/// The description that a file carries beside its contents (14.3.2); some readers show its words.
pub(super) fn description(objects: &Objects<'_>, catalog: &Object<'_>) -> Result<String, Unreadable> {
    let Some(Object::Reference(number)) = catalog.get("Metadata") else { return Ok(String::new()) };
    let Some((dictionary, Some(end))) = objects.last(*number)? else { return Ok(String::new()) };
    let bytes = objects.stream(&dictionary, end, CONTENTS)?.unwrap_or_default();
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// The words of an element of a description; only they count, for programs lay them out in their own way.
pub(super) fn words_of(description: &str, tag: &str) -> Option<String> {
    let (_, rest) = description.split_once(&format!("<{tag}>"))?;
    let (part, _) = rest.split_once(&format!("</{tag}>"))?;
    Some(format!(">{part}").split('<').filter_map(|own| own.split_once('>')).map(|(_, own)| own.trim()).collect())
}

/// An entry of the file's description of itself.
pub(super) fn info(objects: &Objects<'_>, key: &str) -> Result<String, Unreadable> {
    let mut found = String::new();
    for trailer in objects.trailers()? {
        if let Some(info) = trailer.get("Info")
            && let Some(value) = objects.resolved(info)?.get(key)
            && let Object::Text(own) = objects.resolved(value)?
        {
            found = text(&own).chars().filter(|c| !c.is_control()).take(120).collect();
        }
    }
    Ok(found)
}

/// What the descriptions of attached files say of them.
pub(super) fn described(objects: &Objects<'_>) -> Result<BTreeSet<String>, Unreadable> {
    let mut found = BTreeSet::new();
    for number in objects.numbers() {
        let Some((object, _)) = objects.last(number)? else { continue };
        if object.get("EF").is_none() {
            continue;
        }
        if let Some(value) = object.get("Desc")
            && let Object::Text(own) = objects.resolved(value)?
        {
            found.insert(text(&own).chars().filter(|c| !c.is_control()).take(120).collect());
        }
    }
    Ok(found)
}
