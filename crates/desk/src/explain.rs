//! What a check finds and the limits that it uses, what a key means and where the codes ask for it, a table, a word of the
//! format, or a process, position, metal, filler or gas.

use std::io::{self, Write};

use anyhow::{Result, bail};
use seamwright_check::Explanation;
use seamwright_handbook::variables::{self, Row as Variable, Terms};
use seamwright_handbook::{TABLES, Table, find, iso_15609_1};
use serde_json::{Map, Value, json};

use crate::document_keys::{self, DocumentKey};
use crate::names::{self, Named, Word};
use crate::table::{self, TableAnswer};

/// A table with more rows is shown in part.
const SHOWN_WHOLE: usize = 12;
/// How many rows of such a table are shown.
const SHOWN_OF_LARGE: usize = 8;

/// What a name means.
pub enum Explained {
    /// All checks, where no name is given.
    Checks(Vec<Explanation>),
    /// A check.
    Check(Box<Explanation>),
    /// A handbook table.
    Table(TableAnswer),
    /// Keys of procedures.
    Keys(Vec<&'static Variable>),
    /// Names of the trade and words of the format.
    Names {
        /// What the name is taken as, where it is a word of the trade for others.
        taken: Option<String>,
        /// Rows of the handbook.
        rows: Vec<Named>,
        /// Words of the format.
        words: Vec<Word>,
    },
    /// Keys of other documents.
    DocumentKeys(Vec<DocumentKey>),
}

/// Explains a name; all checks where none is given. `Err` names the nearest.
pub fn explain(name: Option<&str>) -> Result<Explained> {
    let Some(name) = name else { return Ok(Explained::Checks(seamwright_check::explanations())) };
    let near = match seamwright_check::explain(name) {
        Ok(check) => return Ok(Explained::Check(Box::new(check))),
        Err(near) => near,
    };
    // Tables are spelled with hyphens: `gas_cylinders` is a key, `gas-cylinders` a table.
    let table = seamwright_handbook::table(name).ok().filter(|_| !name.contains('_'));
    if let Some(table) = table {
        return Ok(Explained::Table(TableAnswer::One(table)));
    }
    let keys = variables::find(name);
    if !keys.is_empty() {
        return Ok(Explained::Keys(keys));
    }
    let (rows, words) = (names::rows(name), names::words(name));
    if !rows.is_empty() || !words.is_empty() {
        return Ok(Explained::Names { taken: None, rows, words });
    }
    let meant = names::meant(name);
    if !meant.is_empty() {
        return Ok(Explained::Names {
            taken: Some(format!("`{}` is taken as {}", name.trim(), meant.join(" or "))),
            rows: meant.iter().flat_map(|own| names::rows(own)).collect(),
            words: meant.iter().flat_map(|own| names::words(own)).collect(),
        });
    }
    let mut own = document_keys::find(name);
    if own.is_empty() {
        // A kind of document: all its keys.
        own = document_keys::all().into_iter().filter(|key| key.kind == name).collect();
    }
    if !own.is_empty() {
        return Ok(Explained::DocumentKeys(own));
    }
    if let Ok(table) = seamwright_handbook::table(name) {
        return Ok(Explained::Table(TableAnswer::One(table)));
    }
    let tables = find::nearest(name, TABLES.iter().map(|info| info.name()));
    let names = find::nearest(name, near.into_iter().chain(tables).chain(variables::nearest(name)).chain(names::all()));
    if names.is_empty() {
        bail!(
            "`{name}` is no check, key, table, word, process, position, metal, filler or gas; `seamwright explain` lists the checks, `seamwright table` the tables"
        );
    }
    bail!("`{name}` is no check, key, table or name of the trade; the nearest are {}", names.join(", "));
}

impl Explained {
    /// For people, in so many columns.
    pub fn text(&self, out: &mut impl Write, room: Option<usize>) -> io::Result<()> {
        match self {
            Self::Checks(all) => all.iter().try_for_each(|one| writeln!(out, "{:36} {}", one.name, one.finds)),
            Self::Check(check) => check_text(out, check, room),
            Self::Table(table) => table.text(out, room),
            Self::Keys(keys) => keys.iter().enumerate().try_for_each(|(index, key)| {
                if index > 0 {
                    writeln!(out)?;
                }
                key_text(out, key)
            }),
            Self::Names { taken, rows, words } => {
                if let Some(taken) = taken {
                    writeln!(out, "{taken}\n")?;
                }
                names_text(out, rows, words)
            }
            Self::DocumentKeys(keys) => document_keys_text(out, keys),
        }
    }

