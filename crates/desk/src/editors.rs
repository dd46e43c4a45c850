//! The schema as editors use it: it knows units, positions, processes and checks, and suggests metals, fillers and gases,
//! so that a slip is underlined while it is typed. It accepts less than is read: what is read is judged by the checks.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use anyhow::Result;
use seamwright_handbook::{base_metals, filler_classes, positions, processes, shielding_gases, variables};
use seamwright_model::document::{FORMAT, KINDS};
use seamwright_model::quantity::{DIMENSIONS, Dimension};
use seamwright_model::stated::NOT_APPLICABLE;
use seamwright_model::trade::AMBIENT;
use serde_json::{Map, Value, json};

use crate::files::{self, Asked, Files};

/// Name of the file that drafts, starters and examples name.
pub const FILE: &str = "seamwright.schema.json";

/// How the line at the top of a document begins that tells an editor which schema holds for it.
const NAMES: &str = "# yaml-language-server: $schema=";

/// What has a schema besides the kinds of document.
pub const FILES: [&str; 2] = ["house-style", "joints"];

/// A document with the line at its top that tells editors which schema holds for it.
pub fn with_line(text: &str) -> String {
    format!("{NAMES}{FILE}\n{text}")
}

/// The schema of what is meant: a kind of document, one of [`FILES`], or every kind of document; `None` where there is none.
pub fn of(what: Option<&str>) -> Option<Value> {
    match what {
        None => Some(schema()),
        Some("house-style") => Some(house_style()),
        Some("joints") => Some(joints()),
        Some(kind) => schema_of(kind),
    }
}

/// Name of the file of the schema of what is meant.
pub fn file_name(what: Option<&str>) -> String {
    what.map_or_else(|| FILE.to_owned(), |what| format!("{what}.{FILE}"))
}

/// The schemas that the documents below a folder name in a line at their top: where each belongs, and what it describes.
///
/// Where none does, that of every kind of document belongs in the folder itself.
pub fn named_below(files: &dyn Files, folder: &Path) -> Result<Vec<(PathBuf, Option<&'static str>)>> {
    const HEAD: u64 = 4 << 10;
    let known: Vec<Option<&'static str>> =
        std::iter::once(None).chain(KINDS.iter().copied().chain(FILES).map(Some)).collect();
    let mut found = BTreeSet::new();
    for input in files::below(files, folder)? {
        let head = files.read(&input.path, Asked::Found, HEAD).unwrap_or_default();
        let head = String::from_utf8_lossy(&head);
        let named = head.lines().take_while(|line| line.starts_with('#')).find_map(|line| line.strip_prefix(NAMES));
        let what = named.and_then(|name| known.iter().find(|what| file_name(**what) == name.trim()));
        if let (Some(what), Some(beside)) = (what, input.path.parent()) {
            found.insert((beside.join(file_name(*what)), *what));
        }
    }
    if found.is_empty() {
        found.insert((folder.join(FILE), None));
    }
    Ok(found.into_iter().collect())
}

/// JSON Schema 2020-12 of the file format for editors.
fn schema() -> Value {
    let mut schema = variables::schema();
    told(&mut schema, "");
    entries(&mut schema);
    if let Value::Object(map) = &mut schema {
        map.insert("$id".to_owned(), json!(id("document")));
    }
    schema
}

/// The same of one kind of document, by its word.
fn schema_of(kind: &str) -> Option<Value> {
    let kind = KINDS.iter().find(|own| **own == kind)?;
    let mut whole = schema();
    let own = whole.pointer("/allOf")?.as_array()?.iter().find_map(|part| {
        (part.pointer("/if/properties/document/const")?.as_str()? == *kind).then(|| part.get("then").cloned())?
    })?;
    let Value::Object(map) = &mut whole else { return None };
    map.insert("$id".to_owned(), json!(id(kind)));
    map.insert("title".to_owned(), json!(format!("A Seamwright document: {kind}")));
    map.insert("allOf".to_owned(), json!([own]));
    map.insert("properties".to_owned(), json!({"format": {"const": FORMAT}, "document": {"const": kind}}));
    Some(whole)
}

/// JSON Schema of a file of house style.
fn house_style() -> Value {
    let file = |what: &str, title: &str| json!({"title": title, "type": "string", "minLength": 1, "description": what, "examples": ["logo.svg"]});
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": id("house-style"),
        "title": "A Seamwright house style",
        "description": "What a shop puts on its sheets.",
        "type": "object",
        "additionalProperties": false,
        "properties": {
            "lines": {
                "title": "Name block", "type": "array", "maxItems": crate::house_style::LINES.0,
                "description": "Lines under the title: address, telephone, certificates.",
                "items": {"type": "string", "minLength": 1, "maxLength": crate::house_style::LINES.1},
            },
            "accent": {
                "title": "Colour", "type": "string", "pattern": "^#[0-9A-Fa-f]{6}$",
                "description": "Colour of the rule under the head, at least 3 : 1 on white.", "examples": ["#1f4e79"],
            },
            "logo": file("SVG or PNG beside this file, for PDF and HTML.", "Logo"),
            "print_logo": file("Another logo for PDF, where `logo` is an SVG that a PDF does not print.", "Logo for print"),
        },
    })
}

