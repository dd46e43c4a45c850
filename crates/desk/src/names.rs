//! What a name of the trade means: a process, position, metal, filler or gas by any of its names, with the row of the
//! handbook behind it, and the words of the format.

use seamwright_handbook::trade_words::{self, Kind};
use seamwright_handbook::{Table, base_metals, filler_classes, positions, processes, shielding_gases};
use seamwright_model::{document, trade};
use serde_json::{Map, Value};

/// A row of the handbook that a name finds.
#[derive(Debug, Clone, Copy)]
pub struct Named {
    /// What it is: a process, a position, a metal, a filler, a gas.
    pub what: &'static str,
    /// The table.
    pub table: &'static Table,
    /// The row.
    pub row: &'static Map<String, Value>,
}

/// A word of a closed list of the format.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word {
    /// The word as it stands in a file.
    pub word: &'static str,
    /// What it means, in a sentence.
    pub meaning: &'static str,
    /// The keys whose value it may be.
    pub keys: Vec<&'static str>,
    /// The other words of the list.
    pub beside: Vec<&'static str>,
}

/// The rows that a name finds, each kind of thing at most once.
pub fn rows(name: &str) -> Vec<Named> {
    let metal = base_metals::find(name).map(|row| row.specification);
    let filler = filler_classes::find(name).map(|row| row.classification);
    let found = [
        ("process", "processes", "number", processes::get(name).map(|row| row.number)),
        ("position", "positions", "code", positions::get(name).map(|row| row.code)),
        ("metal", "base-metals", "specification", metal),
        ("metal", "base-metals-more", "specification", metal),
        ("filler", "filler-classes", "class", filler),
        ("filler", "filler-classes-more", "class", filler),
        ("gas", "shielding-gases", "symbol", shielding_gases::get(name).map(|row| row.symbol)),
    ];
    found
        .into_iter()
        .filter_map(|(what, table, column, own)| {
            let (own, table) = (own?, seamwright_handbook::table(table).ok()?);
            let row = table.rows.iter().find(|row| row.get(column).and_then(Value::as_str) == Some(own))?;
            Some(Named { what, table, row })
        })
        .collect()
}

/// The lists of the format that have a word, in large or small letters; those that mean the same are one.
pub fn words(name: &str) -> Vec<Word> {
    let mut found = Vec::new();
    lists("", document::schema(), &mut |key, words, meanings| {
        let Some(at) = words.iter().position(|own| own.eq_ignore_ascii_case(name.trim())) else { return };
        let (Some(word), Some(meaning)) = (words.get(at).copied(), meanings.get(at).copied()) else { return };
        match found.iter_mut().find(|own: &&mut Word| own.word == word && own.meaning == meaning) {
            Some(own) if !own.keys.contains(&key) => own.keys.push(key),
            Some(_) => {}
            None => {
                let beside = words.iter().copied().filter(|own| *own != word).collect();
                found.push(Word { word, meaning, keys: vec![key], beside });
            }
        }
    });
    found
}

/// What a word of the trade is taken for: a polarity such as `DCRP`, a process, a joint or a position in plain words; a
/// position may be one of a groove and another of a fillet.
pub fn meant(name: &str) -> Vec<&'static str> {
    let plain = trade::word_for(name).into_iter();
    let rows = [Kind::Process, Kind::Joint, Kind::GroovePosition, Kind::FilletPosition]
        .map(|kind| trade_words::get(kind, name));
    let mut found: Vec<&'static str> = plain.chain(rows.into_iter().flatten().map(|row| row.means)).collect();
    found.dedup();
    found
}

/// Every name that [`rows`] and [`words`] know by its own spelling, for what comes nearest to another.
pub fn all() -> Vec<&'static str> {
    let mut names: Vec<&'static str> = Vec::new();
    for (table, column) in [
        ("processes", "number"),
        ("processes", "letters"),
        ("positions", "code"),
        ("base-metals", "specification"),
        ("filler-classes", "class"),
        ("shielding-gases", "symbol"),
    ] {
        let rows = seamwright_handbook::table(table).map(|table| table.rows.as_slice()).unwrap_or_default();
        names.extend(rows.iter().filter_map(|row| row.get(column)?.as_str()));
    }
    lists("", document::schema(), &mut |_, words, _| names.extend(words));
    names.sort_unstable();
    names.dedup();
    names
}

/// Calls `found` with key, words and meanings of each closed list of a schema.
fn lists(
    key: &'static str,
    schema: &'static Value,
    found: &mut impl FnMut(&'static str, &[&'static str], &[&'static str]),
) {
    match schema {
        Value::Object(map) => {
            if let (Some(words), Some(meanings)) = (map.get("enum"), map.get("enumDescriptions")) {
                found(key, &texts(words), &texts(meanings));
            }
            for (name, below) in map {
                match (name.as_str(), below) {
                    ("properties", Value::Object(properties)) => {
                        for (key, property) in properties {
                            lists(key, property, found);
                        }
                    }
                    _ => lists(key, below, found),
                }
            }
        }
        Value::Array(items) => items.iter().for_each(|item| lists(key, item, found)),
        _ => {}
    }
}

fn texts(list: &'static Value) -> Vec<&'static str> {
    list.as_array().into_iter().flatten().filter_map(Value::as_str).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_the_trade_find_their_rows() {
        for (name, what, column, own) in [
            ("141", "process", "number", "141"),
            ("GTAW", "process", "letters", "GTAW"),
            ("3G", "position", "code", "3G"),
            ("pf", "position", "code", "PF"),
            ("1.4301", "metal", "specification", "1.4301"),
            ("E7018", "filler", "class", "E7018"),
            ("argon", "gas", "symbol", "I1"),
            ("M21", "gas", "symbol", "M21"),
        ] {
            let rows = rows(name);
            let row = rows.iter().find(|row| row.what == what).unwrap_or_else(|| panic!("{name}: {rows:?}"));
            assert_eq!(row.row.get(column).and_then(Value::as_str), Some(own), "{name}");
        }
        assert!(rows("bananas").is_empty());
    }

    #[test]
    fn every_word_of_the_format_says_what_it_means() {
        for (word, key) in
            [("DCEN", "polarity"), ("tee", "type"), ("fillet", "weld"), ("short-circuit", "transfer_mode")]
        {
            let found = words(word);
            assert!(found.iter().any(|own| own.keys.iter().any(|one| one == &key)), "{word}: {found:?}");
        }
        assert_eq!(words("dcen").first().map(|own| own.word), Some("DCEN"));
        assert!(words("bananas").is_empty());
    }
}
