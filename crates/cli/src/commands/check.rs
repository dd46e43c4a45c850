//! `check`: reads documents and reports what is wrong with them.

use std::io::Write;

use anyhow::Result;
use rayon::prelude::*;
use serde_json::Value;

use crate::Ending;
use crate::args::{CheckArgs, ReportForm};
use crate::beside::Beside;
use crate::files;
use crate::report::machine::Machine;
use crate::report::{Report, json, sarif, text};

/// Runs the command.
pub fn run(args: &CheckArgs) -> Result<Ending> {
    let inputs = files::inputs(&args.paths)?;
    let (reports, machines): (Vec<Report>, Vec<Vec<Machine>>) = match Beside::read(&args.beside) {
        Ok(beside) => inputs
            .into_par_iter()
            .map(|input| {
                let report = beside.examine(input);
                let machines = beside.machines(&report);
                (report, machines)
            })
            .unzip(),
        Err(failed) => (failed, Vec::new()),
    };
    let named = reports.iter().zip(&machines).filter(|(_, machines)| !machines.is_empty());
    let value = match args.format {
        ReportForm::Text => {
            text::print(&reports);
            let mut out = std::io::stdout().lock();
            for (report, machine) in named.flat_map(|(report, of)| of.iter().map(move |machine| (report, machine))) {
                writeln!(out, "{}: {machine}", report.input.name)?;
            }
            None
        }
        ReportForm::Json => {
            let mut whole = json::document(&reports);
            let files = whole.get_mut("files").and_then(Value::as_array_mut).into_iter().flatten();
            for (file, machines) in files.zip(&machines).filter(|(_, machines)| !machines.is_empty()) {
                if let Some(file) = file.as_object_mut() {
                    file.insert("machines".to_owned(), machines.iter().map(Machine::json).collect());
                }
            }
            Some(whole)
        }
        ReportForm::Sarif => Some(sarif::document(&reports)),
    };
    if let Some(value) = value {
        let mut out = std::io::stdout().lock();
        serde_json::to_writer_pretty(&mut out, &value).map_err(std::io::Error::from)?;
        writeln!(out)?;
    }
    Ok(reports.iter().map(|report| report.ending(args.deny)).max().unwrap_or(Ending::Clean))
}
