//! A sheet that comes from elsewhere: whether it is proved by the source that it carries, and if not, what can be said of it.
//!
//! Sheets are repeatable: with what a sheet says it was made with it is made again from its source. Equal byte for byte it is
//! proved; nothing else is. Of any other the answer says what holds, as far as that can be told.

use std::fmt;

use seamwright_model::load::Fault;
use seamwright_page::Kind;
use seamwright_version::VERSION;

use crate::current::{Current, State};

/// Name under which a sheet that is not proved is reported.
pub const UNPROVED: &str = "unproved";

/// What can be said of a sheet that comes from elsewhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// It is, byte for byte, what its attached source gives.
    Proved,
    /// Another version of the program made it, whose bytes this one does not make.
    OtherVersion {
        /// The version that it names.
        version: String,
        /// Whether what this version makes of the source looks the same, where that can be told.
        alike: Option<bool>,
    },
    /// It looks the same, but other software saved it again, signed it or added to it.
    SavedAgain,
    /// It differs from what its source gives.
    Changed {
        /// The first difference, in words.
        what: String,
    },
    /// It carries several sources.
    SeveralSources,
    /// It was made with documents that are not at hand.
    CompanionMissing {
        /// Which, in words.
        what: String,
        /// The arguments that name them.
        arguments: String,
    },
    /// It carries no source that can be read.
    NoSource {
        /// Why, in words.
        why: String,
    },
}

/// A source that a sheet carries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Its file name.
    pub file_name: String,
    /// Its digest, as sheets print it.
    pub digest: String,
    /// Where it stands in the file.
    pub places: Vec<String>,
    /// It is the one that was checked.
    pub checked: bool,
}

/// A sheet that comes from elsewhere, and what can be said of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Received {
    /// The verdict.
    pub verdict: Verdict,
    /// The kind of sheet that it says it is.
    pub kind: Option<Kind>,
    /// The version of the program that it says it was made by.
    pub version: Option<String>,
    /// The program that the file names, where it is another.
    pub producer: Option<String>,
    /// It has a signature.
    pub signed: bool,
    /// The sources in it that readers would find.
    pub sources: Vec<Source>,
    /// How it stands to the procedure that was named beside it.
    pub current: Option<Current>,
}

impl Verdict {
    /// The word for it.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Proved => "proved",
            Self::OtherVersion { .. } => "other-version",
            Self::SavedAgain => "saved-again",
            Self::Changed { .. } => "changed",
            Self::SeveralSources => "several-sources",
            Self::CompanionMissing { .. } => "companion-missing",
            Self::NoSource { .. } => "no-source",
        }
    }
}

impl Received {
    /// Of a file in which no source can be read.
    pub fn without_source(why: impl Into<String>, producer: Option<String>) -> Self {
        let verdict = Verdict::NoSource { why: why.into() };
        Self { verdict, kind: None, version: None, producer, signed: false, sources: Vec::new(), current: None }
    }

    /// Whether it is proved.
    pub fn proved(&self) -> bool {
        self.verdict == Verdict::Proved
    }

    fn kind_words(&self) -> String {
        self.kind.map_or_else(|| "sheet".to_owned(), |kind| format!("{} sheet", kind.name()))
    }

    /// What holds, in a sentence.
    pub fn words(&self) -> String {
        let sheet = self.kind_words();
        match &self.verdict {
            Verdict::Proved => {
                format!("the {sheet} is proved: made again from its attached source it is the same, byte for byte")
            }
            Verdict::OtherVersion { version, alike } => {
                let looks = match alike {
                    Some(true) => "; what this version makes of its source looks the same",
                    Some(false) => {
                        "; what this version makes of its source looks otherwise, which may be the versions' doing"
                    }
                    None => "",
                };
                format!(
                    "the {sheet} is not proved: version {version} made it, this is {VERSION}, and only that version makes \
                     the same bytes{looks}"
                )
            }
            Verdict::SavedAgain => {
                let alike = "pages, fonts and title are as its source gives them, the bytes are not";
                let by = match (&self.producer, self.signed) {
                    (_, true) => {
                        "it was signed or added to after it was written: readers may show it otherwise".to_owned()
                    }
                    (Some(producer), _) => format!("other software ({producer}) saved it again; {alike}"),
                    (None, _) => format!("other software saved it again; {alike}"),
                };
                format!("the {sheet} is not proved: {by}")
            }
            Verdict::Changed { what } => {
                format!("the {sheet} is not proved: it was changed after it was written: {what}")
            }
            Verdict::SeveralSources => format!(
                "the {sheet} is not proved: the file carries {} sources: {}",
                self.sources.len(),
                self.sources.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
            ),
            Verdict::CompanionMissing { what, .. } => {
                format!("the {sheet} is not proved: it was made with {what}, without which it cannot be made again")
            }
            Verdict::NoSource { why } => format!("the file is not proved: {why}"),
        }
    }

    /// What to do; nothing where it is proved.
    pub fn hint(&self) -> Option<String> {
        let hint = match &self.verdict {
            Verdict::Proved => return None,
            Verdict::OtherVersion { version, .. } => {
                format!("check it with version {version}, or ask for the source and render it here")
            }
            Verdict::SavedAgain | Verdict::Changed { .. } => {
                "ask for the file as the program wrote it, or for the source, and render it here".to_owned()
            }
            Verdict::SeveralSources => "check each sheet of a binder, or its source, by itself".to_owned(),
            Verdict::CompanionMissing { arguments, .. } => {
                format!("name it with {arguments}, or ask for the source alone")
            }
            Verdict::NoSource { .. } => "ask for the YAML source, or write it from the sheet".to_owned(),
        };
        Some(hint)
    }

    /// What holds of the findings of a sheet that is not proved; nothing where it is proved or gave no source.
    pub fn caveat(&self) -> Option<String> {
        let source = self.sources.iter().find(|source| source.checked).filter(|_| !self.proved())?;
        Some(format!("what follows is of the attached source {source}; the page that is seen may differ from it"))
    }

    /// How it stands to the procedure as it is now, where it does not show what holds.
    pub fn outdated(&self) -> Option<&Current> {
        self.current.as_ref().filter(|own| own.state != State::Current)
    }

    /// As a fault, for work that takes proved sheets only.
    pub fn fault(&self) -> Fault {
        Fault { message: self.words(), hint: self.hint(), span: None, pointer: String::new() }
    }
}

impl fmt::Display for Source {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} (digest {}, {})", self.file_name, self.digest, self.places.join(", "))
    }
}
