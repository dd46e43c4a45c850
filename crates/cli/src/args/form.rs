//! Forms of results.

use clap::ValueEnum;

/// How results are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For people.
    Text,
    /// For programs.
    Json,
}
