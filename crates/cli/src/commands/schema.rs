//! `schema`: JSON Schema 2020-12 of the file format, or of what a command prints as JSON.

use std::io::Write;
use std::path::Path;

use anyhow::{Result, bail};
use seamwright_desk::editors;
use seamwright_desk::files::shown;
use seamwright_model::document::KINDS;

use crate::ending::Ending;
use crate::{output, results, terminal, today};

/// What each command prints as JSON, by the command.
const ANSWERS: &[(&str, &str)] = &[
    ("calc", include_str!("../../schemas/calc.json")),
    ("check", include_str!("../../schemas/check.json")),
    ("compare", include_str!("../../schemas/compare.json")),
    ("estimate", include_str!("../../schemas/estimate.json")),
    ("explain", include_str!("../../schemas/explain.json")),
    ("find", include_str!("../../schemas/find.json")),
    // `job` is a kind of document, too.
    ("job-answer", include_str!("../../schemas/job.json")),
    ("range", include_str!("../../schemas/range.json")),
    ("table", include_str!("../../schemas/table.json")),
];

/// Runs the command.
pub fn run(what: Option<&str>, folder: Option<&Path>) -> Result<Ending> {
    let Some(folder) = folder else {
        results::out().write_all(text(what)?.as_bytes())?;
        return Ok(Ending::Clean);
    };
    let places = match what {
        None if folder.is_dir() => editors::named_below(&today::disk(), folder)?,
        _ => vec![(folder.join(editors::file_name(what)), what)],
    };
    for (path, what) in places {
        output::write(&path, text(what)?.as_bytes())?;
        if !terminal::quiet() {
            terminal::print(format_args!("wrote {}", shown(&path)));
        }
    }
    Ok(Ending::Clean)
}

/// The schema of what is meant, as it is written.
fn text(what: Option<&str>) -> Result<String> {
    if let Some(schema) = editors::of(what) {
        return Ok(serde_json::to_string_pretty(&schema)? + "\n");
    }
    let name = what.unwrap_or_default();
    match ANSWERS.iter().find(|(own, _)| *own == name) {
        Some((_, schema)) => Ok((*schema).to_owned()),
        None => bail!(
            "`{name}` has no schema; kinds of document have one ({}), so have {}, and the JSON of {}",
            KINDS.join(", "),
            editors::FILES.join(" and "),
            ANSWERS.iter().map(|(own, _)| *own).collect::<Vec<_>>().join(", ")
        ),
    }
}
