//! `compare`: what changed between two revisions, and what each change means under the governing code.

use std::path::Path;

use anyhow::{Error, Result, bail};
use seamwright_desk::compare::compare;
use seamwright_desk::files::{self, Files, Input};
use seamwright_desk::report::Report;
use seamwright_model::Loaded;

use crate::args::{CompareArgs, Form};
use crate::ending::Ending;
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
        Form::Text => {
            results::folded(|out| Ok(compared.text(out)?))?;
            if compared.backwards() {
                let (old, new) = (&compared.old, &compared.new);
                terminal::say(format_args!(
                    "{} has revision {}, {} has revision {}: the second is not the later one",
                    old.name, old.revision, new.name, new.revision
                ));
            }
        }
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
