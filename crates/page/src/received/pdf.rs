//! A PDF that arrives: the sources in it as other readers would find them, and where it differs from the sheet that its
//! source gives.

use std::collections::{BTreeMap, BTreeSet};

use sha2::{Digest, Sha256};

use super::arrival::{Arrival, Candidate, Difference, Unreadable};
use super::contents::operators;
use super::drawn::{Widths, same};
use super::objects::{Object, Objects, find, unescaped};
use crate::attached::{SOURCE_LIMIT, plain_file_name};
use crate::made_with::MadeWith;
use crate::pdf::attach::MADE_WITH;

/// Sources that are listed at the most.
const CANDIDATES: usize = 16;
/// Most pages that are compared.
const PAGES: usize = 2_000;
/// Most bytes of the contents of a page.
const CONTENTS: usize = 8 * 1024 * 1024;

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

/// A text string (7.9.2): UTF-16 after its mark, UTF-8 after its mark, else Latin letters.
fn text(bytes: &[u8]) -> String {
    match bytes {
        [0xFE, 0xFF, rest @ ..] => {
            let units: Vec<u16> = rest.chunks_exact(2).map(|two| u16::from_be_bytes([two[0], two[1]])).collect();
            String::from_utf16_lossy(&units)
        }
        [0xEF, 0xBB, 0xBF, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        other => other.iter().map(|byte| char::from(*byte)).collect(),
    }
}

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

/// What a page that does not state it has from the tree above it (ISO 32000-1, 7.7.3.4).
const HANDED_DOWN: [&str; 4] = ["Resources", "MediaBox", "CropBox", "Rotate"];

/// The pages of a file in order, and its catalog.
struct Pages<'o> {
    catalog: Object<'o>,
    pages: Vec<Object<'o>>,
}

/// A node of the tree of pages, where one is named, with what it has from those above it.
type Node<'o> = (Option<u32>, Vec<(&'static str, Object<'o>)>);

impl<'o> Pages<'o> {
    fn of(objects: &'o Objects<'_>) -> Result<Self, Unreadable> {
        let mut root = None;
        for trailer in objects.trailers()? {
            if let Some(Object::Reference(number)) = trailer.get("Root") {
                root = Some(*number);
            }
        }
        let catalog = match root {
            Some(number) => objects.last(number)?.map_or(Object::Other, |(object, _)| object),
            None => Object::Other,
        };
        let mut own = Self { pages: Vec::new(), catalog };
        let mut seen = BTreeSet::new();
        // Nodes of the tree, each with what it has from those above it.
        let mut next: Vec<Node<'o>> = Vec::new();
        if let Some(Object::Reference(number)) = own.catalog.get("Pages") {
            next.push((Some(*number), Vec::new()));
        }
        while let Some((number, mut above)) = next.pop() {
            if own.pages.len() >= PAGES {
                continue;
            }
            let Some(number) = number else {
                own.pages.push(Object::Other);
                continue;
            };
            let first = seen.insert(number);
            let Some((node, _)) = objects.last(number)? else { continue };
            let kids = node.get("Kids").map(|kids| objects.resolved(kids)).transpose()?;
            match kids {
                // A branch that stands twice, or below itself, is no tree: it counts as a page that no sheet has.
                Some(Object::Array(_)) if !first => own.pages.push(Object::Other),
                Some(Object::Array(kids)) => {
                    for key in HANDED_DOWN {
                        if let Some(value) = node.get(key) {
                            above.retain(|(own, _)| *own != key);
                            above.push((key, value.clone()));
                        }
                    }
                    let kids = kids.iter().rev();
                    next.extend(kids.map(|kid| match kid {
                        Object::Reference(own) => (Some(*own), above.clone()),
                        // A page that stands in the list itself is none that a sheet has.
                        _ => (None, Vec::new()),
                    }));
                }
                _ => own.pages.push(node.with(above)),
            }
        }
        Ok(own)
    }
}

