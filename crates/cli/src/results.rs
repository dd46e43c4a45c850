//! Results on standard output: JSON for programs, lines for people.

use std::io::{self, Write};

use anyhow::Result;
use seamwright_desk::report::json::head;
use serde_json::Value;

use crate::terminal;

/// Prints the answer of a command as JSON, behind what every answer begins with.
pub fn json(command: &str, answer: Value) -> Result<()> {
    let mut whole = head(command);
    match answer {
        Value::Object(entries) => whole.extend(entries),
        other => _ = whole.insert("answer".to_owned(), other),
    }
    let mut out = io::stdout().lock();
    serde_json::to_writer_pretty(&mut out, &whole).map_err(io::Error::from)?;
    writeln!(out)?;
    Ok(())
}

/// Prints a text that is made whole first, its lines folded to the width of the terminal.
pub fn folded(make: impl FnOnce(&mut Vec<u8>) -> Result<()>) -> Result<()> {
    let mut whole = Vec::new();
    make(&mut whole)?;
    let (text, width, mut out) = (String::from_utf8_lossy(&whole), terminal::width(), io::stdout().lock());
    for line in text.lines() {
        writeln!(out, "{}", terminal::wrapped(line, width))?;
    }
    Ok(())
}
