//! The commands, one file each.

mod calc;
mod check;
mod compare;
mod completions;
mod draft;
mod estimate;
mod explain;
mod find;
mod job;
mod manual;
mod range;
pub mod render;
mod revise;
mod schema;
#[cfg(feature = "serve")]
mod serve;

use anyhow::Result;

use crate::args::Command;
use crate::ending::Ending;

/// Runs a command.
pub fn run(command: Command) -> Result<Ending> {
    match command {
        Command::Calc(args) => calc::run(*args),
        Command::Check(args) => check::run(&args),
        Command::Compare(args) => compare::run(&args),
        Command::Estimate(args) => estimate::run(args),
        Command::Range(args) => range::run(&args),
        Command::Find(args) => find::run(&args),
        Command::Job(args) => job::run(&args),
        Command::Issue(args) => revise::issue(&args),
        Command::Revise(args) => revise::revise(&args),
        Command::Render(args) => render::run(&args),
        Command::Draft(args) => draft::run(args),
        Command::Explain { name, format } => explain::run(name.as_deref(), format),
        Command::Table { name, format } => explain::table(name.as_deref(), format),
        #[cfg(feature = "serve")]
        Command::Serve(args) => serve::run(&args),
        Command::Completions { shell } => completions::run(shell),
        Command::Manual { out } => manual::run(out.as_deref()),
        Command::Schema { what, write } => schema::run(what.as_deref(), write.as_deref()),
    }
}