/// What stands for a stream that is packed otherwise than sheets are: what it says cannot be told, and it is none of ours.
const OTHERWISE: &[u8] = b"packed otherwise";

/// What is drawn on a page, unpacked, as its operators and what they take.
fn contents(objects: &Objects<'_>, page: &Object<'_>) -> Result<Vec<u8>, Unreadable> {
    let parts = match page.get("Contents") {
        None => Vec::new(),
        Some(Object::Array(parts)) => parts.clone(),
        Some(one) => match objects.resolved(one)? {
            Object::Array(parts) => parts,
            _ => vec![one.clone()],
        },
    };
    if parts.len() > PAGES {
        return Err(Unreadable::TooMuch);
    }
    let mut drawn = Vec::new();
    for part in &parts {
        let Object::Reference(number) = part else { continue };
        let Some((dictionary, Some(end))) = objects.last(*number)? else { continue };
        if dictionary.get("F").is_some() {
            drawn.extend(b"what another file holds\n");
        }
        let left = CONTENTS.saturating_sub(drawn.len());
        match objects.stream(&dictionary, end, left)? {
            Some(bytes) => drawn.extend(bytes),
            None => drawn.extend(OTHERWISE),
        }
        drawn.push(b'\n');
    }
    Ok(operators(&drawn))
}

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

/// What is said of a signature with a place on the page: its mark can show anything.
const SIGNED_OVER: &str = "the mark of a signature lies over it, and may hide or show what it likes (Annots)";

