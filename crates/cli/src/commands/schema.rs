//! `schema`: JSON Schema 2020-12 of the file format.

use std::io::Write;

use anyhow::Result;
use seamwright_handbook::variables;

use crate::Ending;

/// Runs the command.
pub fn run() -> Result<Ending> {
    let mut out = std::io::stdout().lock();
    serde_json::to_writer_pretty(&mut out, &variables::schema()).map_err(std::io::Error::from)?;
    writeln!(out)?;
    Ok(Ending::Clean)
}
