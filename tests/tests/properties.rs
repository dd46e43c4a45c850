//! What must hold for any document: those of the project, changed at random as text and as values.

use std::cell::Cell;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use proptest::prelude::*;
use proptest::sample::{Index, select};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use seamwright_tests::{arrives, checks, document, loads, quantities};
use serde_json::{Value, json};

/// A value of a document of the project: the name of its key, and the value.
type Named = (String, Value);

struct Library {
    /// The text of every document of the project, with what it holds.
    documents: Vec<(String, Value)>,
    /// Every value of them under its key.
    values: Vec<Named>,
}

static LIBRARY: LazyLock<Library> = LazyLock::new(|| {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut paths: Vec<PathBuf> =
        ["procedures", "examples/shop", "examples/lesson", "examples/inspection", "examples/submitted"]
            .iter()
            .flat_map(|folder| fs::read_dir(root.join(folder)).unwrap().map(|entry| entry.unwrap().path()))
            .filter(|path| path.extension().is_some_and(|ending| ending == "yaml"))
            .collect();
    paths.sort();
    let read = |path: &PathBuf| {
        let text = fs::read_to_string(path).unwrap();
        let value = loads(text.as_bytes()).unwrap_or_else(|| panic!("{}", path.display())).tree.to_value();
        (text, value)
    };
    let documents: Vec<(String, Value)> = paths.iter().map(read).collect();
    let mut values = Vec::new();
    for (_, value) in &documents {
        for pointer in pointers(value) {
            let key = pointer.rsplit('/').next().unwrap_or_default().to_owned();
            values.push((key, value.pointer(&pointer).unwrap().clone()));
        }
    }
    Library { documents, values }
});

