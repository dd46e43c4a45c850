//! What a sheet was made with, carried beside its source: with it the sheet can be made again, once, and compared.
//!
//! Documents that stood beside the source are named by their digests and never attached: a shop's rates and a laboratory's
//! records are not for everyone who gets a sheet.

use seamwright_handbook::variables::Terms;
use seamwright_model::quantity::UnitSystem;
use serde::{Deserialize, Serialize};

use crate::kind::Kind;
use crate::language::Language;
use crate::options::SheetOptions;
use crate::paper::Paper;

/// What a sheet was made with.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MadeWith {
    /// Version of the program.
    pub version: String,
    /// The kind of sheet.
    pub sheet: Kind,
    /// Units on the sheet.
    pub units: UnitSystem,
    /// Words on the sheet.
    pub terms: Terms,
    /// The paper, as the back end that writes the sheet knows it.
    #[serde(default)]
    pub paper: Paper,
    /// Whether a procedure sheet carries its annex.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub annex: bool,
    /// The language of the sheet.
    #[serde(default, skip_serializing_if = "Language::is_english")]
    pub language: Language,
    /// Whether the program wrote its seal into the file: a file that says so and has none was changed.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub sealed: bool,
    /// Length of weld of an estimate, as it was typed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<String>,
    /// Code that was named beside the document.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub code: Option<String>,
    /// Day of the check (ISO 8601), where what was found depends on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<String>,
    /// What stood beside the document.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub beside: Vec<Companion>,
}

/// A document or file that stood beside the source.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Companion {
    /// What it was.
    pub role: Role,
    /// Its number, or its name where it has none.
    pub name: String,
    /// Digest of its text, as sheets print it.
    pub digest: String,
}

/// What stood beside a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// The procedure that a lesson teaches.
    Procedure,
    /// A test record that the procedure was held against.
    TestRecord,
    /// The shop whose machines, stock and rates were used.
    Shop,
    /// The shop's name block, colour and logo.
    HouseStyle,
    /// Templates in place of the built-in ones.
    Templates,
}

impl Role {
    /// The word for it.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Procedure => "procedure",
            Self::TestRecord => "test record",
            Self::Shop => "shop",
            Self::HouseStyle => "house style",
            Self::Templates => "templates",
        }
    }
}

impl MadeWith {
    /// What is known where a kind of sheet is made of a document; the rest is added by who knows it.
    pub fn new(sheet: Kind, options: SheetOptions) -> Self {
        Self {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            sheet,
            units: options.units,
            terms: options.terms,
            paper: Paper::default(),
            annex: options.annex,
            language: options.language,
            sealed: false,
            length: None,
            code: None,
            day: None,
            beside: Vec::new(),
        }
    }

    /// As text, with the paper that a sheet is set on.
    pub(crate) fn text(&self, paper: Paper) -> String {
        // cannot fail: texts and enums only
        serde_json::to_string(&Self { paper, ..self.clone() }).unwrap_or_default()
    }

    /// From the text that a file carries; nothing where it is none that this version writes.
    pub(crate) fn read(text: &str) -> Option<Self> {
        serde_json::from_str(text).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_back() {
        let mut made = MadeWith::new(Kind::BenchCard, SheetOptions::default());
        made.beside.push(Companion { role: Role::TestRecord, name: "T-\"9\"".into(), digest: "7c1e 09ab".into() });
        made.length = Some("2 m".into());
        assert!(!made.text(Paper::Letter).contains("language"));
        made.language = Language::De;
        let read = MadeWith::read(&made.text(Paper::Letter)).unwrap();
        assert_eq!(read, MadeWith { paper: Paper::Letter, ..made });
        assert_eq!(MadeWith::read("{\"sheet\": \"poster\"}"), None);
    }
}
