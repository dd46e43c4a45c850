//! The dictionary of the variables of a procedure: the words of ISO and AWS for each key, and where the codes ask for it.
//!
//! A new key of the format needs a row of `variables` and, where ISO 15609-1 asks for it, its name in an item of
//! `iso-15609-1-contents`; tests hold the keys of the model and both tables to each other. What the codes ask of a key is
//! read from their own tables.

use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

use seamwright_model::document;
use seamwright_model::source::steps;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::table::{Origin, table};
use crate::{asme_ix, aws_d1_1, find as names, iso_15609_1, iso_15614_1, processes, qualified};

table!("variables", Row);

/// Whose words a sheet uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Terms {
    /// Those of ISO 15609-1 and ISO/TR 25901.
    #[default]
    Iso,
    /// Those of AWS A3.0.
    Aws,
}

/// One key.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// JSON pointer with `*` for any entry: `/processes/*/wire_feed_speed`.
    pub key: &'static str,
    /// The term of ISO.
    pub iso_term: &'static str,
    /// The term of AWS A3.0, where it differs.
    pub aws_term: Option<&'static str>,
    /// What the key states, in a few words.
    pub meaning: &'static str,
    /// Why the key is there though ISO 15609-1 does not ask for it.
    pub beside: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// The term of a body.
    pub fn term(&self, terms: Terms) -> &str {
        match terms {
            Terms::Iso => self.iso_term,
            Terms::Aws => self.aws_term.unwrap_or(self.iso_term),
        }
    }

    /// The key without its section: `wire_feed_speed`.
    pub fn name(&self) -> &str {
        self.key.rsplit('/').next().unwrap_or_default()
    }

    /// The key as the tables of the codes write it: `settings.wire_feed_speed`, `fillers.diameter`.
    pub fn dotted(&self) -> String {
        let mut parts: Vec<&str> = self.key.split('/').filter(|part| !part.is_empty() && *part != "*").collect();
        if let (Some(first), true) = (parts.first_mut(), self.key.starts_with("/processes/")) {
            *first = "settings";
        }
        parts.join(".")
    }

    /// Whether a key as the tables of the codes write it is `own` or a section around it.
    fn is_under(own: &str, dotted: &str) -> bool {
        own.strip_prefix(dotted).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    }

    /// Items of ISO 15609-1 that ask for the key, by its name or by that of its section.
    pub fn iso_items(&self) -> Vec<&'static iso_15609_1::Row> {
        let own = self.dotted();
        let named = |row: &&iso_15609_1::Row| row.keys.contains(&own.as_str());
        let exact: Vec<_> = iso_15609_1::rows().iter().filter(named).collect();
        if !exact.is_empty() || self.beside.is_some() {
            return exact;
        }
        let around = |row: &&iso_15609_1::Row| row.keys.iter().any(|key| Self::is_under(&own, key));
        let around: Vec<_> = iso_15609_1::rows().iter().filter(around).collect();
        if !around.is_empty() {
            return around;
        }
        // A section has the clauses of what stands in it.
        let inside = format!("{own}.");
        iso_15609_1::rows().iter().filter(|row| row.keys.iter().any(|key| key.starts_with(&inside))).collect()
    }

    /// Clauses of ISO 15609-1 that ask for the key, without repeats.
    pub fn clauses(&self) -> Vec<&'static str> {
        let mut clauses: Vec<&str> = self.iso_items().into_iter().map(|row| row.clause).collect();
        clauses.dedup();
        clauses
    }

    /// Variables of ASME IX that the key states.
    pub fn asme_ix(&self) -> Vec<&'static asme_ix::VariableRow> {
        let own = self.dotted();
        asme_ix::variables().iter().filter(|row| row.keys.iter().any(|key| Self::is_under(&own, key))).collect()
    }

    /// Variables of ISO 15614-1 that the key states.
    pub fn iso_15614_1(&self) -> Vec<&'static qualified::Variable> {
        let own = self.dotted();
        iso_15614_1::variables().iter().filter(|row| row.keys.iter().any(|key| Self::is_under(&own, key))).collect()
    }

    /// Variables of AWS D1.1 that the key states.
    pub fn aws_d1_1(&self) -> Vec<&'static aws_d1_1::VariableRow> {
        let own = self.dotted();
        aws_d1_1::variables().iter().filter(|row| row.keys.iter().any(|key| Self::is_under(&own, key))).collect()
    }

    /// Processes that have the key; empty where all have it.
    pub fn processes(&self) -> Vec<&'static processes::Row> {
        let Some(key) = self.key.strip_prefix("/processes/*/").and_then(|rest| rest.split('/').next()) else {
            return Vec::new();
        };
        let having: Vec<_> = processes::rows().iter().filter(|row| row.has_key(key)).collect();
        if having.len() == processes::rows().len() { Vec::new() } else { having }
    }

    /// The ways to write the key: the whole path, and its ends.
    fn spellings(&self) -> impl Iterator<Item = String> {
        let parts: Vec<&str> = self.key.split('/').filter(|part| !part.is_empty() && *part != "*").collect();
        (0..parts.len()).filter_map(move |from| Some(names::folded(&parts.get(from..)?.join("/"))))
    }
}

