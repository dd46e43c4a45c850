//! `schema`: JSON Schema 2020-12 of the file format, or of what a command prints as JSON.

use std::io::{self, Write};
use std::path::Path;

use anyhow::{Result, bail};
use seamwright_desk::editors;
use seamwright_desk::files::shown;
use seamwright_model::document::KINDS;
use serde_json::Value;

use crate::{Ending, output, terminal};

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

/// What a schema describes besides the kinds of document and what commands print.
const FILES: [&str; 2] = ["house-style", "joints"];

/// Runs the command.
pub fn run(what: Option<&str>, folder: Option<&Path>) -> Result<Ending> {
    let text = match what {
        None => pretty(&editors::schema())?,
        Some("house-style") => pretty(&editors::house_style())?,
        Some("joints") => pretty(&editors::joints())?,
        Some(name) => match (editors::schema_of(name), ANSWERS.iter().find(|(own, _)| *own == name)) {
            (Some(schema), _) => pretty(&schema)?,
            (None, Some((_, schema))) => (*schema).to_owned(),
            (None, None) => bail!(
                "`{name}` has no schema; kinds of document have one ({}), so have {}, and the JSON of {}",
                KINDS.join(", "),
                FILES.join(" and "),
                ANSWERS.iter().map(|(own, _)| *own).collect::<Vec<_>>().join(", ")
            ),
        },
    };
    let Some(folder) = folder else {
        io::stdout().lock().write_all(text.as_bytes())?;
        return Ok(Ending::Clean);
    };
    let path = folder.join(match what {
        None => editors::FILE.to_owned(),
        Some(name) => format!("{name}.{}", editors::FILE),
    });
    output::write(&path, text.as_bytes())?;
    if !terminal::quiet() {
        terminal::print(format_args!("wrote {}", shown(&path)));
    }
    Ok(Ending::Clean)
}

fn pretty(schema: &Value) -> Result<String> {
    Ok(serde_json::to_string_pretty(schema)? + "\n")
}
