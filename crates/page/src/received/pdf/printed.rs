//! An entry written out with all that it names, so that two files can be compared whatever the numbers of their objects.

use std::collections::BTreeMap;

use sha2::{Digest, Sha256};

use super::{CONTENTS, OTHERWISE};
use crate::received::arrival::Unreadable;
use crate::received::object::Object;
use crate::received::objects::Objects;

/// An entry with everything that it names, without numbers of objects, which another program gives anew.
pub(super) fn print(objects: &Objects<'_>, of: &Object<'_>, key: &str) -> Result<String, Unreadable> {
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
