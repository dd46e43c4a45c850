//! What ISO 15609-1 and the code ask for against what is stated, for people and for programs.

use std::io::{self, Write};

use seamwright_check::completeness::{self, Entry, State};
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_weld::View;
use serde_json::{Value, json};

/// Most characters of an item and of what is stated, in a line for people.
const WIDTHS: [usize; 2] = [52, 60];

/// The matrix of a document; empty where it is no procedure.
pub fn of(loaded: &Loaded) -> Vec<Entry> {
    match &loaded.document {
        Document::Procedure(procedure) => completeness::matrix(&View::new(procedure)),
        _ => Vec::new(),
    }
}

/// Prints a matrix, a line for each item, and how many items are in which state.
pub fn print(out: &mut impl Write, name: &str, entries: &[Entry]) -> io::Result<()> {
    if entries.is_empty() {
        return writeln!(out, "{name}: no procedure, so nothing is asked of it");
    }
    let mut standard = "";
    let longest = |of: &dyn Fn(&Entry) -> usize| entries.iter().map(of).max().unwrap_or_default();
    let clause = longest(&|entry| entry.reference.chars().count());
    let item = longest(&|entry| item_of(entry).chars().count()).min(WIDTHS[0]);
    for entry in entries {
        if entry.standard != standard {
            standard = entry.standard;
            let of = entries.iter().filter(|own| own.standard == standard);
            let count = |state| of.clone().filter(|own| own.state == state).count();
            writeln!(
                out,
                "{name}: {standard} asks for {} items: {} stated, {} not applicable, {} missing, {} not specified",
                of.clone().count(),
                count(State::Stated),
                count(State::NotApplicable),
                count(State::Missing),
                count(State::Unspecified),
            )?;
        }
        let line = format!(
            "  {:14}  {:clause$}  {:item$}  {}",
            entry.state.in_words(),
            entry.reference,
            short(&item_of(entry), WIDTHS[0]),
            short(&entry.stated, WIDTHS[1]),
        );
        writeln!(out, "{}", line.trim_end())?;
    }
    writeln!(out, "which items apply is from memory of the standards; verify against your edition")
}

fn item_of(entry: &Entry) -> String {
    match &entry.process {
        Some(process) => format!("{} ({process})", entry.item),
        None => entry.item.clone(),
    }
}

/// A text that is cut where it is longer than a line has room for.
fn short(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most - 1).collect();
    format!("{}…", kept.trim_end())
}

/// A matrix in the shape that programs rely on.
pub fn json(entries: &[Entry]) -> Value {
    let entry = |own: &Entry| {
        json!({
            "standard": own.standard,
            "clause": own.reference,
            "variable": own.item,
            "process": own.process,
            "keys": own.keys,
            "state": own.state.as_str(),
            "stated": (!own.stated.is_empty()).then_some(&own.stated),
        })
    };
    entries.iter().map(entry).collect()
}
