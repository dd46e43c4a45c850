//! Arguments of `check`.

use std::path::PathBuf;

use clap::ValueEnum;
use seamwright_page::words::Language;

use super::{AppearanceArgs, CompanionArgs, words};

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub struct CheckArgs {
    /// Files, folders (walked for *.yaml) or - for standard input; also sheets that this program wrote.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    /// What stands beside them.
    #[command(flatten)]
    pub companions: CompanionArgs,
    /// The look that sheets among them were made with.
    #[command(flatten)]
    pub appearance: AppearanceArgs,
    /// Also say of each item that ISO 15609-1 and the code ask for whether it is stated.
    #[arg(long)]
    pub completeness: bool,
    /// Also list the words of the bench card or the lesson that a language lacks, es or de: they stand there in English.
    #[arg(long, value_parser = words::languages(), ignore_case = true)]
    pub language: Option<Language>,
    /// Text for people, json, or sarif for code hosts.
    #[arg(long, value_enum, ignore_case = true, default_value_t = ReportForm::Text)]
    pub format: ReportForm,
    /// Count cautions as errors.
    #[arg(long, value_enum, ignore_case = true)]
    pub deny: Option<Deny>,
}

/// How findings are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ReportForm {
    /// For people.
    Text,
    /// For programs.
    Json,
    /// SARIF 2.1.0, for code hosts.
    Sarif,
}

/// What else counts as an error.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Deny {
    /// Cautions.
    Cautions,
}
