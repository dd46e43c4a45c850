//! What stands beside documents, and the look of their sheets.

use std::path::PathBuf;

use seamwright_desk::appearance::AppearanceFiles;
use seamwright_desk::companions::CompanionFiles;
use seamwright_model::procedure::CodeName;

use super::words;

/// Documents beside those that are checked.
#[derive(Debug, Default, clap::Args)]
pub struct CompanionArgs {
    /// Test record that procedures are held against; may be given several times.
    #[arg(long, value_name = "FILE")]
    pub record: Vec<PathBuf>,
    /// Shop that procedures are held against.
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Procedure that lessons teach, in place of the one that they name; a sheet that arrives is told superseded by it.
    #[arg(long, value_name = "FILE")]
    pub procedure: Option<PathBuf>,
    /// Code that governs, where the documents do not name it: iso-15614-1, iso-15614-2, asme-ix, aws-d1.1, aws-d1.2, aws-d1.3, aws-d1.6, api-1104.
    #[arg(long, value_parser = words::word::<CodeName>)]
    pub code: Option<CodeName>,
}

impl CompanionArgs {
    /// As the request to read them.
    pub fn files(&self) -> CompanionFiles {
        let Self { record, shop, procedure, code } = self;
        CompanionFiles { records: record.clone(), shop: shop.clone(), procedure: procedure.clone(), code: *code }
    }
}

/// The look of sheets, where it is not the built-in one.
#[derive(Debug, Default, clap::Args)]
pub struct AppearanceArgs {
    /// Folder with templates that take the place of the built-in ones of the same names.
    #[arg(long, value_name = "FOLDER")]
    pub templates: Option<PathBuf>,
    /// File with the shop's name block, colour and logo; house-style.yaml in the folder of templates if left out.
    #[arg(long, value_name = "FILE")]
    pub style: Option<PathBuf>,
}

impl AppearanceArgs {
    /// As the request to read it.
    pub fn files(&self) -> AppearanceFiles {
        AppearanceFiles { templates: self.templates.clone(), style: self.style.clone() }
    }
}
