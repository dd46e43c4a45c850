//! Where a PDF differs from the sheet that its source gives.

use std::collections::BTreeSet;

use super::entries::{entries, opening};
use super::letters::{first_difference, letters};
use super::pages::{Pages, contents};
use super::said::{described, description, info, listed, spoken, words_of};
use crate::received::arrival::{Difference, Unreadable};
use crate::received::drawn::{Widths, same};
use crate::received::object::Object;
use crate::received::objects::Objects;

/// Where a PDF differs to the eye from the sheet that was made again; nothing where all that is compared is alike: pages
/// with their contents, frames and what is laid over them, fonts and pictures, titles, the list of contents, and what happens
/// on opening.
pub fn difference(given: &[u8], made: &[u8]) -> Result<Option<Difference>, Unreadable> {
    let (given, made) = (Objects::of(given)?, Objects::of(made)?);
    let (own, other) = (Pages::of(&given)?, Pages::of(&made)?);
    if own.pages.len() != other.pages.len() {
        let what = format!("it has {} pages, where the source gives {}", own.pages.len(), other.pages.len());
        return Ok(Some(Difference { page: None, what }));
    }
    let letters = letters(&made)?;
    for (at, (page, again)) in own.pages.iter().zip(&other.pages).enumerate() {
        let number = at + 1;
        let differs = |what: String| Ok(Some(Difference { page: Some(number), what }));
        let (drawn, again_drawn) = (contents(&given, page)?, contents(&made, again)?);
        if drawn != again_drawn && !same(&drawn, &again_drawn, &Widths::of(&made, again)?) {
            return differs(first_difference(&drawn, &again_drawn, &letters));
        }
        if let Some(what) = entries(&given, page, &made, again)? {
            return differs(what);
        }
    }
    if let Some(what) = opening(&given, &own.catalog, &made, &other.catalog)? {
        return Ok(Some(Difference { page: None, what }));
    }
    if spoken(&given)? != spoken(&made)? {
        return Ok(Some(Difference { page: None, what: "a voice reads out other words (Alt)".to_owned() }));
    }
    if listed(&given)? != listed(&made)? {
        return Ok(Some(Difference { page: None, what: "its list of contents is another one (Outlines)".to_owned() }));
    }
    if any_key_twice(&given)? {
        let what = "an entry stands twice in one of its objects, and readers take the one or the other".to_owned();
        return Ok(Some(Difference { page: None, what }));
    }
    if let Some(what) = given.doubtful().or(other_root(&given)?) {
        return Ok(Some(Difference { page: None, what: format!("{what}, and not every reader shows the same") }));
    }
    let known = described(&made)?;
    if let Some(words) = described(&given)?.into_iter().find(|own| !known.contains(own)) {
        let what = format!("its attachment is described as `{words}`, which the source does not give (Desc)");
        return Ok(Some(Difference { page: None, what }));
    }
    let (told, again) = (description(&given, &own.catalog)?, description(&made, &other.catalog)?);
    for tag in ["dc:title", "dc:creator", "dc:description", "dc:subject", "pdf:Keywords"] {
        let words = words_of(&told, tag);
        if words.is_some() && words != words_of(&again, tag) {
            let what = format!("its description says something else (Metadata, {tag})");
            return Ok(Some(Difference { page: None, what }));
        }
    }
    for key in ["Title", "Author", "Subject", "Keywords"] {
        let (own, other) = (info(&given, key)?, info(&made, key)?);
        if own != other {
            let word = key.to_lowercase();
            let what = format!("its {word} is `{own}`, where the source gives `{other}`");
            return Ok(Some(Difference { page: None, what }));
        }
    }
    Ok(None)
}

/// Whether the tables of a file lead to several catalogs, or to none.
fn other_root(objects: &Objects<'_>) -> Result<Option<&'static str>, Unreadable> {
    let trailers = objects.trailers()?;
    let mut roots = trailers.iter().filter_map(|own| own.get("Root"));
    let first = roots.next();
    let one = matches!(first, Some(Object::Reference(_))) && roots.all(|own| Some(own) == first);
    Ok((!one).then_some("its tables lead to several catalogs"))
}

/// Whether any dictionary of a file has an entry twice.
fn any_key_twice(objects: &Objects<'_>) -> Result<bool, Unreadable> {
    fn twice(object: &Object<'_>) -> bool {
        match object {
            Object::Array(items) => items.iter().any(twice),
            Object::Dictionary(entries) => {
                let mut keys = BTreeSet::new();
                entries.iter().any(|(key, value)| !keys.insert(key) || twice(value))
            }
            _ => false,
        }
    }
    for number in objects.numbers() {
        if objects.last(number)?.is_some_and(|(object, _)| twice(&object)) {
            return Ok(true);
        }
    }
    Ok(false)
}
