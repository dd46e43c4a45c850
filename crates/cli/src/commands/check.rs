//! `check`: reads documents and reports what is wrong with them.

use std::io::Write;

use anyhow::Result;
use rayon::prelude::*;
use seamwright_check::Context;
use seamwright_model::stated::Date;

use crate::Ending;
use crate::args::{CheckArgs, Form};
use crate::files::{self, Input};
use crate::report::{Report, json, text};

/// Runs the command.
pub fn run(args: &CheckArgs) -> Result<Ending> {
    let inputs = files::inputs(&args.paths)?;
    let reports: Vec<Report> = inputs.into_par_iter().map(examine).collect();
    match args.format {
        Form::Text => text::print(&reports),
        Form::Json => {
            let mut out = std::io::stdout().lock();
            serde_json::to_writer_pretty(&mut out, &json::document(&reports)).map_err(std::io::Error::from)?;
            writeln!(out)?;
        }
    }
    Ok(reports.iter().map(|report| report.ending(args.deny)).max().unwrap_or(Ending::Clean))
}

/// Reads and checks one file.
pub fn examine(input: Input) -> Report {
    let result = files::read(&input).map(|loaded| {
        let context = Context { today: Some(today()), ..Context::default() };
        let outcome = seamwright_check::check_with(&loaded.document, &context);
        (loaded, outcome)
    });
    Report { input, result }
}

/// The day where the sun rises first: a date that is today anywhere does not lie in the future.
fn today() -> Date {
    Date(jiff::tz::offset(14).to_datetime(jiff::Timestamp::now()).date())
}
