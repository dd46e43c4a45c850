//! The entries of a page and of the catalog: what is seen of a sheet beside what its pages draw, and what it does when it is
//! opened.

use super::printed::print;
use super::signature::{is_signature, signatures_alone, unseen_signature, without};
use crate::received::arrival::Unreadable;
use crate::received::object::Object;
use crate::received::objects::Objects;

/// What a key of a page does to what is seen of it.
const OF_PAGES: &[(&str, &str)] = &[
    ("MediaBox", "its frame is another one (MediaBox)"),
    ("CropBox", "only a part of it is shown (CropBox)"),
    ("BleedBox", "its edges are other ones (BleedBox)"),
    ("TrimBox", "its edges are other ones (TrimBox)"),
    ("ArtBox", "its edges are other ones (ArtBox)"),
    ("Rotate", "it is turned (Rotate)"),
    ("UserUnit", "it is drawn to another scale (UserUnit)"),
    ("Annots", "something lies over it (Annots)"),
    ("AA", "it starts an action (AA)"),
    ("Group", "it is blended otherwise (Group)"),
];

/// Keys of a page that say nothing where they say what holds without them (ISO 32000-1, Table 30).
const WITH_DEFAULTS: &[&str] = &["CropBox", "BleedBox", "TrimBox", "ArtBox", "Rotate", "UserUnit", "Annots"];

/// An entry of a page written out; nothing where it says what holds without it.
fn stated(objects: &Objects<'_>, page: &Object<'_>, key: &str) -> Result<String, Unreadable> {
    let own = print(objects, page, key)?;
    let usual = match key {
        "CropBox" | "BleedBox" | "TrimBox" | "ArtBox" => own == print(objects, page, "MediaBox")?,
        "Rotate" => own == "0.000 ",
        "UserUnit" => own == "1.000 ",
        "Annots" => own == "[]",
        _ => false,
    };
    Ok(if usual { String::new() } else { own })
}

/// What is said of a signature with a place on the page: its mark can show anything.
const SIGNED_OVER: &str = "the mark of a signature lies over it, and may hide or show what it likes (Annots)";

/// Where the entries of two pages differ.
pub(super) fn entries(
    given: &Objects<'_>,
    page: &Object<'_>,
    made: &Objects<'_>,
    again: &Object<'_>,
) -> Result<Option<String>, Unreadable> {
    const QUIET: &[&str] = &["LastModified", "StructParents", "Tabs", "Type"];
    let signed = without(given, page, unseen_signature)?;
    let page = signed.as_ref().unwrap_or(page);
    for (key, what) in OF_PAGES {
        let made = stated(made, again, key)?;
        if stated(given, page, key)? != made {
            let bare = without(given, page, |_, field| Ok(is_signature(field)))?;
            let mark = *key == "Annots" && stated(given, bare.as_ref().unwrap_or(page), key)? == made;
            return Ok(Some(if mark { SIGNED_OVER } else { *what }.to_owned()));
        }
    }
    if resources(given, page)? != resources(made, again)? {
        return Ok(Some("its fonts or pictures are other ones (Resources)".to_owned()));
    }
    let mut quiet = QUIET.to_vec();
    for key in WITH_DEFAULTS {
        // A value that says what holds without it was compared above.
        if page.get(key).is_some() && !print(given, page, key)?.is_empty() && stated(given, page, key)?.is_empty() {
            quiet.push(*key);
        }
    }
    Ok(more(page, again, &quiet).map(|key| format!("it has an entry that no sheet has ({key})")))
}

/// Fonts and pictures of a page, without lists that are empty and the one that PDF 2.0 calls deprecated (14.2).
fn resources(objects: &Objects<'_>, page: &Object<'_>) -> Result<String, Unreadable> {
    let resolved = page.get("Resources").map(|own| objects.resolved(own)).transpose()?;
    let Some(Object::Dictionary(entries)) = resolved else { return print(objects, page, "Resources") };
    let mut kept = Vec::new();
    for (key, own) in entries {
        let empty = matches!(objects.resolved(&own)?, Object::Dictionary(all) if all.is_empty());
        if !empty && key.as_ref() != b"ProcSet" {
            kept.push((key, own));
        }
    }
    let alone = vec![(b"Resources".as_slice().into(), Object::Dictionary(kept))];
    print(objects, &Object::Dictionary(alone), "Resources")
}

