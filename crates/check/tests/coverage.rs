//! `COVERAGE.md` says what the tables and the checks say: clause by clause, key by key.
//!
//! To bless it after a change of a table or a check: `cargo xtask bless`, then read the
//! difference before it is committed.

mod common;

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use common::{edited, starter};
use seamwright_check::rule::Case;
use seamwright_check::{check_document, rules::RULES};
use seamwright_handbook::table::Table;
use seamwright_handbook::variables::{self, Row};
use seamwright_handbook::{code_scope, iso_15609_1, table};
use serde_json::{Map, Value};

/// Tables of the variables of codes, with the columns that are printed.
const CODES: [(&str, &str, &[&str]); 7] = [
    ("ISO 15614-1", "iso-15614-1-variables", &["paragraph", "wording", "category", "processes"]),
    ("ISO 15614-2", "iso-15614-2-variables", &["paragraph", "wording", "category", "processes"]),
    ("ASME BPVC IX", "asme-ix-variables", &["paragraph", "subject", "category", "processes"]),
    ("ASME BPVC IX, contents", "asme-ix-contents", &["clause", "item"]),
    ("AWS D1.1", "aws-d1-1-variables", &["variable", "change", "processes"]),
    ("AWS D1.1, contents", "aws-d1-1-contents", &["clause", "item", "processes"]),
    ("API 1104", "api-1104-variables", &["paragraph", "variable", "change", "processes"]),
];

/// Keys, as the tables of the codes write them, at which a check has found a fault or compared a value.
fn checked_keys() -> BTreeSet<String> {
    let mut keys = BTreeSet::new();
    let mut note = |pointer: &str| {
        // What is missing is reported at the section around it.
        if let Some(row) = variables::get(pointer) {
            keys.insert(row.dotted());
        }
    };
    for rule in RULES {
        for case in rule.faulty {
            let outcome = check_document(&edited(&starter(case.base), case));
            outcome.findings.iter().filter(|finding| finding.check == rule.name).for_each(|f| note(&f.pointer));
            outcome.comparisons.iter().for_each(|comparison| note(&comparison.pointer));
        }
    }
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures");
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "yaml") {
            let base = starter(path.file_stem().unwrap().to_str().unwrap());
            let outcome = check_document(&edited(&base, &Case { base: "", edits: &[] }));
            outcome.comparisons.iter().for_each(|comparison| note(&comparison.pointer));
        }
    }
    keys
}

/// `checked` where a check looks at one of the keys or at what stands in it, else `printed`; without a key the user's duty.
fn how<'k>(keys: impl IntoIterator<Item = &'k str>, checked: &BTreeSet<String>) -> &'static str {
    let mut stated = false;
    for key in keys {
        stated = true;
        if checked.iter().any(|own| own.strip_prefix(key).is_some_and(|rest| rest.is_empty() || rest.starts_with('.')))
        {
            return "checked";
        }
    }
    if stated { "printed" } else { "the user's duty" }
}

fn code<K: std::fmt::Display>(keys: &[K]) -> String {
    keys.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>().join(", ")
}

/// The text of a cell; a list with commas.
fn text(row: &Map<String, Value>, column: &str) -> String {
    match row.get(column) {
        Some(Value::String(text)) => text.clone(),
        Some(Value::Array(items)) => items.iter().filter_map(Value::as_str).collect::<Vec<_>>().join(", "),
        _ => String::new(),
    }
}

