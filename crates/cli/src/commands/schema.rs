//! `schema`: JSON Schema 2020-12 of the file format.

use anyhow::Result;
use seamwright_handbook::variables;

use crate::Ending;
use crate::results;

/// Runs the command.
pub fn run() -> Result<Ending> {
    results::json(&variables::schema())?;
    Ok(Ending::Clean)
}
