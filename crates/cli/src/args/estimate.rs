//! Arguments of `estimate`.

use std::path::PathBuf;

use clap::ValueEnum;
use seamwright_model::quantity::{Length, Range};

use super::words::length_of_weld;

/// Arguments of `estimate`.
#[derive(Debug, clap::Args)]
pub struct EstimateArgs {
    /// Procedures: files, folders (walked for *.yaml) or - for standard input.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    /// Length of weld of each procedure.
    #[arg(long, allow_hyphen_values = true, required_unless_present = "joints", conflicts_with = "joints", value_parser = length_of_weld)]
    pub length: Option<Range<Length>>,
    /// List of joints as YAML or CSV: joint, length, count, and the procedure's number where there are several.
    #[arg(long)]
    pub joints: Option<PathBuf>,
    /// Thickness in place of a stated range of thickness.
    #[arg(long, allow_hyphen_values = true)]
    pub thickness: Option<Range<Length>>,
    /// Shop whose rates give the cost.
    #[arg(long)]
    pub shop: Option<PathBuf>,
    /// Text for people, json or csv.
    #[arg(long, value_enum, ignore_case = true, default_value_t = EstimateForm::Text)]
    pub format: EstimateForm,
}

/// How an estimate is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum EstimateForm {
    /// For people.
    Text,
    /// For programs.
    Json,
    /// For spreadsheets: a line for each run.
    Csv,
}
