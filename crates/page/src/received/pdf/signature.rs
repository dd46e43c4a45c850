//! Signatures on pages and in the form of a file: those that are not seen change nothing.

use crate::received::arrival::Unreadable;
use crate::received::object::Object;
use crate::received::objects::Objects;

/// Whether a field is a signature that does nothing else (12.7.4.5).
pub(super) fn is_signature(field: &Object<'_>) -> bool {
    let quiet = ["A", "AA", "Kids", "Parent"].iter().all(|key| field.get(key).is_none());
    quiet && field.is("FT", "Sig")
}

/// Whether a field is a signature that is not seen: its place on the page has no size.
pub(super) fn unseen_signature(objects: &Objects<'_>, field: &Object<'_>) -> Result<bool, Unreadable> {
    let rect = field.get("Rect").map(|rect| objects.resolved(rect)).transpose()?;
    let nowhere = match rect {
        None => true,
        Some(Object::Array(corners)) => match corners.as_slice() {
            [left, bottom, right, top] => left == right && bottom == top,
            _ => false,
        },
        Some(_) => false,
    };
    Ok(nowhere && is_signature(field))
}

/// Whether a thing that lies over a page is of a kind.
pub(super) type Over = fn(&Objects<'_>, &Object<'_>) -> Result<bool, Unreadable>;

/// A page without what lies over it and is of a kind; nothing where it has none.
pub(super) fn without<'o>(
    objects: &'o Objects<'_>,
    page: &'o Object<'o>,
    over: Over,
) -> Result<Option<Object<'o>>, Unreadable> {
    let Object::Dictionary(entries) = page else { return Ok(None) };
    let Some(Object::Array(all)) = page.get("Annots").map(|own| objects.resolved(own)).transpose()? else {
        return Ok(None);
    };
    let mut kept = Vec::new();
    for own in &all {
        if !over(objects, &objects.resolved(own)?)? {
            kept.push(own.clone());
        }
    }
    if kept.len() == all.len() {
        return Ok(None);
    }
    let mut entries = entries.clone();
    entries.retain(|(key, _)| key.as_ref() != b"Annots");
    if !kept.is_empty() {
        entries.push((b"Annots".as_slice().into(), Object::Array(kept)));
    }
    Ok(Some(Object::Dictionary(entries)))
}

/// Whether a form is no more than the list of signatures that are not seen.
pub(super) fn signatures_alone(objects: &Objects<'_>, catalog: &Object<'_>) -> Result<bool, Unreadable> {
    let Some(form) = catalog.get("AcroForm") else { return Ok(false) };
    let form = objects.resolved(form)?;
    let Object::Dictionary(entries) = &form else { return Ok(false) };
    let known = [b"Fields".as_slice(), b"SigFlags", b"DR", b"DA"];
    let Some(Object::Array(fields)) = form.get("Fields").map(|own| objects.resolved(own)).transpose()? else {
        return Ok(false);
    };
    for field in &fields {
        if !unseen_signature(objects, &objects.resolved(field)?)? {
            return Ok(false);
        }
    }
    Ok(entries.iter().all(|(key, _)| known.contains(&key.as_ref())))
}