    /// For programs.
    pub fn json(&self) -> Value {
        match self {
            Self::Checks(all) => {
                let all: Vec<Value> = all.iter().map(|one| json!({"check": one.name, "finds": one.finds})).collect();
                json!({"checks": all})
            }
            Self::Check(check) => check_json(check),
            Self::Table(table) => table.json(),
            Self::Keys(keys) => json!({"keys": keys.iter().map(|key| key_json(key)).collect::<Vec<_>>()}),
            Self::Names { rows, words, .. } => names_json(rows, words),
            Self::DocumentKeys(keys) => document_keys_json(keys),
        }
    }
}

fn check_text(out: &mut impl Write, check: &Explanation, room: Option<usize>) -> io::Result<()> {
    writeln!(out, "{}\n", check.name)?;
    for (heading, text) in check.parts() {
        writeln!(out, "{heading}\n  {text}\n")?;
    }
    if let Some(case) = check.faulty.first() {
        writeln!(out, "Example of the fault")?;
        for (pointer, yaml) in case.edits {
            let stands = if yaml.is_empty() { "left out" } else { yaml };
            writeln!(out, "  {pointer}: {stands}")?;
        }
        writeln!(out)?;
    }
    for (table, rows) in tables(check) {
        let part = if rows.len() < table.rows.len() {
            format!("{} of {} rows", rows.len(), table.rows.len())
        } else {
            format!("{} rows", rows.len())
        };
        writeln!(
            out,
            "Table `{}`: {} ({part}; all with sources: seamwright table {})",
            table.name, table.title, table.name
        )?;
        table::grid(out, table, &rows, "  ", room)?;
        let named = |key: &str| {
            rows.iter().any(|row| {
                row.get("source").and_then(Value::as_array).is_some_and(|own| own.iter().any(|one| one == key))
            })
        };
        for source in table.sources.iter().filter(|source| named(&source.key)) {
            writeln!(out, "  {}: {}", source.key, source.line())?;
        }
        writeln!(out)?;
    }
    Ok(())
}

fn check_json(check: &Explanation) -> Value {
    let tables: Vec<Value> = tables(check)
        .into_iter()
        .map(|(table, rows)| json!({"table": table.name, "title": table.title, "rows": rows, "rows_in_all": table.rows.len()}))
        .collect();
    let example: Option<Vec<Value>> = check
        .faulty
        .first()
        .map(|case| case.edits.iter().map(|(pointer, yaml)| json!({"pointer": pointer, "value": yaml})).collect());
    json!({
        "check": check.name, "document": check.subject, "finds": check.finds, "matters": check.matters,
        "remedy": check.remedy, "limit": check.limit, "example": example, "tables": tables,
    })
}

/// The tables that a check uses, small ones whole, of large ones the rows that its example meets most.
fn tables(check: &Explanation) -> Vec<(&'static Table, Vec<&'static Map<String, Value>>)> {
    let words: Vec<String> = check.faulty.iter().flat_map(|case| words(case.base, case.edits)).collect();
    let tables = check.tables.iter().filter_map(|name| seamwright_handbook::table(name).ok());
    tables
        .map(|table| {
            if table.rows.len() <= SHOWN_WHOLE {
                return (table, table.rows.iter().collect());
            }
            let scores: Vec<usize> = table.rows.iter().map(|row| met(table, row, &words)).collect();
            let best = scores.iter().copied().max().unwrap_or_default();
            let rows = table.rows.iter().zip(&scores);
            let mut met: Vec<_> = rows.filter(|(_, score)| **score == best).map(|(row, _)| row).collect();
            met.truncate(SHOWN_OF_LARGE);
            (table, met)
        })
        .collect()
}

/// The words of an example, folded: those of its document's name and of the values put in.
fn words(base: &str, edits: &[(&str, &str)]) -> Vec<String> {
    let values = edits.iter().flat_map(|(pointer, yaml)| [*pointer, *yaml]);
    let split = |text: &str| -> Vec<String> {
        text.split(|c: char| !(c.is_alphanumeric() || matches!(c, '.' | '_' | '+'))).map(find::folded).collect()
    };
    std::iter::once(base).chain(values).flat_map(split).filter(|word| word.chars().count() > 1).collect()
}

/// How many cells of a row hold one of the words; sources and remarks do not count.
fn met(table: &Table, row: &Map<String, Value>, words: &[String]) -> usize {
    let named = |text: &str| words.contains(&find::folded(text));
    let holds = |cell: &&Value| match cell {
        Value::String(text) => named(text),
        Value::Array(items) => items.iter().filter_map(Value::as_str).any(named),
        _ => false,
    };
    table.columns.iter().filter_map(|column| row.get(&column.key)).filter(holds).count()
}

/// Checks whose example changes a value under the key.
fn checks(key: &Variable) -> Vec<&'static str> {
    let under = |pointer: &str| {
        variables::get(pointer).is_some_and(|row| row.key == key.key || row.key.starts_with(&format!("{}/", key.key)))
    };
    let touches =
        |one: &Explanation| one.faulty.iter().any(|case| case.edits.iter().any(|(pointer, _)| under(pointer)));
    seamwright_check::explanations().into_iter().filter(touches).map(|one| one.name).collect()
}

