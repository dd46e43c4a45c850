//! Arguments of `compare` and `range`.

use std::path::PathBuf;

use seamwright_model::procedure::CodeName;

use super::{Form, words};

/// Arguments of `compare`.
#[derive(Debug, clap::Args)]
pub struct CompareArgs {
    /// The revision before.
    pub old: PathBuf,
    /// The revision after.
    pub new: PathBuf,
    /// Judge by this code instead of the one that the new revision names: none, iso-15614-1, iso-15614-2, asme-ix, aws-d1.1, aws-d1.2, aws-d1.3, aws-d1.6 or api-1104.
    #[arg(long, value_parser = words::word::<CodeName>)]
    pub code: Option<CodeName>,
    /// Text for people, or json.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Form::Text)]
    pub format: Form,
}

/// Arguments of `range`.
#[derive(Debug, clap::Args)]
pub struct RangeArgs {
    /// Test records of one code, or shops with welders.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    /// The code: iso-15614-1, iso-15614-2, asme-ix, aws-d1.1, api-1104; for welders iso-9606-1, iso-9606-2, asme-ix, aws-d1.1 or api-1104.
    #[arg(long)]
    pub code: Option<String>,
    /// Text for people, or json.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Form::Text)]
    pub format: Form,
}
