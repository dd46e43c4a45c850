//! `completions`: what a shell needs to complete the program's words.

use anyhow::Result;
use clap::CommandFactory;
use clap_complete::Shell;

use crate::args::Args;
use crate::ending::Ending;
use crate::results;

/// Runs the command.
pub fn run(shell: Shell) -> Result<Ending> {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Args::command(), "seamwright", &mut text);
    std::io::Write::write_all(&mut results::out(), &text)?;
    Ok(Ending::Clean)
}
