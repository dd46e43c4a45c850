//! Turns each `tables/NAME.yaml` into what the program carries, in `OUT_DIR`, and refuses a table that is not sound.
//!
//! `NAME.json` is the whole table for printing. `NAME.rows.rs` are its rows as a slice of their type (`build/rows.rs`), so that
//! nothing of them is read when the program runs; the keys that tell where a row comes from stand under `origin`, table and
//! sources as their places in the list of all. `NAME.named.rs` has its rules and statements as
//! statics by their names, or the names of its quantities. `sources.rs` has the sources of all tables as findings name them.
//!
//! The sources of a table name documents of the register, the table `sources`: their publisher, standing and address are
//! filled in from there.
//!
//! A table that lacks a source, a basis or the meaning of a column fails the build with file, row and reason, so that a
//! figure without an origin never reaches a sheet; so does a published row of which no source has a named publisher.

#[path = "build/rows.rs"]
mod rows;

use std::collections::{BTreeMap, BTreeSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use std::{env, fs, process};

use serde_json::{Map, Value, json};

use rows::{BASES, Declared, Modules};

/// Keys of a table, besides which nothing may stand.
const TABLE_KEYS: &[&str] = &["table", "title", "about", "sources", "columns", "rows", "notes"];
/// Keys that any row may have besides its columns.
const ROW_KEYS: &[&str] = &["source", "basis", "basis_of", "doubt", "note"];
/// The table that all others take publishers from.
const REGISTER: &str = "sources";

fn main() {
    println!("cargo::rerun-if-changed=tables");
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-changed=src");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    let mut faults = Vec::new();
    let paths = yaml_files(Path::new("tables"));
    let stem_of = |path: &Path| path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let mut stems: Vec<String> = paths.iter().map(|path| stem_of(path)).collect();
    stems.sort();
    let mut stamp = DefaultHasher::new();
    let register = match read(Path::new("tables/sources.yaml")) {
        Ok(table) => registered(&table),
        Err(reason) => {
            faults.push(format!("crates/handbook/tables/sources.yaml:\n  {reason}"));
            Map::new()
        }
    };
    let (modules, declared) = Modules::read(Path::new("src")).unwrap_or_else(|reason| {
        faults.push(reason);
        Default::default()
    });
    let mut sources = BTreeMap::new();
    for path in paths {
        println!("cargo::rerun-if-changed={}", path.display());
        let stem = stem_of(&path);
        let checked = read(&path).and_then(|mut table| {
            let printed = printed(&mut table);
            let table = compact(&stem, table, &register).map_err(|faults| faults.join("\n  "))?;
            Ok((table, printed))
        });
        match checked {
            Ok((table, printed)) => {
                table.to_string().hash(&mut stamp);
                sources.insert(stem.clone(), sources_of(&stem, &table));
                let rows = typed_rows(stems.binary_search(&stem).unwrap_or_default(), &table, &printed);
                let Some(own) = declared.iter().find(|own| own.table == stem) else { continue };
                let named = named(own, &rows);
                let rows = modules.rows(own, &rows, &printed).unwrap_or_else(|reasons| {
                    let of_row = |reason| format!("crates/handbook/{}:\n  {reason}", path.display());
                    faults.extend(reasons.into_iter().map(of_row));
                    String::new()
                });
                for (ending, text) in [("json", table.to_string()), ("rows.rs", rows), ("named.rs", named)] {
                    let target = out.join(format!("{stem}.{ending}"));
                    if let Err(error) = fs::write(&target, text) {
                        faults.push(format!("{}: {error}", target.display()));
                    }
                }
            }
            Err(reason) => faults.push(format!("crates/handbook/{}:\n  {reason}", path.display())),
        }
    }
    let list = format!(
        "static SOURCES: [SourcesOf; {}] = [\n{}];\n",
        sources.len(),
        sources.into_values().collect::<String>()
    );
    if let Err(error) = fs::write(out.join("sources.rs"), list) {
        faults.push(format!("sources.rs: {error}"));
    }
    match list_of(&stems, &declared) {
        Ok(list) => {
            if let Err(error) = fs::write(out.join("tables.rs"), list) {
                faults.push(format!("tables.rs: {error}"));
            }
        }
        Err(reasons) => faults.extend(reasons),
    }
    println!("cargo::rustc-env=HANDBOOK_STAMP={:016x}", stamp.finish());
    if !faults.is_empty() {
        eprintln!("{}", faults.join("\n"));
        process::exit(1);
    }
}

/// The sources of a table as findings name them.
fn sources_of(stem: &str, table: &Value) -> String {
    let mut text = format!("    SourcesOf {{ table: {stem:?}, sources: &[");
    for source in table["sources"].as_array().into_iter().flatten() {
        let part = |key: &str| source[key].as_str().map_or("None".to_owned(), |own| format!("Some({own:?})"));
        let title = source["title"].as_str().unwrap_or_default();
        text += &format!("\n        Named {{ title: {title:?}");
        for key in ["publisher", "edition", "clause", "address"] {
            text += &format!(", {key}: {}", part(key));
        }
        text += " },";
    }
    text + "] },\n"
}

/// What code names of a table, for `named!`: its rules and statements as statics, the names of its quantities as constants.
fn named(of: &Declared, rows: &[Value]) -> String {
    let (key, row) = match of.row.as_str() {
        "Rule" => ("rule", "crate::Rule"),
        "Statement" => ("subject", "crate::rule::Statement"),
        _ => return quantities(rows),
    };
    let names = rows.iter().map(|row| row[key].as_str().unwrap_or_default());
    let mut text = String::new();
    for (index, name) in names.enumerate() {
        let own = constant(name);
        text += &format!("/// `{name}`.\npub static {own}: &{row} = &{}::{}()[{index}];\n", of.module, of.rows);
    }
    text
}

/// The names of the quantities of a table as constants, each once.
fn quantities(rows: &[Value]) -> String {
    let names: BTreeSet<&str> = rows.iter().filter_map(|row| row["quantity"].as_str()).collect();
    let line = |name: &str| format!("/// `{name}`.\npub const {}: &str = {name:?};\n", constant(name));
    names.into_iter().map(line).collect()
}

/// The name of a constant for a name of a table.
fn constant(name: &str) -> String {
    name.replace('-', "_").to_uppercase()
}

/// The list of the tables, sorted by name, from the lines `table!(...)` of the modules that hold them.
fn list_of(stems: &[String], declared: &[Declared]) -> Result<String, Vec<String>> {
    let unread = stems.iter().filter(|stem| !declared.iter().any(|own| own.table == **stem));
    let unread = unread.map(|stem| format!("crates/handbook/tables/{stem}.yaml: no module declares it with `table!`"));
    let unwritten = declared.iter().filter(|own| !stems.contains(&own.table));
    let unwritten = unwritten.map(|own| format!("{}: there is no tables/{}.yaml", own.module, own.table));
    let faults: Vec<String> = unread.chain(unwritten).collect();
    if !faults.is_empty() {
        return Err(faults);
    }
    let lines: String = declared.iter().map(|own| format!("    &{}::{},\n", own.module, own.info)).collect();
    Ok(format!("/// Every table, by name.\npub static TABLES: &[&TableInfo] = &[\n{lines}];\n"))
}

/// The rows as their types read them: what tells where a row comes from stands under `origin`, with the place of the table
/// in `SOURCES` and those of the row's sources in the table; columns that are only printed are left out.
fn typed_rows(place: usize, table: &Value, printed: &BTreeSet<String>) -> Vec<Value> {
    let keys: Vec<&Value> = table["sources"].as_array().into_iter().flatten().map(|source| &source["key"]).collect();
    let place_of = |key: &Value| keys.iter().position(|own| *own == key);
    let rows = table["rows"].as_array().into_iter().flatten().filter_map(Value::as_object).map(|row| {
        let (mut origin, mut typed) = (Map::new(), Map::new());
        origin.insert("table".to_owned(), json!(place));
        for (key, value) in row.iter().filter(|(key, _)| !printed.contains(*key)) {
            let part = if ROW_KEYS.contains(&key.as_str()) { &mut origin } else { &mut typed };
            part.insert(key.clone(), value.clone());
        }
        if let Some(named) = row.get("source").and_then(Value::as_array) {
            origin.insert("source".to_owned(), named.iter().filter_map(place_of).collect());
        }
        typed.insert("origin".to_owned(), Value::Object(origin));
        Value::Object(typed)
    });
    rows.collect()
}

/// The columns marked `printed: true`, which no code reads; the mark is taken off.
fn printed(table: &mut Value) -> BTreeSet<String> {
    let columns = table.get_mut("columns").and_then(Value::as_object_mut).into_iter().flatten();
    let marked = columns.filter_map(|(key, column)| {
        let mark = column.as_object_mut()?.remove("printed")?;
        (mark == true).then(|| key.clone())
    });
    marked.collect()
}

fn yaml_files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut paths: Vec<PathBuf> =
        entries.map(|entry| entry.path()).filter(|path| path.extension().is_some_and(|end| end == "yaml")).collect();
    paths.sort();
    paths
}

