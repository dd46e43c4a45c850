//! `compare`: what changed between two revisions, and what each change means under the governing code.

use std::io::Write;
use std::path::Path;

use anyhow::{Error, Result, bail};
use seamwright_check::codes;
use seamwright_check::revision::Meaning;
use seamwright_desk::compare::{Compared, compare};
use seamwright_desk::files::{self, Files, Input};
use seamwright_desk::report::Report;
use seamwright_model::procedure::CodeName;
use seamwright_model::{Loaded, finding::Basis};

use crate::Ending;
use crate::args::{CompareArgs, Form};
use crate::report::text;
use crate::results;
use crate::{terminal, today};

/// Runs the command.
pub fn run(args: &CompareArgs) -> Result<Ending> {
    let disk = today::disk();
    let (Some(old), Some(new)) = (read(&disk, &args.old), read(&disk, &args.new)) else { return Ok(Ending::Failed) };
    let names = (args.old.display().to_string(), args.new.display().to_string());
    let compared = compare((&names.0, &old), (&names.1, &new), args.code).map_err(Error::msg)?;
    let (number, other) = (&compared.old.number, &compared.new.number);
    if number != other {
        bail!("{number} and {other} are two procedures; compare takes two revisions of one");
    }
    match args.format {
        Form::Text => results::folded(|out| print(out, &compared))?,
        Form::Json => results::json("compare", compared.json())?,
    }
    Ok(if compared.comparison.needs_test() { Ending::Findings } else { Ending::Clean })
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

fn print(out: &mut impl Write, compared: &Compared) -> Result<()> {
    let Compared { old, new, comparison } = compared;
    writeln!(
        out,
        "{} revision {} to {}, {}{}\n",
        new.number,
        old.revision,
        new.revision,
        match comparison.code {
            CodeName::None => "no code".to_owned(),
            code => format!("under {}", codes::title(code)),
        },
        if comparison.toughness { ", with impact tests" } else { "" },
    )?;
    for change in compared.changes() {
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
    if compared.backwards() {
        terminal::say(format_args!(
            "{} has revision {}, {} has revision {}: the second is not the later one",
            old.name, old.revision, new.name, new.revision
        ));
    }
    Ok(())
}
