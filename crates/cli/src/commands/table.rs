//! `table`: the handbook tables, or one with its rows and sources.

use std::io::Write;

use anyhow::{Result, bail};
use seamwright_handbook::Table;
use serde_json::{Map, Value, json};

use crate::Ending;
use crate::args::Form;
use crate::{results, terminal};

/// Runs the command.
pub fn run(name: Option<&str>, form: Form) -> Result<Ending> {
    let mut out = std::io::stdout().lock();
    let Some(name) = name else {
        let tables = seamwright_handbook::TABLES.iter().map(|info| info.table());
        match form {
            Form::Text => {
                for table in tables {
                    let line = format!("{:28} {:4} rows  {}", table.name, table.rows.len(), table.title);
                    writeln!(out, "{}", terminal::wrapped(&line, terminal::width()))?;
                }
            }
            Form::Json => {
                let tables = tables.map(|own| json!({"table": own.name, "title": own.title, "rows": own.rows.len()}));
                results::json("table", json!({"tables": tables.collect::<Vec<_>>()}))?;
            }
        }
        return Ok(Ending::Clean);
    };
    let table = match seamwright_handbook::table(name) {
        Ok(table) => table,
        Err(unknown) if unknown.nearest.is_empty() => {
            bail!("`{name}` is not a handbook table; `seamwright table` lists them");
        }
        Err(unknown) => bail!("`{name}` is not a handbook table; the nearest are {}", unknown.nearest.join(", ")),
    };
    if form == Form::Json {
        results::json("table", json(table))?;
        return Ok(Ending::Clean);
    }
    let head = format!("{}: {}\n{}", table.name, table.title, table.about.trim());
    writeln!(out, "{}\n", terminal::wrapped(&head, terminal::width()))?;
    grid(&mut out, table, &table.rows.iter().collect::<Vec<_>>(), "")?;
    writeln!(out, "\nSources")?;
    for source in &table.sources {
        let line = format!("  {}: {}", source.key, source.line());
        writeln!(out, "{}", terminal::wrapped(&line, terminal::width()))?;
        for read in source.read_at.iter().filter_map(|id| seamwright_handbook::sources::get(id)) {
            let line = format!("      read at {}", read.line());
            writeln!(out, "{}", terminal::wrapped(&line, terminal::width()))?;
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
        let line = format!("  {}: {doubt}", rows.join("; "));
        writeln!(out, "{}", terminal::wrapped(&line, terminal::width()))?;
    }
    for note in &table.notes {
        writeln!(out, "{}", terminal::wrapped(&format!("Note: {note}"), terminal::width()))?;
    }
    Ok(Ending::Clean)
}

/// A row by its first cells, enough to find it again.
fn named(table: &Table, row: &Map<String, Value>) -> String {
    const CELLS: usize = 3;
    let cells =
        table.columns.iter().filter_map(|column| row.get(&column.key)).map(plain).filter(|cell| !cell.is_empty());
    cells.take(CELLS).collect::<Vec<_>>().join(", ")
}

/// A whole table as JSON.
pub fn json(table: &Table) -> Value {
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
pub fn grid(out: &mut impl Write, table: &Table, rows: &[&Map<String, Value>], indent: &str) -> std::io::Result<()> {
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
    results::columns(out, &lines, indent, usize::MAX)
}

/// A value of a cell as plain text.
pub fn plain(value: &Value) -> String {
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