fn read(path: &Path) -> Result<Value, String> {
    let text = fs::read_to_string(path).map_err(|error| error.to_string())?;
    // The tables are this crate's own text, so no budget guards their size.
    let options = serde_yaml::options! { budget: None, strict_booleans: true };
    serde_yaml::from_str_with_options(&text, options).map_err(|error| error.to_string())
}

/// Checks a table and gives it as JSON with sources, columns and rows as lists, so that their order is kept.
fn compact(stem: &str, table: Value, register: &Map<String, Value>) -> Result<Value, Vec<String>> {
    let Value::Object(table) = table else {
        return Err(vec!["a table is a mapping".to_owned()]);
    };
    let mut faults = Vec::new();
    for key in table.keys().filter(|key| !TABLE_KEYS.contains(&key.as_str())) {
        faults.push(format!("unknown key `{key}`"));
    }
    if text(&table, "table") != Some(stem) {
        faults.push(format!("`table` must be `{stem}`, like the file"));
    }
    if !stem.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-') {
        faults.push(format!("the name `{stem}` is not kebab-case"));
    }
    for key in ["title", "about"] {
        if text(&table, key).is_none() {
            faults.push(format!("`{key}` is missing or empty"));
        }
    }
    let empty = Map::new();
    let sources = &filled(table.get("sources").and_then(Value::as_object).unwrap_or(&empty), register, &mut faults);
    let columns = table.get("columns").and_then(Value::as_object).unwrap_or(&empty);
    let no_rows = Vec::new();
    let rows = table.get("rows").and_then(Value::as_array).unwrap_or(&no_rows);
    for (what, none) in [("sources", sources.is_empty()), ("columns", columns.is_empty()), ("rows", rows.is_empty())] {
        if none {
            faults.push(format!("`{what}` is missing or empty"));
        }
    }
    for (key, source) in sources {
        entry(
            &format!("source `{key}`"),
            source,
            &["title"],
            &["edition", "clause", "publisher", "standing", "address"],
            &mut faults,
        );
    }
    for (key, column) in columns {
        entry(&format!("column `{key}`"), column, &["label", "meaning"], &["unit"], &mut faults);
        if ROW_KEYS.contains(&key.as_str()) {
            faults.push(format!("column `{key}` has the name of a key that every row may have"));
        }
    }
    let mut seen = BTreeSet::new();
    for (index, value) in rows.iter().enumerate() {
        let place = format!("row {} {}", index + 1, opening(value));
        row(&place, value, sources, columns, &mut seen, &mut faults);
        if stem != REGISTER {
            published(&place, value, sources, &mut faults);
        }
    }
    for key in columns.keys().filter(|key| !seen.contains(key.as_str())) {
        faults.push(format!("column `{key}` stands in no row"));
    }
    for key in sources.keys().filter(|key| !seen.contains(format!("source {key}").as_str())) {
        faults.push(format!("source `{key}` is named by no row"));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(json!({
        "table": stem,
        "title": table.get("title"),
        "about": table.get("about"),
        "sources": listed(sources),
        "columns": listed(columns),
        "rows": rows,
        "notes": table.get("notes").cloned().unwrap_or_else(|| json!([])),
    }))
}

