//! Arguments of `issue` and `revise`.

use std::path::PathBuf;

/// Arguments of `issue`.
#[derive(Debug, clap::Args)]
pub struct IssueArgs {
    /// The procedure.
    pub file: PathBuf,
    /// Who approves it.
    #[arg(long, value_name = "NAME")]
    pub by: String,
}

/// Arguments of `revise`.
#[derive(Debug, clap::Args)]
pub struct ReviseArgs {
    /// The procedure.
    pub file: PathBuf,
    /// Why it is revised: the entry in its history.
    #[arg(long, value_name = "TEXT")]
    pub why: String,
    /// Who revises it.
    #[arg(long, value_name = "NAME")]
    pub by: Option<String>,
    /// The new revision, where it is not the next number or letter.
    #[arg(long)]
    pub revision: Option<String>,
    /// Folder whose sheets of the old revision are kept as superseded.
    #[arg(long, value_name = "DIR")]
    pub sheets: Option<PathBuf>,
}
