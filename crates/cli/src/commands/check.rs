//! `check`: reads documents and reports what is wrong with them.

use std::io::Write;

use anyhow::Result;
use rayon::prelude::*;
use serde_json::Value;

use crate::Ending;
use crate::args::{CheckArgs, ReportForm};
use crate::beside::{Beside, Follow};
use crate::files;
use crate::look::Look;
use crate::report::machine::Machine;
use crate::report::{Report, completeness, json, kit, sarif, text};
use crate::results;

/// Runs the command.
pub fn run(args: &CheckArgs) -> Result<Ending> {
    let inputs = files::inputs(&args.paths)?;
    let (reports, follow): (Vec<Report>, Vec<Follow>) = match Beside::read(&args.beside, Look::read(&args.look)?) {
        Ok(beside) => inputs
            .into_par_iter()
            .map(|input| {
                let (report, named) = beside.examine(input);
                let follow = beside.follow(&report, &named);
                (report, follow)
            })
            .unzip(),
        Err(failed) => (failed, Vec::new()),
    };
    let value = match args.format {
        ReportForm::Text => {
            text::print(&reports);
            let mut out = std::io::stdout().lock();
            for (report, follow) in reports.iter().zip(&follow) {
                if let (true, Ok((loaded, _))) = (args.completeness, &report.result) {
                    completeness::print(&mut out, &report.input.name, &completeness::of(loaded))?;
                }
                for machine in &follow.machines {
                    writeln!(out, "{}: {machine}", report.input.name)?;
                }
                if let Some(own) = &follow.kit {
                    kit::print(&mut out, &report.input.name, own)?;
                }
            }
            None
        }
        ReportForm::Json => {
            let mut whole = json::document(&reports);
            let files = whole.get_mut("files").and_then(Value::as_array_mut).into_iter().flatten();
            for ((file, follow), report) in files.zip(&follow).zip(&reports) {
                let Some(file) = file.as_object_mut() else { continue };
                if let (true, Ok((loaded, _))) = (args.completeness, &report.result) {
                    file.insert("completeness".to_owned(), completeness::json(&completeness::of(loaded)));
                }
                if !follow.machines.is_empty() {
                    file.insert("machines".to_owned(), follow.machines.iter().map(Machine::json).collect());
                }
                if let Some(own) = &follow.kit {
                    file.insert("kit".to_owned(), kit::json(own));
                }
            }
            Some(whole)
        }
        ReportForm::Sarif => Some(sarif::document(&reports)),
    };
    if let Some(value) = value {
        results::json(&value)?;
    }
    Ok(reports.iter().map(|report| report.ending(args.deny)).max().unwrap_or(Ending::Clean))
}
