//! The outside checks: sheets of the library as other programs read them.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result};

use crate::tools::{cargo, done, root};

/// Renders the library on both papers with a program, or one that is built here, and runs `.ci/outside.py` over it.
pub(crate) fn run(program: Option<PathBuf>) -> Result<()> {
    let program = match program {
        Some(own) => own.canonicalize().with_context(|| format!("{} is no program", own.display()))?,
        None => built()?,
    };
    let folder = tempfile::tempdir().context("no folder for the sheets")?;
    let (a4, letter) = (folder.path().join("a4"), folder.path().join("letter"));
    let render = || {
        let mut command = Command::new(&program);
        command.current_dir(root()).args(["render", "procedures", "--out"]);
        command
    };
    done(render().arg(&a4))?;
    done(render().arg(&letter).args(["--paper", "letter", "--units", "both"]))?;
    let mut checks = Command::new("python3");
    checks.current_dir(root()).arg(".ci/outside.py").arg(&program).args(["procedures", "examples/submitted"]);
    done(checks.args([a4, letter]))
}

/// Builds the program with release settings.
fn built() -> Result<PathBuf> {
    done(cargo().args(["build", "--release", "--locked", "--quiet", "--package", "seamwright-cli"]))?;
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from);
    Ok(target.join("release/seamwright"))
}