/// Lists of identifiers that a source may have.
const LISTS: &[&str] = &["register", "read_at"];

/// The rows of the register by identifier.
fn registered(table: &Value) -> Map<String, Value> {
    let rows = table["rows"].as_array().into_iter().flatten();
    rows.filter_map(|row| Some((row["id"].as_str()?.to_owned(), row.clone()))).collect()
}

/// Sources with publisher, standing and address of the documents that they name in the register.
fn filled(sources: &Map<String, Value>, register: &Map<String, Value>, faults: &mut Vec<String>) -> Map<String, Value> {
    let mut filled = Map::new();
    for (key, source) in sources {
        let mut source = source.clone();
        let mut publishers: Vec<String> = Vec::new();
        let (mut standing, mut address) = (None, None);
        for list in LISTS {
            for id in source[*list].as_array().into_iter().flatten().filter_map(Value::as_str) {
                let Some(row) = register.get(id) else {
                    faults.push(format!("source `{key}` names `{id}`, which is not in the table `{REGISTER}`"));
                    continue;
                };
                if *list == "register" {
                    if let Some(publisher) = row["publisher"].as_str()
                        && !publishers.iter().any(|own| own == publisher)
                    {
                        publishers.push(publisher.to_owned());
                    }
                    standing = standing.or_else(|| row.get("standing").cloned());
                }
                address = address.or_else(|| row.get("address").cloned());
            }
        }
        if let Some(map) = source.as_object_mut() {
            if !publishers.is_empty() {
                map.entry("publisher").or_insert_with(|| json!(publishers.join("; ")));
            }
            for (name, value) in [("standing", standing), ("address", address)] {
                if let Some(value) = value {
                    map.entry(name).or_insert(value);
                }
            }
        }
        filled.insert(key.clone(), source);
    }
    filled
}

