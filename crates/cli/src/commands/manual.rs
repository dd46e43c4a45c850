//! `manual`: the man pages, one for the program and one for each command.

use std::path::Path;

use anyhow::Result;
use clap::CommandFactory;
use clap_mangen::Man;

use crate::args::Args;
use crate::ending::Ending;
use crate::{output, results};

/// Runs the command: into a folder where one is named, else the page of the program to standard output.
pub fn run(out: Option<&Path>) -> Result<Ending> {
    let mut command = Args::command().disable_help_subcommand(true);
    command.build();
    let Some(folder) = out else {
        Man::new(command).render(&mut results::out())?;
        return Ok(Ending::Clean);
    };
    let mut left = vec![command];
    while let Some(command) = left.pop() {
        left.extend(command.get_subcommands().cloned());
        let man = Man::new(command);
        let mut page = Vec::new();
        man.render(&mut page)?;
        output::write(&folder.join(man.get_filename()), &page)?;
    }
    Ok(Ending::Clean)
}
