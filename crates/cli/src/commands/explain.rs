//! `explain`: what a check finds, why, what to do, and where its limit comes from.

use std::io::Write;

use anyhow::{Result, bail};
use seamwright_handbook::find;

use super::table;
use crate::Ending;
use crate::args::Form;

/// Runs the command.
pub fn run(name: Option<&str>) -> Result<Ending> {
    let mut out = std::io::stdout().lock();
    let Some(name) = name else {
        for rule in seamwright_check::explanations() {
            writeln!(out, "{:36} {}", rule.name, rule.finds)?;
        }
        return Ok(Ending::Clean);
    };
    match seamwright_check::explain(name) {
        Ok(rule) => {
            writeln!(out, "{}\n", rule.name)?;
            for (heading, text) in [
                ("What it finds", rule.finds),
                ("Why it matters", rule.matters),
                ("What to do", rule.remedy),
                ("Limit and source", rule.limit),
            ] {
                writeln!(out, "{heading}\n  {text}\n")?;
            }
            if let Some(case) = rule.faulty.first() {
                writeln!(out, "Example of the fault")?;
                for (pointer, yaml) in case.edits {
                    let stands = if yaml.is_empty() { "left out" } else { yaml };
                    writeln!(out, "  {pointer}: {stands}")?;
                }
                writeln!(out)?;
            }
            for name in rule.tables {
                writeln!(out, "Table `{name}`: seamwright table {name}")?;
            }
            Ok(Ending::Clean)
        }
        Err(near) => {
            if seamwright_handbook::table(name).is_ok() {
                drop(out);
                return table::run(Some(name), Form::Text);
            }
            let tables = find::nearest(name, seamwright_handbook::TABLES.iter().map(|info| info.name()));
            let names: Vec<&str> = near.into_iter().chain(tables).collect();
            if names.is_empty() {
                bail!("`{name}` is neither a check nor a table; `seamwright explain` lists the checks");
            }
            bail!("`{name}` is neither a check nor a table; the nearest are {}", names.join(", "));
        }
    }
}
