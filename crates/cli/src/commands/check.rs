//! `check`: reads documents and reports what is wrong with them.

use std::io::Write;

use anyhow::Result;
use rayon::prelude::*;

use crate::Ending;
use crate::args::{CheckArgs, ReportForm};
use crate::beside::Beside;
use crate::files;
use crate::report::{Report, json, sarif, text};

/// Runs the command.
pub fn run(args: &CheckArgs) -> Result<Ending> {
    let inputs = files::inputs(&args.paths)?;
    let reports: Vec<Report> = match Beside::read(&args.beside) {
        Ok(beside) => inputs.into_par_iter().map(|input| beside.examine(input)).collect(),
        Err(failed) => failed,
    };
    let value = match args.format {
        ReportForm::Text => {
            text::print(&reports);
            None
        }
        ReportForm::Json => Some(json::document(&reports)),
        ReportForm::Sarif => Some(sarif::document(&reports)),
    };
    if let Some(value) = value {
        let mut out = std::io::stdout().lock();
        serde_json::to_writer_pretty(&mut out, &value).map_err(std::io::Error::from)?;
        writeln!(out)?;
    }
    Ok(reports.iter().map(|report| report.ending(args.deny)).max().unwrap_or(Ending::Clean))
}
