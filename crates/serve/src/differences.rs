//! What two revisions differ in, as a page shows it.

use seamwright_check::codes;
use seamwright_check::revision::Meaning;
use seamwright_desk::compare::{Side, compare};
use seamwright_model::Loaded;
use seamwright_model::procedure::CodeName;
use serde::Serialize;

/// What two revisions differ in.
#[derive(Serialize)]
pub struct Compared {
    old: String,
    new: String,
    verdict: String,
    code: String,
    needs_test: bool,
    rows: Vec<Line>,
    sources: Vec<String>,
}

#[derive(Serialize)]
struct Line {
    term: String,
    old: String,
    new: String,
    meaning: &'static str,
    essential: bool,
    variables: String,
}

/// What two texts differ in. `Err` says in words why they cannot be compared.
pub fn compared(old: &Loaded, new: &Loaded, code: Option<CodeName>) -> Result<Compared, String> {
    let compared = compare(("the first", old), ("the second", new), code)?;
    let name = |own: &Side| format!("{} revision {}", own.number, own.revision);
    let comparison = &compared.comparison;
    Ok(Compared {
        old: name(&compared.old),
        new: name(&compared.new),
        verdict: comparison.verdict().to_owned(),
        code: codes::title(comparison.code).to_owned(),
        needs_test: comparison.needs_test(),
        rows: comparison
            .changes
            .iter()
            .map(|change| Line {
                // One variable may change in several runs.
                term: match &change.runs {
                    Some(runs) => format!("{}, run {runs}", change.term),
                    None => change.term.clone(),
                },
                old: change.old.clone().unwrap_or_default(),
                new: change.new.clone().unwrap_or_default(),
                meaning: change.meaning.as_str(),
                essential: change.meaning == Meaning::Essential,
                variables: change
                    .variables
                    .iter()
                    .map(|own| format!("{} {}", own.reference, own.wording))
                    .collect::<Vec<_>>()
                    .join(", "),
            })
            .collect(),
        sources: comparison.sources().iter().map(|source| source.line()).collect(),
    })
}
