//! The `seamwright` binary: weld procedures from YAML to checked sheets.
//!
//! `args.rs` is what was typed and the help; `beside.rs` reads the documents that others are held against; `commands/` does the work, one file each; `files.rs` owns reading, `output.rs` writing;
//! `arrived.rs` holds sheets that arrive against their source, `look.rs` is the look of sheets;
//! `report/` prints findings, `results.rs` other results, `terminal.rs` every other message; `seal.rs` and `standing.rs` tell which sheets need not be made again.

mod args;
mod arrived;
mod beside;
mod commands;
mod files;
mod look;
mod output;
mod report;
mod results;
mod seal;
mod standing;
mod stop;
mod style;
mod terminal;

use std::process::ExitCode;

use clap::Parser;

/// How a command ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ending {
    /// Nothing wrong.
    Clean,
    /// Findings of severity error.
    Findings,
    /// The work, or a part of it, could not be done.
    Failed,
}

fn main() -> ExitCode {
    let args = match args::Args::try_parse() {
        Ok(args) => args,
        Err(error) => {
            // cannot help it where the terminal is gone
            let _ = error.print();
            return ExitCode::from(if error.use_stderr() { 2 } else { 0 });
        }
    };
    let ending = commands::run(args.command).unwrap_or_else(|error| {
        if let Some(io) = error.downcast_ref::<std::io::Error>()
            && io.kind() == std::io::ErrorKind::BrokenPipe
        {
            return Ending::Clean;
        }
        terminal::say(format_args!("{error:#}"));
        Ending::Failed
    });
    ExitCode::from(match ending {
        Ending::Clean => 0,
        Ending::Findings => 1,
        Ending::Failed => 2,
    })
}
