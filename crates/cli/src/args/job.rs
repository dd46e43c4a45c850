//! Arguments of `job`.

use std::path::PathBuf;

use seamwright_model::quantity::UnitSystem;
use seamwright_page::pdf::Paper;

use super::{Form, words};

/// Arguments of `job`.
#[derive(Debug, clap::Args)]
pub struct JobArgs {
    /// The job, or a list of joints from a spreadsheet (.csv, .tsv).
    pub file: PathBuf,
    /// Files or folders with procedures, besides those that the job names; may be given several times.
    #[arg(long, value_name = "PATH")]
    pub procedures: Vec<PathBuf>,
    /// Shop, in place of the one that the job names.
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Number of a job that is made of a list.
    #[arg(long)]
    pub number: Option<String>,
    /// Title of a job that is made of a list.
    #[arg(long)]
    pub title: Option<String>,
    /// Write the job that is made of a list to this file.
    #[arg(long, value_name = "FILE")]
    pub write: Option<PathBuf>,
    /// Folder for the quotation, the office sheet, and the binder with cover, traveller and cards.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Units of the cards.
    #[arg(long, value_parser = words::units(), ignore_case = true, default_value = "both")]
    pub units: UnitSystem,
    /// Paper.
    #[arg(long, value_parser = words::papers(), ignore_case = true, default_value = "a4")]
    pub paper: Paper,
    /// Text for people, or json.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Form::Text)]
    pub format: Form,
}
