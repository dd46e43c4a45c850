//! The languages of sheets.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// The language of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Language {
    /// English, in which every kind of sheet is.
    #[default]
    En,
    /// Spanish.
    Es,
    /// German.
    De,
}

impl Language {
    /// Every language.
    pub const ALL: [Self; 3] = [Self::En, Self::Es, Self::De];

    /// English alone.
    pub const ENGLISH: [Self; 1] = [Self::En];

    /// Its tag (BCP 47), as typed and as a file says it.
    pub const fn tag(self) -> &'static str {
        match self {
            Self::En => "en",
            Self::Es => "es",
            Self::De => "de",
        }
    }

    /// What it is called in English.
    pub const fn name(self) -> &'static str {
        match self {
            Self::En => "English",
            Self::Es => "Spanish",
            Self::De => "German",
        }
    }

    /// Whether it is English.
    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde passes a reference")]
    pub(crate) fn is_english(&self) -> bool {
        *self == Self::En
    }
}

impl FromStr for Language {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        Self::ALL
            .into_iter()
            .find(|language| language.tag() == text)
            .ok_or_else(|| format!("`{text}` is not a language of sheets; write en, es or de"))
    }
}
