//! Files of format 1 keep meaning what they mean; a newer format is refused with what to do.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use seamwright_model::document::{Document, KINDS, schema_of};
use seamwright_model::{Loaded, load};
use serde_json::Value;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("golden")
}

/// Whether what is found is to be written in the place of what is expected.
fn blessing() -> bool {
    std::env::var_os("BLESS").is_some()
}

fn files() -> Vec<(PathBuf, Loaded)> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "yaml"))
        .collect();
    paths.sort();
    let read = |path: PathBuf| {
        let loaded = load(&path.display().to_string(), &fs::read(&path).unwrap());
        let loaded = loaded.unwrap_or_else(|(_, faults)| panic!("{}: {faults:#?}", path.display()));
        (path, loaded)
    };
    paths.into_iter().map(read).collect()
}

fn as_json(document: &Document) -> Value {
    match document {
        Document::Procedure(procedure) => serde_json::to_value(procedure),
        Document::TestRecord(record) => serde_json::to_value(record),
        Document::Shop(shop) => serde_json::to_value(shop),
        Document::Lesson(lesson) => serde_json::to_value(lesson),
        Document::Job(job) => serde_json::to_value(job),
    }
    .unwrap()
}

#[test]
fn files_of_format_1_load_as_they_always_did() {
    let mut kinds = BTreeSet::new();
    for (path, loaded) in files() {
        let found = serde_json::to_string_pretty(&as_json(&loaded.document)).unwrap() + "\n";
        let beside = path.with_extension("json");
        if blessing() {
            fs::write(&beside, &found).unwrap();
        }
        let expected = fs::read_to_string(&beside).unwrap_or_default();
        assert!(found == expected, "{} no longer loads as {}", path.display(), beside.display());
        // What was read and written again is the same document.
        let again = load("again.yaml", found.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:#?}"));
        assert_eq!(as_json(&again.document), as_json(&loaded.document), "{}", path.display());
        kinds.insert(loaded.document.kind());
    }
    assert_eq!(kinds.len(), KINDS.len());
}

/// The schema that a schema refers to, by way of references and of `else`, which stands after a word such as `none`.
fn meant<'s>(root: &'s Value, mut schema: &'s Value) -> &'s Value {
    loop {
        let next = match (schema.get("$ref").and_then(Value::as_str), schema.get("else")) {
            (Some(reference), _) => root.pointer(reference.trim_start_matches('#')),
            (None, other) => other,
        };
        match next {
            Some(next) => schema = next,
            None => return schema,
        }
    }
}

/// Every key and word of a schema, as `procedure/joint/preparation` and `procedure/joint/preparation = square`.
fn vocabulary(root: &Value, schema: &Value, at: &str, found: &mut BTreeSet<String>) {
    for words in [schema.get("enum"), schema.pointer("/then/enum")].into_iter().flatten() {
        let words = words.as_array().unwrap().iter().filter_map(Value::as_str);
        found.extend(words.map(|word| format!("{at} = {word}")));
    }
    let schema = meant(root, schema);
    if let Some(words) = schema.get("enum").and_then(Value::as_array) {
        found.extend(words.iter().filter_map(Value::as_str).map(|word| format!("{at} = {word}")));
    }
    for (key, part) in schema.get("properties").and_then(Value::as_object).into_iter().flatten() {
        let below = format!("{at}/{key}");
        found.insert(below.clone());
        vocabulary(root, part, &below, found);
    }
    if let Some(items) = schema.get("items") {
        vocabulary(root, items, at, found);
    }
    if let Some(named) = schema.get("additionalProperties").filter(|named| named.is_object()) {
        vocabulary(root, named, &format!("{at}/*"), found);
    }
}

/// The keys that a document holds, in the same spelling; names that the writer chose become `*`.
fn keys(root: &Value, schema: &Value, value: &Value, at: &str, found: &mut BTreeSet<String>) {
    let schema = meant(root, schema);
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                let (below, part) = match schema.pointer("/properties").and_then(|keys| keys.get(key)) {
                    Some(part) => (format!("{at}/{key}"), part),
                    None => (format!("{at}/*"), &schema["additionalProperties"]),
                };
                found.insert(below.clone());
                keys(root, part, value, &below, found);
            }
        }
        Value::Array(list) => list.iter().for_each(|item| keys(root, &schema["items"], item, at, found)),
        _ => {}
    }
}

#[test]
fn every_key_of_the_format_stands_in_a_golden_file() {
    let (mut all, mut used) = (BTreeSet::new(), BTreeSet::new());
    for kind in KINDS {
        let root = schema_of(kind);
        vocabulary(root, root, kind, &mut all);
    }
    for (_, loaded) in files() {
        let kind = loaded.document.kind();
        let root = schema_of(kind);
        keys(root, root, &loaded.tree.to_value(), kind, &mut used);
    }
    let missing: Vec<&String> = all.iter().filter(|line| !line.contains(" = ") && !used.contains(*line)).collect();
    assert!(missing.is_empty(), "no golden file has {missing:#?}");
    assert!(used.len() > 400, "{}", used.len());
}

#[test]
fn no_key_and_no_word_of_format_1_goes_away() {
    let mut now = BTreeSet::new();
    for kind in KINDS {
        let root = schema_of(kind);
        vocabulary(root, root, kind, &mut now);
    }
    let file = folder().join("vocabulary.txt");
    let before: BTreeSet<String> = fs::read_to_string(&file).unwrap_or_default().lines().map(str::to_owned).collect();
    let gone: Vec<&String> = before.difference(&now).collect();
    assert!(gone.is_empty(), "files that hold these no longer load: {gone:#?}");
    if blessing() {
        fs::write(&file, now.iter().map(|line| format!("{line}\n")).collect::<String>()).unwrap();
        return;
    }
    let new: Vec<&String> = now.difference(&before).collect();
    assert!(new.is_empty(), "BLESS=1 adds these to {}: {new:#?}", file.display());
}

#[test]
fn a_newer_format_is_refused_with_what_to_do() {
    for (format, message, hint) in [
        ("2", "the file has format 2; this program reads format 1", "use a newer version of this program"),
        ("99999999999", "the file has format 99999999999", "use a newer version of this program"),
        ("0", "`format` is not a format number", "write `format: 1`"),
        ("-1", "`format` is not a format number", "write `format: 1`"),
        ("1.0", "`format` is not a format number", "write `format: 1`"),
        ("'1'", "`format` is not a format number", "write `format: 1`"),
        ("", "`format` is not a format number", "write `format: 1`"),
    ] {
        // Keys that only the newer format knows do not hide what is wrong.
        let text = format!("document: procedure\nformat: {format}\nflux_capacitor: {{gauge: 3}}\n");
        let (_, faults) = load("newer.yaml", text.as_bytes()).unwrap_err();
        assert!(faults[0].message.starts_with(message), "{format}: {faults:?}");
        assert!(faults[0].hint.as_deref().is_some_and(|own| own.starts_with(hint)), "{format}: {faults:?}");
        assert_eq!(faults[0].span.map(|span| span.line), Some(2), "{format}: {faults:?}");
        assert_eq!(faults.len(), 1, "{faults:?}");
    }
}
