//! What keepers of Seamwright run: `cargo xtask NAME`.
//!
//! `bless.rs` renews what tests hold results against; `outside.rs` runs the outside checks of the sheets; `package.rs` makes what is handed out to people without Rust; `sbom.rs` lists what is in it.

mod bless;
mod outside;
mod package;
mod sbom;

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};
use clap::{Parser, Subcommand};

/// What keepers of Seamwright run.
#[derive(Debug, Parser)]
#[command(name = "cargo xtask", max_term_width = 100)]
struct Args {
    #[command(subcommand)]
    task: Task,
}

#[derive(Debug, Subcommand)]
enum Task {
    /// Renew what tests hold results against: coverage of the checks, golden files, digests and pictures of sheets. Read the
    /// change before it is kept.
    Bless,
    /// Render the library and hold its sheets against other programs' reading of them.
    Outside,
    /// Make the packages that are handed out: tarball, .deb and wheel, with completions, man pages, licences, bill of materials
    /// and digests.
    Package(package::PackageArgs),
}

fn main() -> Result<()> {
    match Args::parse().task {
        Task::Bless => bless::run(),
        Task::Outside => outside::run(),
        Task::Package(args) => package::run(&args),
    }
}

/// The folder of the workspace.
fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Cargo as it runs this task.
fn cargo() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root());
    command
}

/// Runs a program to its end; `Err` names it where it is not there or fails.
fn done(command: &mut Command) -> Result<()> {
    let name = command.get_program().to_string_lossy().into_owned();
    let status = command.status().with_context(|| format!("{name} could not be started"))?;
    if status.success() { Ok(()) } else { bail!("{name} ended with {status}") }
}

/// What a program prints; `Err` names it where it is not there or fails.
fn printed(command: &mut Command) -> Result<Vec<u8>> {
    let name = command.get_program().to_string_lossy().into_owned();
    let output = command.output().with_context(|| format!("{name} could not be started"))?;
    if !output.status.success() {
        bail!("{name} ended with {}: {}", output.status, String::from_utf8_lossy(&output.stderr).trim());
    }
    Ok(output.stdout)
}