/// Keys of documents other than procedures.
fn document_keys_text(out: &mut impl Write, keys: &[DocumentKey]) -> io::Result<()> {
    for own in keys {
        writeln!(out, "{}: {}", own.name, own.meaning)?;
        writeln!(out, "  in a {}: {}\n", own.kind, own.pointer)?;
    }
    Ok(())
}

fn document_keys_json(keys: &[DocumentKey]) -> Value {
    let keys: Vec<Value> =
        keys.iter().map(|own| json!({"document": own.kind, "key": own.pointer, "meaning": own.meaning})).collect();
    json!({"document_keys": keys})
}

/// Rows by their headings, and words with what they mean.
fn names_text(out: &mut impl Write, rows: &[Named], words: &[Word]) -> io::Result<()> {
    for own in words {
        writeln!(out, "{}: {}", own.word, own.meaning.trim())?;
        writeln!(out, "  a word for {}; the others are {}\n", own.keys.join(", "), own.beside.join(", "))?;
    }
    for own in rows {
        let (table, row) = (own.table, own.row);
        let told = |key: &str| row.get(key).map(table::plain).filter(|cell| !cell.is_empty());
        let name = table.columns.first().and_then(|column| told(&column.key)).unwrap_or_default();
        writeln!(out, "{name}: a {}", own.what)?;
        for column in table.columns.iter().skip(1) {
            let Some(cell) = told(&column.key) else { continue };
            let unit = column.unit.as_ref().map_or(String::new(), |unit| format!(" {unit}"));
            writeln!(out, "  {}: {cell}{unit} ({})", column.label, column.meaning)?;
        }
        for key in ["note", "doubt"] {
            if let Some(text) = told(key) {
                writeln!(out, "  {key}: {text}")?;
            }
        }
        let sources = row.get("source").and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_str);
        let lines: Vec<String> = sources.filter_map(|key| table.source(key)).map(|source| source.line()).collect();
        writeln!(out, "  source: {} ({})", lines.join("; "), told("basis").unwrap_or_default())?;
        writeln!(out, "  all of them: seamwright table {}\n", table.name)?;
    }
    Ok(())
}

fn names_json(rows: &[Named], words: &[Word]) -> Value {
    let rows: Vec<Value> =
        rows.iter().map(|own| json!({"what": own.what, "table": own.table.name, "row": own.row})).collect();
    let words: Vec<Value> = words
        .iter()
        .map(|own| json!({"word": own.word, "meaning": own.meaning.trim(), "keys": own.keys, "beside": own.beside}))
        .collect();
    json!({"names": rows, "words": words})
}

