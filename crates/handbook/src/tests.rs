//! What holds for every table: names, documentation, origin of each row, sound figures.

use std::collections::BTreeSet;

use serde_json::Value;

use super::*;

#[test]
fn names_are_unique_sorted_and_kebab_case() {
    let names: Vec<&str> = TABLES.iter().map(|info| info.name()).collect();
    let mut sorted = names.clone();
    sorted.sort_unstable();
    sorted.dedup();
    assert_eq!(names, sorted, "TABLES is sorted by name and has no name twice");
    for name in names {
        assert!(
            name.split('-')
                .all(|word| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit())),
            "{name}"
        );
    }
}

#[test]
fn every_file_of_a_table_is_listed() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tables");
    let files: BTreeSet<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    let listed: BTreeSet<String> = TABLES.iter().map(|info| info.name().to_owned()).collect();
    assert_eq!(files, listed);
}

#[test]
fn every_table_is_documented() {
    for info in TABLES {
        let table = info.table();
        assert_eq!(table.name, info.name());
        assert!(table.about.trim_end().ends_with('.'), "{}: `about` is a sentence", table.name);
        for column in &table.columns {
            assert!(!column.meaning.is_empty() && !column.label.is_empty(), "{} {}", table.name, column.key);
        }
    }
}

#[test]
fn every_row_has_source_and_basis() {
    for info in TABLES {
        let table = info.table();
        for row in &table.rows {
            let keys = row.get("source").and_then(Value::as_array).unwrap();
            assert!(!keys.is_empty(), "{} {row:?}", table.name);
            for key in keys {
                assert!(table.source(key.as_str().unwrap()).is_some(), "{} {row:?}", table.name);
            }
            let basis = row.get("basis").cloned().unwrap();
            assert!(serde_json::from_value::<Basis>(basis).is_ok(), "{} {row:?}", table.name);
        }
    }
}

#[test]
fn every_figure_is_finite_and_every_range_runs_upwards() {
    fn look(table: &str, value: &Value) {
        match value {
            Value::Number(number) => assert!(number.as_f64().is_some_and(f64::is_finite), "{table}"),
            Value::Array(items) => {
                if let [Value::Number(low), Value::Number(high)] = items.as_slice() {
                    assert!(low.as_f64() <= high.as_f64(), "{table}: {value}");
                }
                for item in items {
                    look(table, item);
                }
            }
            Value::Object(map) => map.values().for_each(|item| look(table, item)),
            _ => {}
        }
    }
    for info in TABLES {
        for row in &info.table().rows {
            row.values().for_each(|value| look(info.name(), value));
        }
    }
}

#[test]
fn a_missing_table_gets_the_nearest_names() {
    assert_eq!(table("Tungsten Current").unwrap().name, "tungsten-current");
    let error = table("tungsten-curent").unwrap_err();
    assert_eq!(error.nearest.first(), Some(&"tungsten-current"));
}
