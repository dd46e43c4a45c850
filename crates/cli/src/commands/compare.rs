//! `compare`: what changed between two revisions, and what each change means under the governing code.

use std::io::Write;
use std::path::Path;

use anyhow::{Result, bail};
use seamwright_check::codes;
use seamwright_check::revision::{self, Change, Comparison, Meaning};
use seamwright_desk::files::{self, Files, Input};
use seamwright_desk::report::Report;
use seamwright_model::document::Document;
use seamwright_model::procedure::{CodeName, Procedure};
use seamwright_model::{Loaded, finding::Basis};
use serde_json::{Value, json};

use crate::Ending;
use crate::args::{CompareArgs, Form};
use crate::report::text;
use crate::results;
use crate::{terminal, today};

/// Runs the command.
pub fn run(args: &CompareArgs) -> Result<Ending> {
    let disk = today::disk();
    let (Some(old), Some(new)) = (read(&disk, &args.old), read(&disk, &args.new)) else { return Ok(Ending::Failed) };
    let (first, second) = (procedure(&args.old, &old)?, procedure(&args.new, &new)?);
    let (number, other) = (&first.identification.number, &second.identification.number);
    if number != other {
        bail!("{number} and {other} are two procedures; compare takes two revisions of one");
    }
    let comparison = revision::compare((&old, first), (&new, second), args.code);
    match args.format {
        Form::Text => results::folded(|out| print(out, args, (first, second), &comparison))?,
        Form::Json => results::json("compare", document(args, (first, second), &comparison))?,
    }
    Ok(if comparison.needs_test() { Ending::Findings } else { Ending::Clean })
}

fn read(files: &dyn Files, path: &Path) -> Option<Loaded> {
    let input = Input::typed(path);
    match files::open(files, &input) {
        Ok((loaded, arrival)) => {
            if arrival.is_some() {
                terminal::print(format_args!(
                    "{0}: the source in it is compared; `seamwright check {0}` tells whether the sheet shows it",
                    input.name
                ));
            }
            Some(loaded)
        }
        Err(unread) => {
            text::print(&[Report::unread(input, unread)]);
            None
        }
    }
}

fn procedure<'d>(path: &Path, loaded: &'d Loaded) -> Result<&'d Procedure> {
    match &loaded.document {
        Document::Procedure(procedure) => Ok(procedure),
        other => {
            bail!("{}: `document: {}` cannot be compared; compare takes two procedures", path.display(), other.kind())
        }
    }
}

fn print(
    out: &mut impl Write,
    args: &CompareArgs,
    (old, new): (&Procedure, &Procedure),
    comparison: &Comparison,
) -> Result<()> {
    writeln!(
        out,
        "{} revision {} to {}, {}{}\n",
        new.identification.number,
        old.identification.revision,
        new.identification.revision,
        match comparison.code {
            CodeName::None => "no code".to_owned(),
            code => format!("under {}", codes::title(code)),
        },
        if comparison.toughness { ", with impact tests" } else { "" },
    )?;
    let mut changes: Vec<&Change> = comparison.changes.iter().collect();
    changes.sort_by_key(|change| std::cmp::Reverse(change.meaning));
    for change in changes {
        writeln!(out, "{}: {}", change.meaning.as_str(), change.term)?;
        let runs = change.runs.as_ref().map_or_else(String::new, |runs| format!(", run {runs}"));
        writeln!(out, "    {}{runs}", change.pointer)?;
        writeln!(out, "    {}", change.from_and_to())?;
        for variable in &change.variables {
            writeln!(out, "    {}, {} ({})", variable.reference, variable.wording, variable.effect.as_str())?;
        }
    }
    let count = |meaning| comparison.count(meaning);
    writeln!(
        out,
        "\n{} essential, {} supplementary essential, {} nonessential, {} editorial: {}",
        count(Meaning::Essential),
        count(Meaning::Supplementary),
        count(Meaning::Nonessential),
        count(Meaning::Editorial),
        comparison.verdict()
    )?;
    for source in comparison.sources() {
        writeln!(out, "source: {}", source.line())?;
    }
    if comparison.sources().iter().any(|source| source.basis != Basis::Published) {
        writeln!(out, "verify against your edition of the code: what is from memory may differ there")?;
    }
    if second_revision_is_not_later(old, new) {
        terminal::say(format_args!(
            "{} has revision {}, {} has revision {}: the second is not the later one",
            args.old.display(),
            old.identification.revision,
            args.new.display(),
            new.identification.revision
        ));
    }
    Ok(())
}

fn second_revision_is_not_later(old: &Procedure, new: &Procedure) -> bool {
    let number = |procedure: &Procedure| procedure.identification.revision.to_string().parse::<u32>().ok();
    matches!((number(old), number(new)), (Some(old), Some(new)) if new <= old)
}

fn document(args: &CompareArgs, (old, new): (&Procedure, &Procedure), comparison: &Comparison) -> Value {
    let side = |path: &Path, procedure: &Procedure| {
        json!({
            "file": path.display().to_string(),
            "number": procedure.identification.number.to_string(),
            "revision": procedure.identification.revision.to_string(),
        })
    };
    let changes: Vec<Value> = comparison
        .changes
        .iter()
        .map(|change| {
            json!({
                "pointer": change.pointer,
                "runs": change.runs,
                "variable": change.term,
                "old": change.old,
                "new": change.new,
                "meaning": change.meaning.as_str(),
                "references": change.variables.iter().map(|variable| json!({
                    "reference": variable.reference,
                    "wording": variable.wording,
                    "effect": variable.effect.as_str(),
                    "source": variable.source,
                })).collect::<Vec<_>>(),
            })
        })
        .collect();
    let count = |meaning| comparison.count(meaning);
    json!({
        "old": side(&args.old, old),
        "new": side(&args.new, new),
        "code": comparison.code.to_string(),
        "toughness": comparison.toughness,
        "changes": changes,
        "essential": count(Meaning::Essential),
        "supplementary_essential": count(Meaning::Supplementary),
        "nonessential": count(Meaning::Nonessential),
        "editorial": count(Meaning::Editorial),
        "new_test_needed": comparison.needs_test(),
        "verdict": comparison.verdict(),
    })
}
