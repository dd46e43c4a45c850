//! The schema that editors use beside the types that the program reads: neither accepts what the other refuses.

use std::fs;
use std::path::Path;

use seamwright_model::load::{from_value, validator};
use serde_json::{Value, json};

/// The starter procedures, and the examples of the other kinds of document.
fn starters() -> Vec<(String, Value)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut files: Vec<_> = ["procedures", "examples/shop", "examples/lesson", "examples/inspection"]
        .iter()
        .flat_map(|folder| fs::read_dir(root.join(folder)).unwrap().map(|entry| entry.unwrap().path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "yaml"))
        .collect();
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let name = path.display().to_string();
            let loaded = seamwright_model::load(&name, &fs::read(&path).unwrap()).unwrap();
            (name, loaded.tree.to_value())
        })
        .collect()
}

/// The pointer of every value below a value.
fn pointers(value: &Value, at: &str, found: &mut Vec<String>) {
    let mut below = |key: &str, value: &Value| {
        let pointer = format!("{at}/{}", key.replace('~', "~0").replace('/', "~1"));
        found.push(pointer.clone());
        pointers(value, &pointer, found);
    };
    match value {
        Value::Object(map) => map.iter().for_each(|(key, value)| below(key, value)),
        Value::Array(list) => list.iter().enumerate().for_each(|(index, value)| below(&index.to_string(), value)),
        _ => {}
    }
}

#[test]
fn every_starter_procedure_is_valid() {
    let starters = starters();
    assert!(starters.len() >= 6);
    for (name, value) in starters {
        let errors: Vec<String> = validator().iter_errors(&value).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "{name}: {errors:?}");
        assert!(from_value(&value).is_ok(), "{name}");
    }
}

#[test]
fn what_the_schema_accepts_the_types_read() {
    let others = [
        json!("a word"),
        json!("90 A"),
        json!("12 mm"),
        json!("120-90 A"),
        json!("none"),
        json!("not applicable"),
        json!(3),
        json!(true),
        json!({"a": 1}),
        json!([]),
        json!(["PA"]),
        Value::Null,
    ];
    let (mut accepted, mut refused) = (0, 0);
    for (name, value) in starters() {
        let mut places = Vec::new();
        pointers(&value, "", &mut places);
        for place in places {
            for other in &others {
                let mut changed = value.clone();
                *changed.pointer_mut(&place).unwrap() = other.clone();
                if validator().is_valid(&changed) {
                    accepted += 1;
                    let read = from_value(&changed);
                    assert!(read.is_ok(), "{name} {place} {other}: {}", read.err().unwrap_or_default());
                } else {
                    refused += 1;
                }
            }
        }
    }
    assert!(accepted > 500 && refused > 500, "{accepted} accepted, {refused} refused");
}

#[test]
fn an_unknown_key_is_refused_in_every_section() {
    for (name, value) in starters() {
        let mut places = vec![String::new()];
        pointers(&value, "", &mut places);
        for place in places {
            // Sections whose keys the writer names: fillers, processes, and the composition of a metal or gas.
            let named = ["/fillers", "/processes", "/rates/filler", "/rates/gas"];
            if place.ends_with("/composition") || place.ends_with("/current_by_process") || named.contains(&&*place) {
                continue;
            }
            let mut changed = value.clone();
            let Some(Value::Object(map)) = changed.pointer_mut(&place) else { continue };
            map.insert("colour_of_the_shed".to_owned(), json!("green"));
            assert!(!validator().is_valid(&changed), "{name} {place}: the schema");
            assert!(from_value(&changed).is_err(), "{name} {place}: the types");
        }
    }
}
