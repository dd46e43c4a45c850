//! `range`: what test records qualify under their code, and what a shop's welders are qualified for.

use std::io::Write;

use anyhow::Result;
use seamwright_check::codes::{self, Bounds, Qualified};
use seamwright_desk::files::Input;
use seamwright_desk::range::{Ranges, ranges};
use seamwright_desk::report::columns;
use seamwright_handbook::processes;
use seamwright_model::quantity;

use crate::args::{Form, RangeArgs};
use crate::ending::Ending;
use crate::report::refused;
use crate::{results, terminal, today};

/// Runs the command.
pub fn run(args: &RangeArgs) -> Result<Ending> {
    let inputs = args.paths.iter().map(|path| Input::typed(path)).collect();
    let found = match ranges(&today::disk(), inputs, args.code.as_deref()) {
        Ok(found) => found,
        Err(why) => return refused(why),
    };
    match args.format {
        Form::Json => results::json("range", found.json())?,
        Form::Text => print(&mut results::out(), &found)?,
    }
    for words in found.nothing() {
        terminal::say(words);
    }
    Ok(if found.nothing().is_empty() { Ending::Clean } else { Ending::Findings })
}

fn print(out: &mut impl Write, found: &Ranges) -> Result<()> {
    if let Ranges::Records { code, edition, ranges, .. } = found {
        if ranges.is_empty() {
            return Ok(());
        }
        writeln!(out, "{}, {edition}\n", codes::title(*code))?;
        return write_table(out, ranges);
    }
    for cover in found.covers() {
        let certificate = cover.test.number.as_deref().unwrap_or("no number");
        write!(out, "{}, {certificate}, {}", cover.welder.name, cover.test.code)?;
        if let Some(lapses) = cover.lapses {
            write!(out, ", lapses {lapses} ({})", cover.because)?;
        }
        writeln!(out, "\n")?;
        write_table(out, &cover.ranges)?;
        writeln!(out)?;
    }
    Ok(())
}

/// A range in the unit in which its value was measured; a process by the name that the record has.
fn qualified(range: &Qualified) -> String {
    let text = range.bounds.text();
    match (&range.bounds, &range.process) {
        (Bounds::Set(words), Some(process)) if range.variable == "process" => {
            let number = processes::number_of(process);
            let names = words.iter().map(|word| if word == number { process.as_str() } else { word });
            names.collect::<Vec<_>>().join(", ")
        }
        (Bounds::Span { .. }, _) => {
            let first = range.tested.split([',', ';']).next().unwrap_or_default();
            quantity::in_unit_of(&text, first).unwrap_or(text)
        }
        _ => text,
    }
}

/// Ranges as a table for people.
fn write_table(out: &mut impl Write, ranges: &[Qualified]) -> Result<()> {
    // Which record a range comes from is told where there are several.
    let several = ranges.iter().any(|range| ranges.first().is_some_and(|first| first.records != range.records));
    let last = if several { "Records" } else { "" };
    let heads = ["Variable", "Process", "Tested", "Qualified", "Reference", "Basis", last];
    let mut rows = vec![heads.map(str::to_owned).to_vec()];
    for range in ranges {
        let tested: String = range.tested.chars().take(36).collect();
        rows.push(vec![
            range.name(),
            range.process.clone().unwrap_or_default(),
            tested,
            qualified(range),
            range.reference.clone(),
            range.source.basis.remark().to_owned(),
            if several { range.records.join(", ") } else { String::new() },
        ]);
    }
    columns(out, &rows, "", 48, terminal::width())?;
    let mut notes: Vec<String> = Vec::new();
    for range in ranges {
        if let Some(note) = &range.note {
            let line = format!("{}: {note}", range.name());
            if !notes.contains(&line) {
                notes.push(line);
            }
        }
    }
    if !notes.is_empty() {
        writeln!(out, "\n{}", terminal::wrapped(&notes.join("\n"), terminal::width()))?;
    }
    Ok(())
}
