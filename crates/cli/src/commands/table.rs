//! `table`: the handbook tables, or one with its rows and sources.

use std::io::Write;

use anyhow::{Result, bail};
use serde_json::{Value, json};

use crate::Ending;
use crate::args::Form;

/// Runs the command.
pub fn run(name: Option<&str>, form: Form) -> Result<Ending> {
    let mut out = std::io::stdout().lock();
    let Some(name) = name else {
        for info in seamwright_handbook::TABLES {
            let table = info.table();
            match form {
                Form::Text => {
                    writeln!(out, "{:28} {:4} rows  {}", table.name, table.rows.len(), table.title)?;
                }
                Form::Json => {
                    writeln!(out, "{}", json!({"table": table.name, "title": table.title, "rows": table.rows.len()}))?;
                }
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
        let sources: Vec<Value> = table
            .sources
            .iter()
            .map(|source| json!({"key": source.key, "title": source.title, "edition": source.edition, "clause": source.clause}))
            .collect();
        let columns: Vec<Value> = table
            .columns
            .iter()
            .map(|column| json!({"key": column.key, "label": column.label, "unit": column.unit, "meaning": column.meaning}))
            .collect();
        let whole = json!({"table": table.name, "title": table.title, "about": table.about, "columns": columns, "rows": table.rows, "sources": sources, "notes": table.notes});
        serde_json::to_writer_pretty(&mut out, &whole).map_err(std::io::Error::from)?;
        writeln!(out)?;
        return Ok(Ending::Clean);
    }
    writeln!(out, "{}: {}\n{}\n", table.name, table.title, table.about.trim())?;
    let mut head: Vec<String> = table
        .columns
        .iter()
        .map(|column| column.unit.as_ref().map_or(column.label.clone(), |unit| format!("{} ({unit})", column.label)))
        .collect();
    head.extend(["Source".to_owned(), "Basis".to_owned()]);
    let mut rows: Vec<Vec<String>> = Vec::with_capacity(table.rows.len());
    for row in &table.rows {
        let mut cells: Vec<String> =
            table.columns.iter().map(|column| row.get(&column.key).map_or(String::new(), plain)).collect();
        cells.push(row.get("source").map_or(String::new(), plain));
        cells.push(row.get("basis").map_or(String::new(), plain));
        rows.push(cells);
    }
    let widths: Vec<usize> = (0..head.len())
        .map(|index| {
            rows.iter()
                .chain([&head])
                .filter_map(|row| row.get(index))
                .map(|cell| cell.chars().count())
                .max()
                .unwrap_or(0)
        })
        .collect();
    for row in std::iter::once(&head).chain(&rows) {
        let line: Vec<String> =
            row.iter().zip(&widths).map(|(cell, width)| format!("{cell:<width$}", width = *width)).collect();
        writeln!(out, "{}", line.join("  ").trim_end())?;
    }
    writeln!(out, "\nSources")?;
    for source in &table.sources {
        let more: Vec<&str> = [source.edition.as_deref(), source.clause.as_deref()].into_iter().flatten().collect();
        let more = if more.is_empty() { String::new() } else { format!(", {}", more.join(", ")) };
        writeln!(out, "  {}: {}{more}", source.key, source.title)?;
    }
    for note in &table.notes {
        writeln!(out, "Note: {note}")?;
    }
    Ok(Ending::Clean)
}

/// A value of a cell as plain text.
fn plain(value: &Value) -> String {
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
