//! Programs that tasks run.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

/// The folder of the workspace.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Cargo as it runs this task.
pub(crate) fn cargo() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root());
    command
}

/// Runs a program to its end; `Err` names it where it is not there or fails.
pub(crate) fn done(command: &mut Command) -> Result<()> {
    let name = command.get_program().to_string_lossy().into_owned();
    let status = command.status().with_context(|| format!("{name} could not be started"))?;
    if status.success() { Ok(()) } else { bail!("{name} ended with {status}") }
}

/// What a program prints; `Err` names it where it is not there or fails.
pub(crate) fn printed(command: &mut Command) -> Result<Vec<u8>> {
    let name = command.get_program().to_string_lossy().into_owned();
    let output = command.output().with_context(|| format!("{name} could not be started"))?;
    if !output.status.success() {
        bail!("{name} ended with {}: {}", output.status, String::from_utf8_lossy(&output.stderr).trim());
    }
    Ok(output.stdout)
}
