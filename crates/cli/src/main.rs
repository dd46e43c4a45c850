//! The `seamwright` binary: weld procedures from YAML to checked sheets.
//!
//! `args/` is what was typed and the help; `commands/` asks the application core, the crate `seamwright-desk`, and prints
//! its answers, one file each; `output.rs` writes files, `author_file.rs` over those that a person keeps; `report/` prints findings, `results.rs` other results, `terminal.rs`
//! every other message; `memory.rs` sees to runs under a limit of memory; `today.rs` is the clock.

mod args;
mod author_file;
mod commands;
mod ending;
mod memory;
mod output;
mod report;
mod results;
mod stop;
mod terminal;
mod today;

use std::process::ExitCode;

use clap::Parser;

use ending::Ending;

fn main() -> ExitCode {
    if let Some(code) = memory::within_limit() {
        return code;
    }
    let args = match args::Args::try_parse() {
        Ok(args) => args,
        Err(error) => {
            let told = error.render().to_string();
            let seen = terminal::visible(&told);
            if seen == told {
                // cannot help it where the terminal is gone
                let _ = error.print();
            } else {
                // What was typed steers or hides: it is told without colours, and escaped.
                terminal::print(seen.trim_end());
            }
            return ExitCode::from(if error.use_stderr() { 2 } else { 0 });
        }
    };
    terminal::settle(args.color, args.quiet);
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