/// The pointer of every value below a value.
fn pointers(value: &Value) -> Vec<String> {
    fn walk(value: &Value, at: &str, found: &mut Vec<String>) {
        let mut below = |key: &str, value: &Value| {
            let pointer = format!("{at}/{}", key.replace('~', "~0").replace('/', "~1"));
            found.push(pointer.clone());
            walk(value, &pointer, found);
        };
        match value {
            Value::Object(map) => map.iter().for_each(|(key, value)| below(key, value)),
            Value::Array(list) => list.iter().enumerate().for_each(|(index, value)| below(&index.to_string(), value)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    walk(value, "", &mut found);
    found
}

/// What is done to one value of a document.
#[derive(Debug, Clone)]
enum Change {
    /// Another value that stands under a key of this name somewhere in the project.
    Kin(Index),
    /// Other figures in the same text.
    Figures(String, Index),
    /// Any of these values.
    Any(Value),
    /// It is taken out.
    Out,
    /// A list is made longer with copies of its entries.
    Longer(u8),
}

fn change() -> impl Strategy<Value = Change> {
    let figures =
        select(vec!["0", "0.001", "1", "7", "45", "89", "90", "180", "360", "1000", "99999", "999999999999", "1/3"]);
    let text = "[ -~éąßжΩ°±×–½\n]{0,40}";
    let other = prop_oneof![
        text.prop_map(Value::String),
        select(vec![
            json!("none"),
            json!("not applicable"),
            json!("0 mm"),
            json!("0-0 A"),
            json!("1000 m"),
            json!("-273.15 °C")
        ]),
        Just(json!("W".repeat(3000))),
        Just(json!("word ".repeat(900))),
        Just(json!({})),
        Just(json!([])),
    ];
    prop_oneof![
        4 => any::<Index>().prop_map(Change::Kin),
        4 => (figures, any::<Index>()).prop_map(|(figure, place)| Change::Figures(figure.to_owned(), place)),
        2 => other.prop_map(Change::Any),
        2 => Just(Change::Out),
        1 => (1_u8..40).prop_map(Change::Longer),
    ]
}

fn apply(value: &mut Value, place: Index, change: Change) {
    let all = pointers(value);
    if all.is_empty() {
        return;
    }
    let pointer = place.get(&all).clone();
    let (parent, key) = pointer.rsplit_once('/').unwrap();
    let Some(at) = value.pointer_mut(&pointer) else { return };
    match change {
        Change::Kin(index) => {
            let kin: Vec<&Named> = LIBRARY.values.iter().filter(|(name, _)| name == key).collect();
            if !kin.is_empty() {
                *at = index.get(&kin).1.clone();
            }
        }
        Change::Figures(figure, place) => {
            if let Value::String(text) = at {
                let digits: Vec<usize> =
                    text.char_indices().filter(|(_, c)| c.is_ascii_digit()).map(|(at, _)| at).collect();
                if !digits.is_empty() {
                    let start = *place.get(&digits);
                    text.replace_range(start..=start, &figure);
                }
            } else if at.is_number() {
                *at = json!(figure.parse::<f64>().unwrap_or(3.0));
            }
        }
        Change::Any(other) => *at = other,
        Change::Out => {
            let key = key.replace("~1", "/").replace("~0", "~");
            match value.pointer_mut(parent) {
                Some(Value::Object(map)) => _ = map.shift_remove(&key),
                Some(Value::Array(list)) => _ = list.remove(key.parse().unwrap()),
                _ => {}
            }
        }
        Change::Longer(times) => {
            if let Value::Array(list) = at {
                let copies: Vec<Value> =
                    list.iter().cycle().take(list.len().min(20) * usize::from(times)).cloned().collect();
                list.extend(copies);
            }
        }
    }
}

/// Documents with some values changed.
fn changed_values() -> impl Strategy<Value = String> {
    let changes = prop::collection::vec((any::<Index>(), change()), 1..5);
    (any::<Index>(), changes).prop_map(|(which, changes)| {
        let mut value = which.get(&LIBRARY.documents).1.clone();
        for (place, change) in changes {
            apply(&mut value, place, change);
        }
        // JSON is YAML.
        serde_json::to_string_pretty(&value).unwrap()
    })
}

/// Documents with some lines or characters changed.
fn changed_text() -> impl Strategy<Value = String> {
    let piece = select(vec![
        ":", "-", "- ", "{", "}", "[", "]", ",", "\"", "'", "#", "&a ", "*a", "|\n", ">\n", "? ", "!!str ", "%", "\t",
        "\r", "\r\n", "\n\n", "---\n", "...\n", "<<: ", "~", "\u{feff}", "\u{85}", "é", "°", "0", "9", " mm", " A",
        "\\u202e", "ż",
    ]);
    let edits = prop::collection::vec((any::<Index>(), 0_usize..30, piece), 1..6);
    (any::<Index>(), edits).prop_map(|(which, edits)| {
        let mut text = which.get(&LIBRARY.documents).0.clone();
        for (place, length, piece) in edits {
            let bounds: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
            if bounds.is_empty() {
                continue;
            }
            let start = place.index(bounds.len());
            let end = bounds.get(start + length % 7).copied().unwrap_or(text.len());
            text.replace_range(bounds[start]..end, piece);
        }
        text
    })
}

/// Runs a property; proptest shrinks what breaks it.
///
/// The cases are the same on every run, so that a change and nothing else turns a test red; `PROPTEST_CASES` asks for so many
/// new ones.
fn holds<T: std::fmt::Debug>(cases: u32, strategy: impl Strategy<Value = T>, property: impl Fn(&T)) {
    let typed = std::env::var("PROPTEST_CASES").ok().and_then(|typed| typed.parse().ok());
    let config = Config { cases: typed.unwrap_or(cases), failure_persistence: None, ..Config::default() };
    let mut runner = match typed {
        Some(_) => TestRunner::new(config),
        None => TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha)),
    };
    let result = runner.run(&strategy, |input| {
        property(&input);
        Ok(())
    });
    if let Err(error) = result {
        panic!("{error}");
    }
}

#[test]
fn any_document_that_loads_renders_and_reads_back() {
    let loaded = Cell::new(0);
    holds(60, changed_values(), |text| {
        loaded.set(loaded.get() + u32::from(loads(text.as_bytes()).is_some()));
        document(text.as_bytes());
    });
    assert!(loaded.get() >= 12, "only {} documents loaded: the changes are too coarse", loaded.get());
}

#[test]
fn checking_ends_and_findings_lie_inside_the_file() {
    let found = Cell::new(0);
    holds(600, changed_values(), |text| {
        if let Some(loaded) = loads(text.as_bytes()) {
            found.set(found.get() + checks(&loaded).findings.len());
        }
    });
    assert!(found.get() > 100, "{} findings", found.get());
}

#[test]
fn any_text_loads_or_is_refused_at_a_place_in_it() {
    let loaded = Cell::new(0);
    holds(600, changed_text(), |text| {
        if let Some(document) = loads(text.as_bytes()) {
            loaded.set(loaded.get() + 1);
            checks(&document);
        }
    });
    assert!(loaded.get() > 0, "no text loaded");
    holds(300, prop::collection::vec(any::<u8>(), 0..300), |bytes| document(bytes));
}

#[test]
fn any_text_is_a_quantity_or_is_refused() {
    let quantity = "[<>~]?-?[0-9]{0,14}([.,/ -][0-9]{1,13}){0,3}( (to|–|-) [0-9.]{1,6})? ?(mm|A|°C|in|L/min|%|deg|kJ/mm|ft lbf|ppm)?( (min|max|minimum|maximum))?";
    holds(2000, quantity, |text: &String| quantities(text));
    holds(1000, "\\PC{0,130}", |text: &String| quantities(text));
}

#[test]
fn any_file_arrives_or_is_refused() {
    let page = "<!doctype html><html><meta name=\"generator\" content=\"Seamwright 0\"><a id=\"source-file\" ";
    holds(500, "\\PC{0,80}", |rest: &String| arrives(format!("{page}{rest}").as_bytes()));
    holds(300, prop::collection::vec(any::<u8>(), 0..200), |rest| arrives(&[b"%PDF-1.7\n", rest.as_slice()].concat()));
}
