//! Turns `words/labels.yaml` and `words/terms.yaml` into constants: a label that code names and no row has does not compile.
//!
//! The build stops at a row that lacks a word, at a language that fills other places in braces than the English, at one of two
//! languages alone, at a source that is not listed, and at a key or term that stands twice.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::PathBuf;
use std::{env, fs, process};

use serde_json::{Map, Value};

type Mapping = Map<String, Value>;

/// Keys that a row of either file may have.
const ROW_KEYS: &[&str] = &["key", "en", "aws", "es", "de", "es_from", "de_from"];

fn main() {
    println!("cargo::rerun-if-changed=words");
    println!("cargo::rerun-if-changed=build.rs");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    match generated() {
        Ok(text) => {
            if let Err(error) = fs::write(out.join("words.rs"), text) {
                eprintln!("words.rs: {error}");
                process::exit(1);
            }
        }
        Err(faults) => {
            eprintln!("{}", faults.join("\n"));
            process::exit(1);
        }
    }
}

fn generated() -> Result<String, Vec<String>> {
    let read = |name: &str| -> Result<Value, Vec<String>> {
        let text = fs::read_to_string(name).map_err(|error| vec![format!("{name}: {error}")])?;
        let options = serde_yaml::options! { budget: None, strict_booleans: true };
        serde_yaml::from_str_with_options(&text, options).map_err(|error| vec![format!("{name}: {error}")])
    };
    let (labels, terms) = (read("words/labels.yaml")?, read("words/terms.yaml")?);
    let mut faults = Vec::new();
    let sources: BTreeSet<String> =
        rows(terms.get("sources")).iter().filter_map(|row| text(row, "id")).chain(["composed".to_owned()]).collect();
    let mut constants = String::from(
        "/// The labels of sheets, as `words/labels.yaml` has them.\npub mod label {\n    use super::Label;\n",
    );
    let mut all = String::new();
    let mut keys = BTreeSet::new();
    for row in rows(Some(&labels)) {
        let key = text(&row, "key").unwrap_or_default();
        sound(&format!("words/labels.yaml: {key}"), &row, &sources, &mut faults);
        if !keys.insert(key.clone())
            || key.is_empty()
            || !key.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
        {
            faults.push(format!(
                "words/labels.yaml: key `{key}` stands twice, or is not of small letters, digits and hyphens"
            ));
        }
        let literal = format!(
            "Label {{ key: {key:?}, en: {:?}, aws: {}, es: {}, de: {} }}",
            text(&row, "en").unwrap_or_default(),
            option(&row, "aws"),
            option(&row, "es"),
            option(&row, "de"),
        );
        let _ = writeln!(
            constants,
            "    /// {}\n    pub const {}: Label = {literal};",
            doc(&row),
            key.to_uppercase().replace('-', "_")
        );
        let _ = writeln!(all, "    {literal},");
    }
    constants.push_str("}\n");
    let mut sorted = BTreeMap::new();
    for row in rows(terms.get("terms")) {
        let en = text(&row, "en").unwrap_or_default();
        sound(&format!("words/terms.yaml: {en}"), &row, &sources, &mut faults);
        let literal = format!("({en:?}, {}, {})", option(&row, "es"), option(&row, "de"));
        if sorted.insert(en.clone(), literal).is_some() {
            faults.push(format!("words/terms.yaml: `{en}` stands twice"));
        }
    }
    let terms: String = sorted.values().fold(String::new(), |mut text, literal| {
        let _ = writeln!(text, "    {literal},");
        text
    });
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(format!(
        "{constants}\n/// Every label.\n#[cfg(test)]\nstatic LABELS: &[Label] = &[\n{all}];\n\n\
         /// Terms by their English, sorted: Spanish and German.\nstatic TERMS: &[(&str, Option<&str>, Option<&str>)] = &[\n{terms}];\n"
    ))
}

fn rows(list: Option<&Value>) -> Vec<Mapping> {
    list.and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_object).cloned().collect()
}

fn text(row: &Mapping, key: &str) -> Option<String> {
    row.get(key).and_then(Value::as_str).map(str::to_owned)
}

fn option(row: &Mapping, key: &str) -> String {
    text(row, key).map_or_else(|| "None".to_owned(), |text| format!("Some({text:?})"))
}

/// The English as a line of documentation.
fn doc(row: &Mapping) -> String {
    let text = text(row, "en").unwrap_or_default();
    format!("`{}`", text.trim().replace('`', "'"))
}

fn sound(place: &str, row: &Mapping, sources: &BTreeSet<String>, faults: &mut Vec<String>) {
    for key in row.keys().filter(|key| !ROW_KEYS.contains(&key.as_str())) {
        faults.push(format!("{place}: `{key}` is not a key of a row"));
    }
    let Some(english) = text(row, "en").filter(|text| !text.trim().is_empty()) else {
        faults.push(format!("{place}: `en` is missing"));
        return;
    };
    if row.contains_key("es") != row.contains_key("de") {
        faults.push(format!("{place}: has one of `es` and `de` alone"));
    }
    for language in ["aws", "es", "de"] {
        let Some(words) = row.get(language) else { continue };
        match words.as_str() {
            Some(words) if places(words) == places(&english) => {}
            Some(_) => faults.push(format!("{place}: `{language}` fills other places in braces than `en`")),
            None => faults.push(format!("{place}: `{language}` is not a text")),
        }
    }
    for key in ["es_from", "de_from"] {
        if let Some(source) = text(row, key).filter(|source| !sources.contains(source)) {
            faults.push(format!("{place}: `{key}` names `{source}`, which the sources do not have"));
        }
    }
}

/// The names in braces.
fn places(text: &str) -> BTreeSet<&str> {
    text.split('{').skip(1).filter_map(|rest| rest.split_once('}').map(|(name, _)| name)).collect()
}
