//! Arguments of `render`.

use std::path::PathBuf;

use clap::ValueEnum;
use seamwright_handbook::variables::Terms;
use seamwright_model::quantity::{Length, Range, UnitSystem};
use seamwright_page::Kind;
use seamwright_page::pdf::Paper;
use seamwright_page::words::Language;

use super::{AppearanceArgs, CompanionArgs, Deny, words};

/// Arguments of `render`.
#[derive(Debug, clap::Args)]
pub struct RenderArgs {
    /// Files, folders (walked for *.yaml) or - for standard input.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    /// What stands beside them.
    #[command(flatten)]
    pub companions: CompanionArgs,
    /// Folder for the sheets; made if it is not there.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Formats to write; csv and json hold a review, with `--sheet review`.
    #[arg(long, value_enum, ignore_case = true, value_delimiter = ',', default_values_t = [To::Pdf, To::Html])]
    pub to: Vec<To>,
    /// Kinds of sheet; several with commas between. Each document gets those that it has. [default: procedure lesson; in Spanish or
    /// German: bench-card lesson]
    #[arg(long, value_parser = words::kinds(), ignore_case = true, value_delimiter = ',')]
    pub sheet: Vec<Kind>,
    /// Language of bench cards and lessons: en, es or de; several with commas between, each as a sheet of its own beside the others.
    #[arg(long, value_parser = words::languages(), ignore_case = true, value_delimiter = ',', default_value = "en")]
    pub language: Vec<Language>,
    /// Length of weld for the estimate sheet; the length that the procedure states if left out.
    #[arg(long, allow_hyphen_values = true, value_parser = words::length_of_weld)]
    pub length: Option<Range<Length>>,
    /// Units on the sheet.
    #[arg(long, value_parser = words::units(), ignore_case = true, default_value = "si")]
    pub units: UnitSystem,
    /// Words and welding symbols on the sheet.
    #[arg(long, value_parser = words::terms(), ignore_case = true, default_value = "iso")]
    pub terms: Terms,
    /// Add an annex to procedure sheets: cautions in full, sources of limits, compositions, older revisions.
    #[arg(long)]
    pub annex: bool,
    /// Paper size.
    #[arg(long, value_parser = words::papers(), ignore_case = true, default_value = "a4")]
    pub paper: Paper,
    /// The look of the sheets.
    #[command(flatten)]
    pub appearance: AppearanceArgs,
    /// Also write binder.pdf: all sheets in one file, with contents and outline.
    #[arg(long)]
    pub binder: bool,
    /// Make every sheet again, also those that are already what they would be.
    #[arg(long)]
    pub force: bool,
    /// How many threads work; all cores if left out.
    #[arg(long)]
    pub jobs: Option<usize>,
    /// Count cautions as errors.
    #[arg(long, value_enum, ignore_case = true)]
    pub deny: Option<Deny>,
}

/// A format of sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum To {
    /// PDF.
    Pdf,
    /// HTML.
    Html,
    /// The findings of a review as comma-separated values, with columns for disposition and reply.
    Csv,
    /// The findings of a review and what is asked for, as JSON.
    Json,
}