/// The row of a value by its JSON pointer: `/runs/0/wire_feed_speed` is that of its process.
pub fn get(pointer: &str) -> Option<&'static Row> {
    static INDEX: LazyLock<HashMap<&'static str, usize>> =
        LazyLock::new(|| rows().iter().enumerate().map(|(at, row)| (row.key, at)).collect());
    let by = |pattern: &str| INDEX.get(pattern).and_then(|at| rows().get(*at));
    // Most are asked for by their key.
    by(pointer).or_else(|| {
        let pattern = pattern(pointer);
        by(&pattern).or_else(|| by(&elsewhere(&pattern)?))
    })
}

/// The key whose row a key has that states the same in another place: what a run states itself has the key of its process,
/// what a condition states that of the procedure.
fn elsewhere(pattern: &str) -> Option<String> {
    let of_process = || pattern.strip_prefix("/runs").map(|own| format!("/processes{own}"));
    pattern.strip_prefix("/conditions/*").map(str::to_owned).or_else(of_process)
}

/// A JSON pointer with `*` where the author's entry stands: `/runs/0/current` is `/runs/*/current`.
///
/// Below a composition nothing is told apart: the elements have the key of the composition.
pub fn pattern(pointer: &str) -> String {
    const LISTS: [&str; 9] = [
        "parent_metals",
        "fillers",
        "processes",
        "positions",
        "conditions",
        "runs",
        "inspection",
        "revisions",
        "deviations",
    ];
    let mut pattern = String::new();
    let mut entry = false;
    for (depth, step) in steps(pointer).enumerate() {
        pattern.push('/');
        pattern.push_str(if entry { "*" } else { &step });
        if step == "composition" && depth > 0 {
            break;
        }
        entry = depth == 0 && LISTS.contains(&step.as_str());
    }
    // A list of plain values has no keys below it.
    pattern.strip_suffix("/*").filter(|list| *list == "/positions").map(str::to_owned).unwrap_or(pattern)
}

/// The term for a value by its JSON pointer; the last step of the pointer where no row has it.
pub fn term(pointer: &str, terms: Terms) -> &str {
    get(pointer).map_or_else(|| pointer.rsplit('/').next().unwrap_or_default(), |row| row.term(terms))
}

/// Clauses of ISO 15609-1 that ask for any of these keys, in few words: `4.4.11 to 4.4.15`.
pub fn clauses<'k>(keys: impl IntoIterator<Item = &'k str>) -> String {
    iso_15609_1::clauses_in_words(keys.into_iter().filter_map(get).flat_map(Row::clauses))
}

/// The rows that a name means: the whole key or its end, as pointer, with points or in words; a whole key goes first.
///
/// `wire_feed_speed`, `shielding_gas.flow`, `/processes/141/current`, `root gap` and an ISO or AWS term are names.
pub fn find(name: &str) -> Vec<&'static Row> {
    if let Some(row) = get(name) {
        return vec![row];
    }
    let path = name.trim().trim_start_matches('/').replace('.', "/").replace("/*/", "/");
    let path = path.strip_prefix("settings/").or_else(|| path.strip_prefix("runs/")).unwrap_or(&path);
    let wanted = names::folded(path);
    let whole = |row: &&Row| row.spellings().next().as_ref() == Some(&wanted);
    if let Some(row) = rows().iter().find(whole) {
        return vec![row];
    }
    let ends: Vec<&Row> = rows().iter().filter(|row| row.spellings().any(|end| end == wanted)).collect();
    if !ends.is_empty() {
        return ends;
    }
    let term = |row: &&Row| [Terms::Iso, Terms::Aws].iter().any(|terms| names::same(row.term(*terms), name));
    rows().iter().filter(term).collect()
}