fn coverage() -> String {
    let checked = checked_keys();
    let mut out = String::from(
        "# What is covered\n\n\
         Written by `cargo xtask bless` from the tables and the checks; not edited by hand.\n\n\
         - **checked**: a check compares the value with a limit, or finds fault where it is missing or contradicts another\n\
         - **printed**: the sheets show it as stated; whether it is right is for the reader to judge\n\
         - **the user's duty**: no key states it\n\n\
         In the keys, `settings` stands for a process and for a run that differs from it.\n\n\
         ## ISO 15609-1:2019\n\n\
         Headings of the clauses as published; the items are from memory, verify against your edition.\n\n\
         | clause | item | asked for | processes | keys | |\n| --- | --- | --- | --- | --- | --- |\n",
    );
    for row in iso_15609_1::rows() {
        let when = row.when.in_words();
        let processes = if row.processes.is_empty() { "all".to_owned() } else { row.processes.join(", ") };
        let how = how(row.keys.iter().copied(), &checked);
        writeln!(out, "| {} | {} | {when} | {processes} | {} | {how} |", row.clause, row.item, code(row.keys)).unwrap();
    }
    out.push_str("\n## Keys beside ISO 15609-1\n\n| key | why it is there | |\n| --- | --- | --- |\n");
    for row in variables::rows() {
        if let Some(why) = &row.beside {
            let key = row.dotted();
            writeln!(out, "| `{key}` | {why} | {} |", how([key.as_str()], &checked)).unwrap();
        }
    }
    for (title, name, columns) in CODES {
        variables_of(&mut out, title, table(name).unwrap(), columns, &checked);
    }
    out.push_str("\n## Codes, part by part\n\n| code | part | | held |\n| --- | --- | --- | --- |\n");
    for row in code_scope::reaches() {
        let reach = match row.reach {
            "enforced" => "enforced",
            "user" => "the user's duty",
            _ => "out of reach",
        };
        writeln!(out, "| {} | {} | {reach} | {} |", row.code, row.what, row.why).unwrap();
    }
    out
}

fn variables_of(out: &mut String, title: &str, table: &Table, columns: &[&str], checked: &BTreeSet<String>) {
    let label = |key: &str| table.columns.iter().find(|own| own.key == key).unwrap().label.to_lowercase();
    let heads: Vec<String> = columns.iter().map(|key| label(key)).collect();
    writeln!(out, "\n## {title}\n\n{} Verify against your edition.\n", table.about.trim()).unwrap();
    // A table without processes holds for all.
    let heads = if columns.contains(&"processes") { heads } else { [heads, vec!["processes".to_owned()]].concat() };
    writeln!(out, "| {} | keys | |\n|{}", heads.join(" | "), " --- |".repeat(heads.len() + 2)).unwrap();
    // The list of each process repeats most variables: one line for each, with all its processes.
    let mut lines: Vec<(Vec<String>, Vec<String>, Vec<String>)> = Vec::new();
    for row in &table.rows {
        let cells: Vec<String> =
            columns.iter().filter(|key| **key != "processes").map(|column| text(row, column)).collect();
        let list = |key: &str| -> Vec<String> {
            row.get(key)
                .and_then(Value::as_array)
                .into_iter()
                .flatten()
                .filter_map(Value::as_str)
                .map(str::to_owned)
                .collect()
        };
        let (processes, keys) = (list("processes"), list("keys"));
        match lines.iter_mut().find(|(own, _, own_keys)| *own == cells && *own_keys == keys) {
            Some((_, all, _)) => all.extend(processes),
            None => lines.push((cells, processes, keys)),
        }
    }
    for (cells, processes, keys) in lines {
        let processes = if processes.is_empty() { "all".to_owned() } else { processes.join(", ") };
        let how = how(keys.iter().map(String::as_str), checked);
        writeln!(out, "| {} | {processes} | {} | {how} |", cells.join(" | "), code(&keys)).unwrap();
    }
}

#[test]
fn the_page_says_what_the_tables_and_the_checks_say() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("COVERAGE.md");
    let fresh = coverage();
    if std::env::var_os("BLESS").is_some() {
        fs::write(&path, &fresh).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    let differing = kept.lines().zip(fresh.lines()).find(|(kept, fresh)| kept != fresh);
    assert!(
        kept == fresh,
        "COVERAGE.md is not what the tables and checks say now; first difference: {differing:#?}\n\
         bless it with cargo xtask bless, and read the difference"
    );
}

#[test]
fn every_key_stands_under_a_clause_or_beside_the_standard() {
    let page = coverage();
    for row in variables::rows() {
        let key = row.dotted();
        // A section is covered by what stands in it, and a value by its section.
        let inside = |own: &Row| own.dotted().starts_with(&format!("{key}."));
        let around = (1..key.split('.').count()).map(|n| key.split('.').take(n).collect::<Vec<_>>().join("."));
        let named = |key: &str| page.contains(&format!("`{key}`"));
        assert!(
            named(&key)
                || around.clone().any(|section| named(&section))
                || variables::rows().iter().any(|own| inside(own) && named(&own.dotted())),
            "{key}"
        );
    }
}