/// Where the entries of two pages differ.
fn entries(
    given: &Objects<'_>,
    page: &Object<'_>,
    made: &Objects<'_>,
    again: &Object<'_>,
) -> Result<Option<String>, Unreadable> {
    const QUIET: &[&str] = &["LastModified", "StructParents", "Tabs", "Type"];
    let signed = without(given, page, unseen_signature)?;
    let page = signed.as_ref().unwrap_or(page);
    for (key, what) in OF_PAGES {
        let made = print(made, again, key)?;
        if print(given, page, key)? != made {
            let bare = without(given, page, |_, field| Ok(is_signature(field)))?;
            let mark = *key == "Annots" && print(given, bare.as_ref().unwrap_or(page), key)? == made;
            return Ok(Some(if mark { SIGNED_OVER } else { *what }.to_owned()));
        }
    }
    if resources(given, page)? != resources(made, again)? {
        return Ok(Some("its fonts or pictures are other ones (Resources)".to_owned()));
    }
    Ok(more(page, again, QUIET).map(|key| format!("it has an entry that no sheet has ({key})")))
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

/// Whether a field is a signature that does nothing else (12.7.4.5).
fn is_signature(field: &Object<'_>) -> bool {
    let quiet = ["A", "AA", "Kids", "Parent"].iter().all(|key| field.get(key).is_none());
    quiet && field.is("FT", "Sig")
}

/// Whether a field is a signature that is not seen: its place on the page has no size.
fn unseen_signature(objects: &Objects<'_>, field: &Object<'_>) -> Result<bool, Unreadable> {
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
type Over = fn(&Objects<'_>, &Object<'_>) -> Result<bool, Unreadable>;

/// A page without what lies over it and is of a kind; nothing where it has none.
fn without<'o>(objects: &'o Objects<'_>, page: &'o Object<'o>, over: Over) -> Result<Option<Object<'o>>, Unreadable> {
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

/// Whether the labels of pages are the numbers that they have without.
fn numbered_from_one(objects: &Objects<'_>, catalog: &Object<'_>) -> Result<bool, Unreadable> {
    let labels = print(objects, catalog, "PageLabels")?;
    let style = Object::Name(b"D".as_slice().into());
    Ok(["", "/St 1.000 "].iter().any(|from| labels == format!("<</Nums [0.000 <</S {style:?} {from}>>]>>")))
}

/// Whether a form is no more than the list of signatures that are not seen.
fn signatures_alone(objects: &Objects<'_>, catalog: &Object<'_>) -> Result<bool, Unreadable> {
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

fn opening(
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

/// An entry with everything that it names, without numbers of objects, which another program gives anew.
fn print(objects: &Objects<'_>, of: &Object<'_>, key: &str) -> Result<String, Unreadable> {
    let mut out = String::new();
    if let Some(value) = of.get(key) {
        let mut seen = BTreeMap::new();
        written(objects, value, 0, &mut seen, &mut out)?;
    }
    Ok(out)
}

fn written(
    objects: &Objects<'_>,
    object: &Object<'_>,
    depth: usize,
    seen: &mut BTreeMap<u32, usize>,
    out: &mut String,
) -> Result<(), Unreadable> {
    const DEEPEST: usize = 24;
    const LONGEST: usize = 4 * 1024 * 1024;
    if out.len() > LONGEST || depth > DEEPEST {
        return Err(Unreadable::TooMuch);
    }
    match object {
        Object::Reference(number) => {
            if let Some(at) = seen.get(number) {
                out.push_str(&format!("above {at} "));
                return Ok(());
            }
            seen.insert(*number, seen.len());
            let Some((target, end)) = objects.last(*number)? else { return Ok(()) };
            written(objects, &target, depth + 1, seen, out)?;
            if let Some(end) = end
                && let Some(digest) = digest(objects, &target, end)?
            {
                out.push_str(&format!("stream {digest} "));
            }
            Ok(())
        }
        Object::Array(items) => {
            out.push('[');
            items.iter().try_for_each(|item| written(objects, item, depth + 1, seen, out))?;
            out.push(']');
            Ok(())
        }
        Object::Dictionary(entries) => {
            let sorted: BTreeMap<_, _> = entries.iter().map(|(key, value)| (key, value)).collect();
            out.push_str("<<");
            for (key, value) in sorted {
                // How a stream is packed, and the way back up the tree of pages, are not seen.
                let back = matches!((key.as_ref(), value), (b"P" | b"Parent", Object::Reference(_)));
                if back || [&b"Length"[..], b"Filter", b"DecodeParms", b"Metadata"].contains(&key.as_ref()) {
                    continue;
                }
                out.push_str(&format!("/{} ", String::from_utf8_lossy(key)));
                written(objects, value, depth + 1, seen, out)?;
            }
            out.push_str(">>");
            Ok(())
        }
        // 1.0, 1.00 and 1 are one number; what only some readers take for one is none.
        Object::Number(text) => {
            match object.real() {
                Some(number) => out.push_str(&format!("{number:.3} ")),
                None => out.push_str(&format!("{:?} ", String::from_utf8_lossy(text))),
            }
            Ok(())
        }
        other => {
            out.push_str(&format!("{other:?} "));
            Ok(())
        }
    }
}

/// The digest of what a stream holds, unpacked where it is packed as sheets are.
fn digest(objects: &Objects<'_>, dictionary: &Object<'_>, end: usize) -> Result<Option<String>, Unreadable> {
    let bytes = match objects.stream(dictionary, end, CONTENTS)? {
        Some(bytes) => bytes,
        None => match objects.raw(dictionary, end)? {
            Some(raw) => {
                let (filter, parms) =
                    (print(objects, dictionary, "Filter")?, print(objects, dictionary, "DecodeParms")?);
                [OTHERWISE, filter.as_bytes(), parms.as_bytes(), raw].concat()
            }
            None => return Ok(None),
        },
    };
    Ok(Some(Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect()))
}

/// The words that are read out in place of what is seen (14.9.3 to 14.9.5), sorted.
fn spoken(objects: &Objects<'_>) -> Result<Vec<Vec<u8>>, Unreadable> {
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
fn listed(objects: &Objects<'_>) -> Result<Vec<(String, bool)>, Unreadable> {
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

/// The description that a file carries beside its contents (14.3.2); some readers show its words.
fn description(objects: &Objects<'_>, catalog: &Object<'_>) -> Result<String, Unreadable> {
    let Some(Object::Reference(number)) = catalog.get("Metadata") else { return Ok(String::new()) };
    let Some((dictionary, Some(end))) = objects.last(*number)? else { return Ok(String::new()) };
    let bytes = objects.stream(&dictionary, end, CONTENTS)?.unwrap_or_default();
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// The words of an element of a description; only they count, for programs lay them out in their own way.
fn words_of(description: &str, tag: &str) -> Option<String> {
    let (_, rest) = description.split_once(&format!("<{tag}>"))?;
    let (part, _) = rest.split_once(&format!("</{tag}>"))?;
    Some(format!(">{part}").split('<').filter_map(|own| own.split_once('>')).map(|(_, own)| own.trim()).collect())
}

/// An entry of the file's description of itself.
fn info(objects: &Objects<'_>, key: &str) -> Result<String, Unreadable> {
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

/// The letters of glyphs, font by font, from the tables that make text searchable (9.10.3).
type Letters = BTreeMap<u16, String>;

fn letters(objects: &Objects<'_>) -> Result<Letters, Unreadable> {
    let mut letters = Letters::new();
    for number in objects.numbers() {
        let Some((font, _)) = objects.last(number)? else { continue };
        let Some(Object::Reference(table)) = font.get("ToUnicode") else { continue };
        let Some((dictionary, Some(end))) = objects.last(*table)? else { continue };
        let Some(bytes) = objects.stream(&dictionary, end, CONTENTS)? else { continue };
        for line in String::from_utf8_lossy(&bytes).lines() {
            let codes: Vec<&str> = line.split(['<', '>']).filter(|part| !part.trim().is_empty()).collect();
            if let [glyph, letter] = codes.as_slice()
                && let (Ok(glyph), Ok(letter)) = (u16::from_str_radix(glyph, 16), u32::from_str_radix(letter, 16))
                && let Some(letter) = char::from_u32(letter)
            {
                letters.insert(glyph, letter.to_string());
            }
        }
    }
    Ok(letters)
}

/// The texts that a page draws, in order, each with where it ends among the bytes.
fn texts(drawn: &[u8], letters: &Letters) -> Vec<(usize, String)> {
    const MOST: usize = 20_000;
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(start) = find(drawn, at, b"(") {
        let mut end = start + 1;
        while let Some(byte) = drawn.get(end).filter(|byte| **byte != b')') {
            end += if *byte == b'\\' { 2 } else { 1 };
        }
        let glyphs = unescaped(drawn.get(start + 1..end.min(drawn.len())).unwrap_or_default());
        let two = |two: &[u8]| u16::from_be_bytes([two[0], two[1]]);
        let text: String =
            glyphs.chunks_exact(2).map(|own| letters.get(&two(own)).map_or("?", String::as_str)).collect();
        found.push((end, text));
        if found.len() >= MOST {
            break;
        }
        at = end;
    }
    found
}

/// The first difference of what two pages draw, in words.
fn first_difference(given: &[u8], made: &[u8], letters: &Letters) -> String {
    let (own, other) = (texts(given, letters), texts(made, letters));
    let alike = own.iter().zip(&other).take_while(|((_, own), (_, other))| own == other).count();
    match (own.get(alike), other.get(alike)) {
        (Some((_, own)), Some((_, other))) => format!("it shows `{own}` where the source gives `{other}`"),
        (Some((_, own)), None) => format!("it shows `{own}`, which the source does not give"),
        (None, Some((_, other))) => format!("it lacks `{other}`, which the source gives"),
        (None, None) => {
            let same = given.iter().zip(made).take_while(|(own, other)| own == other).count();
            match own.iter().rev().find(|(end, _)| *end <= same) {
                Some((_, before)) => format!("something else is drawn after `{before}`"),
                None => "something else is drawn on it".to_owned(),
            }
        }
    }
}
