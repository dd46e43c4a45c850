//! What keepers of Seamwright run: `cargo xtask NAME`.
//!
//! `bless.rs` renews what tests hold results against; `outside.rs` runs the outside checks of the sheets; `package.rs` makes what is handed out to people without Rust; `sbom.rs` lists what is in it.

mod bless;
mod outside;
mod package;
mod sbom;
mod tools;

use std::path::PathBuf;

use anyhow::Result;
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
    Outside {
        /// The program; built with release settings where it is left out.
        program: Option<PathBuf>,
    },
    /// Make the packages that are handed out: tarball, .deb and wheel, with completions, man pages, licences, bill of materials
    /// and digests.
    Package(package::PackageArgs),
}

fn main() -> Result<()> {
    match Args::parse().task {
        Task::Bless => bless::run(),
        Task::Outside { program } => outside::run(program),
        Task::Package(args) => package::run(&args),
    }
}
