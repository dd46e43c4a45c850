//! How the files of a run are called below the output folder.

use std::path::Path;

use seamwright_desk::files::Input;
use seamwright_page::Kind;
use seamwright_page::words::Language;

/// Names below the output folder that the program itself writes.
pub(super) const INDEX: &str = "index.html";
pub(super) const BINDER: &str = "binder.pdf";

/// A format of a review as data.
#[derive(Debug, Clone, Copy)]
pub(super) enum Data {
    Csv,
    Json,
}

impl Data {
    /// How the names of its files end.
    pub(super) const fn ending(self) -> &'static str {
        match self {
            Self::Csv => "csv",
            Self::Json => "json",
        }
    }
}

/// The path of a sheet below the output folder: the kind stands in the name, but for that of the usual one, and the language,
/// but for English.
pub(super) fn below(input: &Input, kind: Kind, language: Language, ending: &str) -> String {
    let ending = match language {
        Language::En => ending.to_owned(),
        other => format!("{}.{ending}", other.tag()),
    };
    let stem = input.stem.to_string_lossy();
    if kind == Kind::default() { format!("{stem}.{ending}") } else { format!("{stem}.{}.{ending}", kind.name()) }
}

/// Whether a path is named as sheets are.
pub(super) fn sheet_itself(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "pdf" || ending == "html")
}
