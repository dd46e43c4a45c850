//! Documents of the repository, edited as the cases of the checks say.

#![allow(dead_code, reason = "each test uses its part")]

use std::fs;
use std::path::Path;

use seamwright_check::rule::Case;
use seamwright_model::procedure::Procedure;
use seamwright_model::{Document, load};
use serde_json::Value;

/// A procedure of the starter library.
pub fn starter(name: &str) -> Value {
    read("procedures", name)
}

/// A document of the examples.
pub fn example(name: &str) -> Value {
    read("examples", name)
}

fn read(folder: &str, name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../{folder}/{name}.yaml"));
    let text = fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    match load(name, &text) {
        Ok(loaded) => loaded.tree.to_value(),
        Err((_, faults)) => panic!("{name}: {faults:#?}"),
    }
}

/// A document with the edits of a case.
pub fn edited(base: &Value, case: &Case) -> Document {
    let mut document = base.clone();
    for (pointer, yaml) in case.edits {
        edit(&mut document, pointer, yaml);
    }
    seamwright_model::load::from_value(&document)
        .unwrap_or_else(|reason| panic!("{} with {:?}: {reason}", case.base, case.edits))
}

/// A procedure of its values.
pub fn procedure(document: &Value) -> Procedure {
    match seamwright_model::load::from_value(document) {
        Ok(Document::Procedure(own)) => *own,
        Ok(other) => panic!("a {}", other.kind()),
        Err(reason) => panic!("{reason}"),
    }
}

/// A procedure of the starter library with values put at pointers; an empty text takes one out.
pub fn starter_with(name: &str, edits: &[(&str, &str)]) -> Procedure {
    let mut document = starter(name);
    for (pointer, yaml) in edits {
        edit(&mut document, pointer, yaml);
    }
    procedure(&document)
}

/// Puts a value at a pointer of a document; an empty text takes it out.
pub fn edit(document: &mut Value, pointer: &str, yaml: &str) {
    let mut at = document;
    let steps: Vec<String> = seamwright_model::source::steps(pointer).collect();
    let (last, sections) = steps.split_last().expect("a pointer");
    for step in sections {
        at = match at {
            Value::Array(items) => &mut items[step.parse::<usize>().expect("an index")],
            other => {
                other.as_object_mut().expect("a section").entry(step.clone()).or_insert_with(|| serde_json::json!({}))
            }
        };
    }
    match at {
        Value::Array(items) => items[last.parse::<usize>().expect("an index")] = value(yaml),
        other if yaml.is_empty() => {
            other.as_object_mut().expect("a section").remove(last);
        }
        other => {
            other.as_object_mut().expect("a section").insert(last.clone(), value(yaml));
        }
    }
}

fn value(yaml: &str) -> Value {
    let text = format!("format: 1\ndocument: procedure\nvalue: {yaml}\n");
    serde_yaml::from_str::<Value>(&text).unwrap_or_else(|error| panic!("{yaml}: {error}"))["value"].clone()
}