/// Up to three keys that are spelt most like a name.
pub fn nearest(name: &str) -> Vec<&'static str> {
    names::nearest(name, rows().iter().map(Row::name))
}

/// The JSON Schema of the file format with the descriptions of the dictionary.
pub fn schema() -> Value {
    let mut schema = document::schema().clone();
    let mut described = HashSet::new();
    for place in places(&schema) {
        // A type that stands in several places is described by the first.
        if let Some(row) = get(&place.key).filter(|_| described.insert(place.at.clone()))
            && let Some(Value::Object(property)) = schema.pointer_mut(&place.at)
        {
            property.insert("description".into(), Value::from(description(row)));
        }
    }
    schema
}

fn description(row: &Row) -> String {
    let aws = row.aws_term.map_or(String::new(), |term| format!(" (AWS: {})", lower(term)));
    let clauses = iso_15609_1::clauses_in_words(row.clauses());
    let clauses = if clauses.is_empty() { String::new() } else { format!(" ISO 15609-1, {clauses}.") };
    format!("{}{aws}: {}.{clauses}", row.iso_term, row.meaning)
}

/// A term inside a sentence.
fn lower(term: &str) -> String {
    let abbreviation = term.chars().nth(1).is_some_and(char::is_uppercase) || term.starts_with("P-");
    if abbreviation { term.to_owned() } else { term.chars().flat_map(char::to_lowercase).collect() }
}

/// Every key of a procedure, as a pattern, in the order of the schema.
pub fn keys() -> Vec<String> {
    let mut seen = HashSet::new();
    places(document::schema()).into_iter().map(|place| place.key).filter(|key| seen.insert(key.clone())).collect()
}

/// A key of the schema: the place of its property there, and its pattern.
struct Place {
    at: String,
    key: String,
}

fn places(schema: &Value) -> Vec<Place> {
    let mut places = Vec::new();
    // With several kinds of document, each is a definition of its own.
    let root = if schema.pointer("/$defs/Procedure").is_some() { "/$defs/Procedure" } else { "" };
    walk(schema, root, "", &mut Vec::new(), &mut places);
    places
}