/// A published row has a source whose publisher is named.
fn published(place: &str, value: &Value, sources: &Map<String, Value>, faults: &mut Vec<String>) {
    let of_fields = value["basis_of"].as_object().into_iter().flat_map(Map::values);
    let mut bases = std::iter::once(&value["basis"]).chain(of_fields);
    let mut named = value["source"].as_array().into_iter().flatten().filter_map(Value::as_str);
    let has_publisher = |key: &str| sources.get(key).is_some_and(|source| source["publisher"].is_string());
    if bases.any(|basis| basis == "published") && !named.any(has_publisher) {
        faults.push(format!("{place} is published and none of its sources names a publisher"));
    }
}

fn text<'v>(map: &'v Map<String, Value>, key: &str) -> Option<&'v str> {
    map.get(key).and_then(Value::as_str).filter(|text| !text.trim().is_empty())
}

/// The first values of a row, to find it by.
fn opening(row: &Value) -> String {
    let values = row.as_object().into_iter().flat_map(Map::values).take(3);
    format!("({})", values.map(Value::to_string).collect::<Vec<_>>().join(", "))
}

/// A source or a column: a mapping of texts.
fn entry(place: &str, value: &Value, needed: &[&str], allowed: &[&str], faults: &mut Vec<String>) {
    let Some(map) = value.as_object() else {
        faults.push(format!("{place} is not a mapping"));
        return;
    };
    for key in needed.iter().filter(|key| text(map, key).is_none()) {
        faults.push(format!("{place} has no `{key}`"));
    }
    for (key, value) in map {
        if LISTS.contains(&key.as_str()) && value.is_array() {
            continue;
        }
        if !needed.contains(&key.as_str()) && !allowed.contains(&key.as_str()) {
            faults.push(format!("{place} has the unknown key `{key}`"));
        } else if !value.is_string() {
            faults.push(format!("`{key}` of {place} is not text; put it in quotes"));
        }
    }
}

fn row(
    place: &str,
    value: &Value,
    sources: &Map<String, Value>,
    columns: &Map<String, Value>,
    seen: &mut BTreeSet<String>,
    faults: &mut Vec<String>,
) {
    let Some(row) = value.as_object() else {
        faults.push(format!("{place} is not a mapping"));
        return;
    };
    let named = row.get("source").and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    if named.is_empty() {
        faults.push(format!("{place} names no source; write `source: [KEY]`"));
    }
    for source in named {
        match source.as_str().filter(|key| sources.contains_key(*key)) {
            Some(key) => drop(seen.insert(format!("source {key}"))),
            None => faults.push(format!("{place} names the source {source}, which is not in `sources`")),
        }
    }
    let basis = |value: &Value| value.as_str().is_some_and(|word| BASES.iter().any(|(own, _)| *own == word));
    match row.get("basis") {
        Some(word) if basis(word) => {}
        Some(word) => {
            faults.push(format!("{place} has the basis {word}; it is one of {}", BASES.map(|(own, _)| own).join(", ")));
        }
        None => faults.push(format!("{place} has no basis")),
    }
    for (field, word) in row.get("basis_of").and_then(Value::as_object).into_iter().flatten() {
        if !row.contains_key(field) || !basis(word) {
            faults.push(format!("{place}: `basis_of` names `{field}: {word}`, no field of the row or no basis"));
        }
    }
    for (key, value) in row {
        if ROW_KEYS.contains(&key.as_str()) {
            continue;
        }
        if !columns.contains_key(key) {
            faults.push(format!("{place} has `{key}`, which is no column"));
        }
        seen.insert(key.clone());
        figures(&format!("{place}, `{key}`"), value, faults);
    }
}

/// Numbers must be finite, and a pair of numbers is a range: low before high.
fn figures(place: &str, value: &Value, faults: &mut Vec<String>) {
    match value {
        Value::Number(number) if !number.as_f64().is_some_and(f64::is_finite) => {
            faults.push(format!("{place}: {number} is not a finite number"));
        }
        Value::Array(items) => {
            if let [low, high] = items.as_slice()
                && let (Some(low), Some(high)) = (low.as_f64(), high.as_f64())
                && low > high
            {
                faults.push(format!("{place}: the range [{low}, {high}] runs downwards"));
            }
            for item in items {
                figures(place, item, faults);
            }
        }
        Value::Object(map) => map.values().for_each(|item| figures(place, item, faults)),
        _ => {}
    }
}

/// A mapping as a list whose entries carry their key.
fn listed(map: &Map<String, Value>) -> Vec<Value> {
    map.iter()
        .map(|(key, value)| {
            let mut entry = Map::new();
            entry.insert("key".to_owned(), json!(key));
            entry.extend(value.as_object().cloned().unwrap_or_default());
            Value::Object(entry)
        })
        .collect()
}
