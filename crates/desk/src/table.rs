//! The handbook tables, or one with its rows and sources.

use std::io::{self, Write};

use anyhow::{Result, bail};
use seamwright_handbook::{TABLES, Table};
use serde_json::{Map, Value, json};

use crate::report;

/// The handbook tables, or one of them.
pub enum TableAnswer {
    /// All.
    All(Vec<&'static Table>),
    /// One with its rows and sources.
    One(&'static Table),
}

/// The tables, or the one with a name. `Err` names the nearest.
pub fn tables(name: Option<&str>) -> Result<TableAnswer> {
    let Some(name) = name else {
        return Ok(TableAnswer::All(TABLES.iter().map(|info| info.table()).collect()));
    };
    match seamwright_handbook::table(name) {
        Ok(table) => Ok(TableAnswer::One(table)),
        Err(unknown) if unknown.nearest.is_empty() => {
            bail!("`{name}` is not a handbook table; `seamwright table` lists them");
        }
        Err(unknown) => bail!("`{name}` is not a handbook table; the nearest are {}", unknown.nearest.join(", ")),
    }
}

impl TableAnswer {
    /// For people, in so many columns.
    pub fn text(&self, out: &mut impl Write, room: Option<usize>) -> io::Result<()> {
        match self {
            Self::All(tables) => tables
                .iter()
                .try_for_each(|own| writeln!(out, "{:28} {:4} rows  {}", own.name, own.rows.len(), own.title)),
            Self::One(table) => whole(out, table, room),
        }
    }

    /// For programs.
    pub fn json(&self) -> Value {
        let line = |own: &&Table| json!({"table": own.name, "title": own.title, "rows": own.rows.len()});
        match self {
            Self::All(tables) => json!({"tables": tables.iter().map(line).collect::<Vec<_>>()}),
            Self::One(table) => json(table),
        }
    }
}

fn whole(out: &mut impl Write, table: &Table, room: Option<usize>) -> io::Result<()> {
    writeln!(out, "{}: {}\n{}\n", table.name, table.title, table.about.trim())?;
    grid(out, table, &table.rows.iter().collect::<Vec<_>>(), "", room)?;
    writeln!(out, "\nSources")?;
    for source in &table.sources {
        writeln!(out, "  {}: {}", source.key, source.line())?;
        for read in source.read_at.iter().filter_map(|id| seamwright_handbook::sources::get(id)) {
            writeln!(out, "      read at {}", read.line())?;
        }
    }
    // Rows that share a doubt are told together.
    let mut doubts: Vec<(String, Vec<String>)> = Vec::new();
    for row in &table.rows {
        let Some(doubt) = row.get("doubt").map(plain) else { continue };
        let name = named(table, row);
        match doubts.iter_mut().find(|(own, _)| *own == doubt) {
            Some((_, rows)) => rows.push(name),
            None => doubts.push((doubt, vec![name])),
        }
    }
    if !doubts.is_empty() {
        writeln!(out, "\nDoubts")?;
    }
    for (doubt, rows) in doubts {
        writeln!(out, "  {}: {doubt}", rows.join("; "))?;
    }
    table.notes.iter().try_for_each(|note| writeln!(out, "Note: {note}"))
}

/// A row by its first cells, enough to find it again.
fn named(table: &Table, row: &Map<String, Value>) -> String {
    const CELLS: usize = 3;
    let cells =
        table.columns.iter().filter_map(|column| row.get(&column.key)).map(plain).filter(|cell| !cell.is_empty());
    cells.take(CELLS).collect::<Vec<_>>().join(", ")
}

/// A whole table as JSON.
fn json(table: &Table) -> Value {
    let sources: Vec<Value> = table
        .sources
        .iter()
        .map(|source| {
            json!({
                "key": source.key,
                "publisher": source.publisher,
                "title": source.title,
                "edition": source.edition,
                "clause": source.clause,
                "standing": source.standing,
                "address": source.address,
                "register": source.register,
                "read_at": source.read_at,
            })
        })
        .collect();
    let columns: Vec<Value> = table
        .columns
        .iter()
        .map(|column| json!({"key": column.key, "label": column.label, "unit": column.unit, "meaning": column.meaning}))
        .collect();
    json!({"table": table.name, "title": table.title, "about": table.about, "columns": columns, "rows": table.rows, "sources": sources, "notes": table.notes})
}

/// Rows of a table under their headings, in columns; a column that none of the rows fills is left out.
pub(crate) fn grid(
    out: &mut impl Write,
    table: &Table,
    rows: &[&Map<String, Value>],
    indent: &str,
    room: Option<usize>,
) -> io::Result<()> {
    let filled = |key: &str| rows.iter().any(|row| row.contains_key(key));
    let columns: Vec<_> = table.columns.iter().filter(|column| filled(&column.key)).collect();
    let mut head: Vec<String> = columns
        .iter()
        .map(|column| column.unit.as_ref().map_or(column.label.clone(), |unit| format!("{} ({unit})", column.label)))
        .collect();
    head.extend(["Source".to_owned(), "Basis".to_owned()]);
    let cell = |row: &Map<String, Value>, key: &str| row.get(key).map_or(String::new(), plain);
    let mut lines = vec![head];
    for row in rows {
        let keys = columns.iter().map(|column| column.key.as_str()).chain(["source", "basis"]);
        lines.push(keys.map(|key| cell(row, key)).collect());
    }
    report::columns(out, &lines, indent, usize::MAX, room)
}

/// A value of a cell as plain text.
pub(crate) fn plain(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(text) => text.clone(),
        Value::Bool(true) => "yes".into(),
        Value::Bool(false) => "no".into(),
        Value::Array(items) if items.len() == 2 && items.iter().all(Value::is_number) => {
            items.iter().map(plain).collect::<Vec<_>>().join("-")
        }
        Value::Array(items) => items.iter().map(plain).collect::<Vec<_>>().join(", "),
        Value::Object(parts) => {
            parts.iter().map(|(key, value)| format!("{key} {}", plain(value))).collect::<Vec<_>>().join(", ")
        }
        Value::Number(number) => number.to_string(),
    }
}