fn walk(schema: &Value, at: &str, key: &str, inside: &mut Vec<String>, places: &mut Vec<Place>) {
    let Some(node) = schema.pointer(at) else { return };
    if let Some(target) = node.get("$ref").and_then(Value::as_str).and_then(|target| target.strip_prefix('#'))
        && !inside.iter().any(|own| own == target)
    {
        inside.push(target.to_owned());
        walk(schema, target, key, inside, places);
        inside.pop();
    }
    for part in ["then", "else", "items", "additionalProperties"] {
        if node.get(part).is_some_and(Value::is_object) {
            let below = if matches!(part, "items" | "additionalProperties") { "/*" } else { "" };
            walk(schema, &format!("{at}/{part}"), &format!("{key}{below}"), inside, places);
        }
    }
    for part in ["anyOf", "oneOf", "allOf"] {
        let count = node.get(part).and_then(Value::as_array).map_or(0, Vec::len);
        for index in 0..count {
            walk(schema, &format!("{at}/{part}/{index}"), key, inside, places);
        }
    }
    for name in node.get("properties").and_then(Value::as_object).into_iter().flat_map(|map| map.keys()) {
        let at = format!("{at}/properties/{name}");
        let key = format!("{key}/{name}");
        let key = elsewhere(&key).filter(|_| get(&key).is_some_and(|row| row.key != key)).unwrap_or(key);
        places.push(Place { at: at.clone(), key: key.clone() });
        walk(schema, &at, &key, inside, places);
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use seamwright_model::procedure::keys;

    use super::*;

    #[test]
    fn every_key_of_the_model_has_its_entry_and_the_reverse() {
        let model: BTreeSet<String> = keys().into_iter().collect();
        let own: BTreeSet<String> = rows().iter().map(|row| row.key.to_owned()).collect();
        assert_eq!(own.len(), rows().len(), "no key twice");
        let missing: Vec<_> = model.difference(&own).collect();
        let left_over: Vec<_> = own.difference(&model).collect();
        assert!(missing.is_empty() && left_over.is_empty(), "without entry: {missing:#?}; no key: {left_over:#?}");
    }

    #[test]
    fn every_key_has_its_clause_or_says_why_not() {
        for row in rows() {
            assert_eq!(row.clauses().is_empty(), row.beside.is_some(), "{}", row.key);
        }
    }

    #[test]
    fn every_clause_and_every_variable_of_a_code_names_keys_of_the_format() {
        let dotted: BTreeSet<String> = rows().iter().map(Row::dotted).collect();
        let iso = iso_15609_1::rows().iter().map(|row| (&row.item, row.keys));
        assert!(iso.clone().all(|(_, keys)| !keys.is_empty()));
        let asme = asme_ix::variables().iter().map(|row| (&row.paragraph, row.keys));
        let aws = aws_d1_1::variables().iter().map(|row| (&row.variable, row.keys));
        for (name, keys) in iso.chain(asme).chain(aws) {
            for key in keys {
                assert!(dotted.contains(*key) || *key == "processes", "{name}: {key}");
            }
        }
    }

    #[test]
    fn every_setting_has_its_key() {
        let settings = rows().iter().map(|row| row.key).filter(|key| key.starts_with("/processes/*/"));
        let keys = keys::ALL.iter().map(|key| key.of_process);
        assert_eq!(settings.collect::<BTreeSet<_>>(), keys.collect::<BTreeSet<_>>());
    }

    #[test]
    fn a_pointer_finds_its_row() {
        for (pointer, key) in [
            ("/runs/0/wire_feed_speed", "/processes/*/wire_feed_speed"),
            ("/processes/135/wire_feed_speed", "/processes/*/wire_feed_speed"),
            ("/runs/2/layer", "/runs/*/layer"),
            ("/processes/141/shielding_gas/composition/Ar", "/processes/*/shielding_gas/composition"),
            ("/fillers/root-rod/diameter", "/fillers/*/diameter"),
            ("/joint/root_gap", "/joint/root_gap"),
            ("/positions/0", "/positions"),
            ("/runs/0/positions", "/runs/*/positions"),
        ] {
            assert_eq!(get(pointer).map(|row| row.key), Some(key), "{pointer}");
        }
        assert!(get("/nothing").is_none() && get("").is_none());
    }

    #[test]
    fn a_key_is_found_by_any_way_to_write_it() {
        for (name, key) in [
            ("wire_feed_speed", "/processes/*/wire_feed_speed"),
            ("Wire-Feed Speed", "/processes/*/wire_feed_speed"),
            ("settings.wire_feed_speed", "/processes/*/wire_feed_speed"),
            ("root opening", "/joint/root_gap"),
            ("tungsten/diameter", "/processes/*/tungsten/diameter"),
            ("fillers.diameter", "/fillers/*/diameter"),
            ("positions", "/positions"),
        ] {
            assert_eq!(find(name).first().map(|row| row.key), Some(key), "{name}");
        }
        assert!(find("flow").len() > 1);
        assert!(find("zzz").is_empty());
        assert_eq!(nearest("wire_fed_speed").first(), Some(&"wire_feed_speed"));
    }

    // ISO 15609-1:2019 4.4.8, QW-404.6 of ASME IX: filler size; AWS A3.0: root opening for ISO's root gap.
    #[test]
    fn clauses_and_paragraphs_are_those_of_the_standards() {
        let diameter = get("/fillers/x/diameter").unwrap();
        assert_eq!(diameter.clauses(), ["4.4.8"]);
        assert!(diameter.asme_ix().iter().any(|row| row.paragraph == "QW-404.6"));
        assert_eq!(term("/joint/root_gap", Terms::Aws), "Root opening");
        assert_eq!(term("/joint/root_gap", Terms::Iso), "Root gap");
        assert_eq!(clauses(["/temperatures/preheating", "/temperatures/interpass"]), "4.4.11, 4.4.12");
        assert_eq!(get("/runs/0/transfer_mode").unwrap().clauses(), ["4.5.3"]);
    }

    #[test]
    fn the_schema_carries_the_descriptions_of_the_dictionary() {
        let schema = schema();
        let at = |pointer: &str| schema.pointer(pointer).and_then(Value::as_str).unwrap_or_default().to_owned();
        let places = places(&schema);
        for row in rows() {
            let place = places.iter().find(|place| place.key == row.key).unwrap();
            assert!(at(&format!("{}/description", place.at)).ends_with('.'), "{}", row.key);
        }
        let gap = places.iter().find(|place| place.key == "/joint/root_gap").unwrap();
        assert!(at(&format!("{}/description", gap.at)).starts_with("Root gap (AWS: root opening): distance"));
    }
}