/// JSON Schema of a list of joints for `estimate --joints`.
fn joints() -> Value {
    let length = DIMENSIONS.iter().find(|own| own.format == "length").map(|own| pattern(own)).unwrap_or_default();
    let text = |title: &str, what: &str, example: &str| json!({"title": title, "type": "string", "minLength": 1, "description": what, "examples": [example]});
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": id("joints"),
        "title": "A Seamwright list of joints",
        "description": "Joints with their lengths, of which `estimate --joints` makes sums.",
        "type": "array",
        "minItems": 1,
        "items": {
            "type": "object",
            "required": ["joint", "length"],
            "additionalProperties": false,
            "properties": {
                "joint": text("Joint", "What it is called.", "W1"),
                "length": {
                    "title": "Length", "type": "string", "pattern": length,
                    "description": "Length of weld with its unit.", "examples": ["1.2 m"],
                },
                "count": {
                    "title": "Count", "type": "integer", "minimum": 1,
                    "description": "How many there are; 1 if left out.",
                },
                "procedure": text("Procedure", "Number of its procedure, where there are several.", "P-001"),
            },
        },
    })
}

fn id(what: &str) -> String {
    format!("urn:seamwright:schema:{FORMAT}:{what}")
}

/// Puts title and pattern where a key or a format has them.
fn told(schema: &mut Value, key: &str) {
    match schema {
        Value::Object(map) => {
            if let Some(format) = map.get("format").and_then(Value::as_str).and_then(pattern_of) {
                map.insert("pattern".to_owned(), json!(format));
            }
            // A share of a composition may have its sign.
            if map.get("maximum") == Some(&json!(100)) && map.get("type") == Some(&json!("number")) {
                map.insert("type".to_owned(), json!(["number", "string"]));
                map.insert("pattern".to_owned(), json!(r"^\s*\d+(\.\d+)?\s*(%|percent)\s*$"));
            }
            if !key.is_empty() && !map.contains_key("title") {
                map.insert("title".to_owned(), json!(spoken(key)));
            }
            for (name, below) in map.iter_mut() {
                match (name.as_str(), below) {
                    ("properties" | "$defs", Value::Object(own)) => {
                        for (key, property) in own.iter_mut() {
                            told(property, key);
                        }
                    }
                    ("items" | "additionalProperties" | "then" | "else", below) => told(below, ""),
                    ("anyOf" | "oneOf" | "allOf", Value::Array(parts)) => {
                        for part in parts.iter_mut() {
                            told(part, "");
                        }
                    }
                    _ => {}
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| told(item, "")),
        _ => {}
    }
}

/// `wire_feed_speed` and `BackingGas` as "Wire feed speed" and "Backing gas".
fn spoken(key: &str) -> String {
    let mut words = String::new();
    for (at, character) in key.chars().enumerate() {
        match character {
            '_' => words.push(' '),
            _ if at == 0 => words.extend(character.to_uppercase()),
            _ if character.is_uppercase() && !words.ends_with(char::is_uppercase) => {
                words.push(' ');
                words.extend(character.to_lowercase());
            }
            _ => words.push(character),
        }
    }
    words
}

/// The pattern of a format.
fn pattern_of(format: &str) -> Option<String> {
    match format {
        "date" => Some(r"^\d{4}-\d{2}-\d{2}$".to_owned()),
        _ => DIMENSIONS.iter().find(|own| own.format == format).map(|own| pattern(own)),
    }
}

/// What a quantity may look like: a number, a range or a limit, with a unit in any spelling that is read.
fn pattern(dimension: &Dimension) -> String {
    const NUMBER: &str = r"[-‐‑–−]?((\d+(\.\d+)?|\.\d+)(([ ‐‑-]+\d+)?\s*/\s*\d+)?|(\d+[ ‐‑-]*)?[¼½¾⅛⅜⅝⅞])";
    const TO: &str = r"\s*([-‐‑‒–—―−]|[tT][oO])\s*";
    const SIDE: &str = r"(\s*([mM][iI][nN](\.|[iI][mM][uU][mM])?|[mM][aA][xX](\.|[iI][mM][uU][mM])?))?";
    let mut spellings: Vec<&str> = dimension
        .units
        .iter()
        .flat_map(|unit| std::iter::once(unit.symbol).chain(unit.aliases.iter().copied()))
        .collect();
    spellings.sort_by_key(|spelling| std::cmp::Reverse(spelling.len()));
    let units: Vec<String> = spellings.into_iter().map(in_any_case).collect();
    let unit = format!(r"\s*({})\.?", units.join("|"));
    let value = format!("{NUMBER}({unit})?");
    format!(
        r"^\s*({NUMBER}({unit})?({TO}{NUMBER})?{unit}{SIDE}|{NUMBER}{unit}{SIDE}|{value}(, {value})* or {NUMBER}{unit}|{NOT_APPLICABLE})\s*$"
    )
}

/// A text as a pattern that reads it in large and small letters.
fn in_any_case(text: &str) -> String {
    let mut pattern = String::new();
    for character in text.chars() {
        match character {
            letter if letter.is_ascii_alphabetic() => {
                pattern.push_str(&format!("[{}{}]", letter.to_ascii_lowercase(), letter.to_ascii_uppercase()));
            }
            ' ' => pattern.push_str(r"\s+"),
            '.' | '^' | '$' | '(' | ')' | '[' | ']' | '{' | '}' | '|' | '*' | '+' | '?' | '\\' | '/' => {
                pattern.push('\\');
                pattern.push(character);
            }
            other => pattern.push(other),
        }
    }
    pattern
}

/// Names of the handbook: closed lists where a name that is not known is a fault, else suggestions.
fn entries(schema: &mut Value) {
    let numbers: Vec<&str> = processes::rows().iter().map(|row| row.number).collect();
    let mut names = numbers.clone();
    for name in processes::rows().iter().flat_map(|row| std::iter::once(&row.letters).chain(row.also)) {
        if !names.contains(&&**name) {
            names.push(name);
        }
    }
    let places: Vec<&str> = positions::rows().iter().map(|row| row.code).collect();
    let metals: Vec<&str> = base_metals::all().map(|metal| metal.specification).collect();
    let fillers: Vec<&str> = filler_classes::all().map(|filler| filler.classification).collect();
    let gases: Vec<&str> = shielding_gases::rows().iter().map(|gas| gas.symbol).collect();
    let checks: Vec<&str> = seamwright_check::explanations().into_iter().map(|check| check.name).collect();
    let mut put = |pointer: &str, key: &str, value: Value| {
        if let Some(Value::Object(own)) = schema.pointer_mut(pointer) {
            own.insert(key.to_owned(), value);
        }
    };
    for pointer in [
        "/$defs/Run/properties/positions/items",
        "/$defs/Condition/properties/positions/items",
        "/$defs/JobJoint/properties/position",
    ] {
        put(pointer, "enum", json!(places));
    }
    // `all` stands for every position of the weld, alone or in a list.
    for owner in ["Procedure", "TestRecord"] {
        let pointer = format!("/$defs/{owner}/properties/positions");
        let all: Vec<&str> = places.iter().copied().chain(["all"]).collect();
        put(&format!("{pointer}/items"), "enum", json!(all));
        put(&pointer, "type", json!(["array", "string"]));
        put(&pointer, "if", json!({"type": "string"}));
        put(&pointer, "then", json!({"enum": ["all"]}));
    }
    let preheating = "/$defs/Temperatures/properties/preheating";
    let words = AMBIENT.map(in_any_case).join("|");
    let pattern = pattern_of("temperature").unwrap_or_default();
    put(preheating, "pattern", json!(pattern.replace(NOT_APPLICABLE, &format!("{words}|{NOT_APPLICABLE}"))));
    // A number in YAML is a number, not a text.
    let typed: Vec<Value> = numbers
        .iter()
        .filter_map(|own| own.parse::<u32>().ok().map(|number| json!(number)))
        .chain(names.iter().map(|own| json!(own)))
        .collect();
    put("/$defs/Run/properties/process", "enum", json!(typed));
    let settings: Map<String, Value> =
        names.iter().map(|own| ((*own).to_owned(), json!({"$ref": "#/$defs/Settings"}))).collect();
    // A language server for YAML takes a key in digits for a number, which is no name of `properties` to it.
    let digits = format!("^({})$", numbers.join("|"));
    for owner in ["Procedure", "TestRecord"] {
        let pointer = format!("/$defs/{owner}/properties/processes");
        put(&pointer, "properties", Value::Object(settings.clone()));
        put(&pointer, "patternProperties", json!({digits.as_str(): {"$ref": "#/$defs/Settings"}}));
        put(&pointer, "additionalProperties", json!(false));
    }
    put("/$defs/ParentMetal/properties/specification", "examples", json!(metals));
    put("/$defs/StockMetal/properties/specification", "examples", json!(metals));
    put("/$defs/Filler/properties/designation", "examples", json!(fillers));
    put("/$defs/StockFiller/properties/designation", "examples", json!(fillers));
    for owner in ["ShieldingGas", "BackingGas", "GasCylinder"] {
        put(&format!("/$defs/{owner}/properties/designation"), "examples", json!(gases));
    }
    put("/$defs/Deviation/properties/check", "enum", json!(checks));
}
