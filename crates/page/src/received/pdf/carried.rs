//! The sources in a PDF, as other readers would find them.

use std::collections::BTreeSet;

use super::said::text;
use crate::attached::{SOURCE_LIMIT, plain_file_name};
use crate::made_with::MadeWith;
use crate::pdf::attach::MADE_WITH;
use crate::received::arrival::{Arrival, Candidate, Unreadable};
use crate::received::bytes::find;
use crate::received::object::Object;
use crate::received::objects::Objects;

/// Sources that are listed at the most.
const CANDIDATES: usize = 16;

/// Reads what a PDF carries.
pub fn read(bytes: &[u8]) -> Result<Arrival, Unreadable> {
    if !bytes.starts_with(b"%PDF-") {
        return Err(Unreadable::Not { reason: "it does not begin with %PDF-" });
    }
    let objects = Objects::of(bytes)?;
    let trailers = objects.trailers()?;
    let mut arrival = Arrival::default();
    for trailer in &trailers {
        arrival.locked |= trailer.get("Encrypt").is_some();
        if let Some(info) = trailer.get("Info")
            && let Some(Object::Text(producer)) = objects.resolved(info)?.get("Producer")
        {
            arrival.producer = Some(text(producer).chars().filter(|c| !c.is_control()).take(60).collect());
        }
    }
    // One end is that of the file; each other one that of a version before something was added.
    let (mut ends, mut at) = (0, 0);
    while let Some(found) = find(bytes, at, b"%%EOF") {
        (ends, at) = (ends + 1, found + 5);
    }
    arrival.added_to = ends > 1 || objects.any_twice();
    if arrival.locked {
        return Ok(arrival);
    }
    let mut named: BTreeSet<u32> = BTreeSet::new();
    let mut lone: Vec<u32> = Vec::new();
    for number in objects.numbers() {
        for (object, end) in objects.versions(number)? {
            if object.is("Type", "Sig") || object.get("ByteRange").is_some() {
                arrival.signed = true;
            }
            if end.is_some() && object.is("Type", "EmbeddedFile") {
                lone.push(number);
            }
            attachments(&objects, &object, &mut arrival, &mut named)?;
        }
    }
    for number in lone {
        if !named.contains(&number) {
            take(&objects, number, "a stream that no attachment names", None, None, &mut arrival)?;
        }
    }
    Ok(arrival)
}

/// The attachments that an object describes, at any depth of it.
fn attachments(
    objects: &Objects<'_>,
    object: &Object<'_>,
    arrival: &mut Arrival,
    named: &mut BTreeSet<u32>,
) -> Result<(), Unreadable> {
    match object {
        Object::Array(items) => items.iter().try_for_each(|item| attachments(objects, item, arrival, named)),
        Object::Dictionary(entries) => {
            if let Some(files) = object.get("EF") {
                let word = |key: &str| -> Result<Option<String>, Unreadable> {
                    let value = object.get(key).map(|value| objects.resolved(value)).transpose()?;
                    Ok(value.and_then(|value| if let Object::Text(own) = value { Some(text(&own)) } else { None }))
                };
                let name = match word("UF")? {
                    Some(name) => Some(name),
                    None => word("F")?,
                };
                let made_with = word(MADE_WITH)?.as_deref().and_then(MadeWith::read);
                if let Object::Dictionary(streams) = objects.resolved(files)? {
                    for (key, stream) in streams {
                        if let Object::Reference(number) = stream {
                            named.insert(number);
                            let place = format!("EF/{}", String::from_utf8_lossy(&key));
                            take(objects, number, &place, name.as_deref(), made_with.as_ref(), arrival)?;
                        }
                    }
                }
            }
            entries.iter().try_for_each(|(_, value)| attachments(objects, value, arrival, named))
        }
        _ => Ok(()),
    }
}

/// Adds every version of a stream to the sources.
fn take(
    objects: &Objects<'_>,
    number: u32,
    place: &str,
    name: Option<&str>,
    made_with: Option<&MadeWith>,
    arrival: &mut Arrival,
) -> Result<(), Unreadable> {
    for (dictionary, end) in objects.versions(number)? {
        let Some(end) = end else { continue };
        let bytes = match objects.stream(&dictionary, end, SOURCE_LIMIT) {
            Ok(Some(bytes)) => bytes,
            Ok(None) => {
                arrival.unread += 1;
                continue;
            }
            Err(Unreadable::TooMuch) => return Err(Unreadable::SourceTooLarge),
            Err(other) => return Err(other),
        };
        let Ok(text) = String::from_utf8(bytes) else {
            arrival.unread += 1;
            continue;
        };
        let name = plain_file_name(name.unwrap_or_default());
        if let Some(own) = arrival.candidates.iter_mut().find(|own| own.text == text && own.file_name == name) {
            if !own.places.iter().any(|own| own == place) {
                own.places.push(place.to_owned());
            }
            own.made_with = own.made_with.take().or_else(|| made_with.cloned());
        } else if arrival.candidates.len() < CANDIDATES {
            let (places, made_with) = (vec![place.to_owned()], made_with.cloned());
            arrival.candidates.push(Candidate { file_name: name, text, places, made_with });
        } else {
            arrival.unread += 1;
        }
    }
    Ok(())
}