fn key_text(out: &mut impl Write, key: &Variable) -> io::Result<()> {
    writeln!(out, "{}: {}\n", key.name(), key.meaning)?;
    writeln!(out, "Where it stands\n  {}", key.key)?;
    if let Some(own) = key.key.strip_prefix("/processes/*/") {
        writeln!(out, "  /runs/*/{own}, where a run differs")?;
    }
    writeln!(out, "\nTerms\n  ISO: {}", key.term(Terms::Iso))?;
    writeln!(out, "  AWS A3.0: {} ({})", key.term(Terms::Aws), key.origin.basis.as_str())?;
    writeln!(out, "\nISO 15609-1:2019")?;
    let items = key.iso_items();
    for item in &items {
        writeln!(out, "  {}: {}{}", item.clause, item.item, for_processes(item.processes))?;
    }
    if items.is_empty() {
        writeln!(out, "  not asked for; {}", key.beside.unwrap_or("beside the standard"))?;
    }
    for (heading, lines) in
        [("ISO 15614-1", iso_lines(key)), ("ASME BPVC IX", asme_lines(key)), ("AWS D1.1", aws_lines(key))]
    {
        if !lines.is_empty() {
            writeln!(out, "\n{heading} (verify against your edition)")?;
            for line in lines {
                writeln!(out, "  {line}")?;
            }
        }
    }
    let processes = key.processes();
    if !processes.is_empty() {
        let numbers: Vec<&str> = processes.iter().map(|row| row.number).collect();
        writeln!(out, "\nProcesses that have it\n  {}", numbers.join(", "))?;
    }
    let checks = checks(key);
    if !checks.is_empty() {
        writeln!(out, "\nChecks that look at it\n  {}", checks.join("\n  "))?;
    }
    Ok(())
}

fn for_processes(numbers: &[&str]) -> String {
    if numbers.is_empty() { String::new() } else { format!(" (processes {})", numbers.join(", ")) }
}

fn iso_lines(key: &Variable) -> Vec<String> {
    key.iso_15614_1()
        .iter()
        .map(|row| {
            format!("{}: {}, {}{}", row.paragraph, row.wording, row.category.as_str(), for_processes(row.processes))
        })
        .collect()
}

fn asme_lines(key: &Variable) -> Vec<String> {
    // The same variable stands in the list of each process: one line, with all its processes.
    let mut lines: Vec<(String, Vec<&str>)> = Vec::new();
    for row in key.asme_ix() {
        let line = format!("{}: {}, {}", row.paragraph, row.subject, row.category.as_str());
        match lines.iter_mut().find(|(own, _)| *own == line) {
            Some((_, processes)) => processes.extend(row.processes),
            None => lines.push((line, row.processes.to_vec())),
        }
    }
    lines.into_iter().map(|(line, processes)| format!("{line}{}", for_processes(&processes))).collect()
}

fn aws_lines(key: &Variable) -> Vec<String> {
    key.aws_d1_1()
        .iter()
        .map(|row| format!("{}: {}{}", row.variable, row.change, for_processes(row.processes)))
        .collect()
}

fn key_json(key: &Variable) -> Value {
    json!({
        "key": key.key,
        "meaning": key.meaning,
        "iso": {
            "term": key.term(Terms::Iso),
            "clauses": iso_15609_1::clauses_in_words(key.clauses()),
            "items": key.iso_items().iter().map(|item| json!({"clause": item.clause, "item": item.item, "processes": item.processes})).collect::<Vec<_>>(),
        },
        "aws": {"term": key.term(Terms::Aws)},
        "iso_15614_1": key.iso_15614_1().iter().map(|row| json!({"clause": row.paragraph, "variable": row.wording, "category": row.category.as_str(), "processes": row.processes})).collect::<Vec<_>>(),
        "asme_ix": key.asme_ix().iter().map(|row| json!({"paragraph": row.paragraph, "subject": row.subject, "category": row.category.as_str(), "processes": row.processes})).collect::<Vec<_>>(),
        "aws_d1_1": key.aws_d1_1().iter().map(|row| json!({"variable": row.variable, "change": row.change, "processes": row.processes})).collect::<Vec<_>>(),
        "processes": key.processes().iter().map(|row| &row.number).collect::<Vec<_>>(),
        "beside": key.beside,
        "checks": checks(key),
        "basis": key.origin.basis.as_str(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_of_two_words_is_explained_as_a_key() {
        let all = document_keys::all();
        let keys = all.iter().map(|own| own.name.as_str()).filter(|name| name.contains('_'));
        let other: Vec<&str> = keys
            .filter(|name| !matches!(explain(Some(name)), Ok(Explained::DocumentKeys(_) | Explained::Keys(_))))
            .collect();
        assert!(other.is_empty(), "{other:?}");
        assert!(matches!(explain(Some("gas-cylinders")), Ok(Explained::Table(_))));
    }
}