/// A key that is neither in the object that was made again nor among those that nothing seen hangs on.
fn more(given: &Object<'_>, made: &Object<'_>, quiet: &[&str]) -> Option<String> {
    let Object::Dictionary(entries) = given else { return None };
    let keys = entries.iter().map(|(key, _)| String::from_utf8_lossy(key));
    let new = |key: &std::borrow::Cow<'_, str>| made.get(key).is_none() && !quiet.contains(&&**key);
    keys.filter(new).map(|key| key.chars().take(40).collect()).next()
}

/// Whether the labels of pages are the numbers that they have without.
fn numbered_from_one(objects: &Objects<'_>, catalog: &Object<'_>) -> Result<bool, Unreadable> {
    let labels = print(objects, catalog, "PageLabels")?;
    let style = Object::Name(b"D".as_slice().into());
    Ok(["", "/St 1.000 "].iter().any(|from| labels == format!("<</Nums [0.000 <</S {style:?} {from}>>]>>")))
}

/// What a key of the catalog does when the file is opened.
const OF_FILES: &[(&str, &str)] = &[
    ("OpenAction", "it starts an action when it is opened (OpenAction)"),
    ("AA", "it starts an action (AA)"),
    ("AcroForm", "it has fields to fill in (AcroForm)"),
    ("OCProperties", "it has layers that can be hidden (OCProperties)"),
    ("Collection", "it opens as a list of attachments (Collection)"),
    ("PageLabels", "its pages are numbered otherwise (PageLabels)"),
    ("Lang", "it is read out in another language (Lang)"),
    ("URI", "its links lead elsewhere (URI)"),
    ("ViewerPreferences", "it is shown or printed otherwise (ViewerPreferences)"),
    ("PageMode", "it opens without the window around it (PageMode)"),
    ("PageLayout", "it opens otherwise (PageLayout)"),
    ("OutputIntents", "its colours are other ones (OutputIntents)"),
];

/// Keys of the catalog that nothing seen hangs on, or that are looked at by themselves; those of signers among them.
const OF_FILES_QUIET: &[&str] =
    &["AcroForm", "DSS", "Dests", "Extensions", "Names", "Outlines", "Pages", "Perms", "Type", "Version"];

pub(super) fn opening(
    given: &Objects<'_>,
    catalog: &Object<'_>,
    made: &Objects<'_>,
    again: &Object<'_>,
) -> Result<Option<String>, Unreadable> {
    for (key, what) in OF_FILES {
        let plain = match *key {
            "AcroForm" => signatures_alone(given, catalog)?,
            "PageLabels" => numbered_from_one(given, catalog)?,
            // Wishes of how it opens, which some programs drop or make their own.
            "PageMode" => !catalog.is(key, "FullScreen"),
            "PageLayout" | "ViewerPreferences" => catalog.get(key).is_none(),
            _ => false,
        };
        if !plain && print(given, catalog, key)? != print(made, again, key)? {
            return Ok(Some((*what).to_owned()));
        }
    }
    let named = |objects: &Objects<'_>, catalog: &Object<'_>| -> Result<Vec<String>, Unreadable> {
        let names = catalog.get("Names").map(|names| objects.resolved(names)).transpose()?;
        let Some(Object::Dictionary(entries)) = names else { return Ok(Vec::new()) };
        Ok(entries.iter().map(|(key, _)| String::from_utf8_lossy(key).chars().take(40).collect()).collect())
    };
    if let Some(key) = more(catalog, again, OF_FILES_QUIET) {
        return Ok(Some(format!("it carries what no sheet has ({key})")));
    }
    let known = named(made, again)?;
    // Places to go to are named by programs that write a file again; they do nothing by themselves.
    let more = named(given, catalog)?.into_iter().find(|key| key != "Dests" && !known.contains(key));
    Ok(more.map(|key| match key.as_str() {
        "JavaScript" => "it carries a script (JavaScript)".to_owned(),
        other => format!("it carries what no sheet has ({other})"),
    }))
}
