//! `schema`: JSON Schema 2020-12 of the file format, or of what a command prints as JSON.

use std::io::{self, Write};

use anyhow::{Result, bail};
use seamwright_handbook::variables;

use crate::Ending;

/// What each command prints as JSON, by the command.
const ANSWERS: &[(&str, &str)] = &[
    ("calc", include_str!("../../schemas/calc.json")),
    ("check", include_str!("../../schemas/check.json")),
    ("compare", include_str!("../../schemas/compare.json")),
    ("estimate", include_str!("../../schemas/estimate.json")),
    ("explain", include_str!("../../schemas/explain.json")),
    ("find", include_str!("../../schemas/find.json")),
    ("range", include_str!("../../schemas/range.json")),
    ("table", include_str!("../../schemas/table.json")),
];

/// Runs the command.
pub fn run(answer: Option<&str>) -> Result<Ending> {
    let mut out = io::stdout().lock();
    let Some(name) = answer else {
        serde_json::to_writer_pretty(&mut out, &variables::schema()).map_err(io::Error::from)?;
        writeln!(out)?;
        return Ok(Ending::Clean);
    };
    let Some((_, schema)) = ANSWERS.iter().find(|(own, _)| *own == name) else {
        let known: Vec<&str> = ANSWERS.iter().map(|(own, _)| *own).collect();
        bail!("`{name}` prints no JSON; these commands do: {}", known.join(", "));
    };
    out.write_all(schema.as_bytes())?;
    Ok(Ending::Clean)
}
