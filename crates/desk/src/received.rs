//! A sheet that comes from elsewhere: whether it is proved by the source that it carries, and if not, what can be said of it.
//!
//! Sheets are repeatable: with what a sheet says it was made with it is made again from its source. Equal byte for byte it is
//! proved; nothing else is. Of any other the answer says what holds, as far as that can be told.

use std::fmt;

use seamwright_check::Outcome;
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::load::Fault;
use seamwright_sheet::block::Sheet;
use seamwright_sheet::html::IndexEntry;
use seamwright_sheet::kinds::{self, Kind, SheetOptions, Subject};
use seamwright_sheet::made_with::MadeWith;
use seamwright_sheet::received::{self, Difference};
use seamwright_version::VERSION;

use crate::appearance::Appearance;
use crate::companions::{self, Companions, Missing, Named};
use crate::current::{Current, State};
use crate::estimate;
use crate::files::{Arrival, Input};
use crate::seal::{self, Format, Note};
use crate::sheets;

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

/// Holds a sheet against what its source gives.
pub fn judge(companions: &Companions<'_>, input: &Input, loaded: &Loaded, arrival: &Arrival) -> Received {
    let sources = arrival
        .found
        .candidates
        .iter()
        .enumerate()
        .map(|(at, own)| Source {
            file_name: own.file_name.clone(),
            digest: kinds::digest(&own.text),
            places: own.places.clone(),
            checked: at == arrival.chosen,
        })
        .collect::<Vec<_>>();
    let made = arrival.made_with();
    let verdict = match made {
        _ if sources.len() > 1 => Verdict::SeveralSources,
        Some(made) => verdict(companions, input, loaded, arrival, made),
        None => Verdict::Changed { what: "it does not say what it was made with, as every sheet does".to_owned() },
    };
    let own = |producer: &&String| !producer.starts_with(seamwright_sheet::attached::PRODUCER);
    Received {
        verdict,
        kind: made.map(|made| made.sheet),
        version: made.map(|made| made.version.clone()),
        producer: arrival.found.producer.as_ref().filter(own).cloned(),
        signed: arrival.found.signed || arrival.found.added_to,
        sources,
        current: None,
    }
}

fn verdict(companions: &Companions<'_>, input: &Input, loaded: &Loaded, arrival: &Arrival, made: &MadeWith) -> Verdict {
    let page = arrival.format == Format::Html;
    let then = companions.as_then(made, page, input, loaded);
    if made.version != VERSION {
        let alike = then.ok().and_then(|(then, named)| {
            let made = again(made, &then, &named, loaded, arrival.format).ok()?;
            let stripped = seal::without(arrival.format, &arrival.bytes);
            Some(difference(arrival.format, &stripped, &made.bytes)?.is_none())
        });
        return Verdict::OtherVersion { version: made.version.clone(), alike };
    }
    let (then, named) = match then {
        Ok(then) => then,
        Err(missing) => return missing_words(&missing),
    };
    let sealed = made.sealed;
    let made = match again(made, &then, &named, loaded, arrival.format) {
        Ok(made) => made,
        Err(what) => return Verdict::Changed { what: format!("its source does not give this sheet: {what}") },
    };
    // A sheet says whether it was sealed; where it was, the note must be the one that the source gives.
    if arrival.bytes == made.bytes {
        if sealed {
            let what = "the line with its seal was taken off; what is seen is as its source gives it";
            return Verdict::Changed { what: what.to_owned() };
        }
        return Verdict::Proved;
    }
    if sealed
        && let Some((bytes, note)) = seal::opened(arrival.format, &arrival.bytes)
        && bytes == made.bytes
        && made.gives(&note)
    {
        return Verdict::Proved;
    }
    let stripped = seal::without(arrival.format, &arrival.bytes);
    if stripped == made.bytes {
        let what =
            "the line with its seal is not the one that it was written with; what is seen is as its source gives it";
        return Verdict::Changed { what: what.to_owned() };
    }
    match difference(arrival.format, &stripped, &made.bytes) {
        Some(Some(difference)) => Verdict::Changed { what: difference.to_string() },
        Some(None) => Verdict::SavedAgain,
        None => {
            Verdict::Changed { what: "it holds or unpacks to more than the sheet that its source gives".to_owned() }
        }
    }
}

fn missing_words(missing: &Missing) -> Verdict {
    Verdict::CompanionMissing { what: missing.words(), arguments: missing.arguments() }
}

/// A sheet that was made again.
struct Again {
    bytes: Vec<u8>,
    kind: Kind,
    /// What the note of its seal says of the document, but for what it does not know.
    note: Note,
    /// The files that its document names; one of them may have been typed instead.
    names: Vec<String>,
}

impl Again {
    /// Whether a note is the one of this sheet; which other kinds were made with it the sheet does not know.
    fn gives(&self, note: &Note) -> bool {
        let mut beside = Vec::new();
        let named = note.beside.iter().all(|name| {
            let first = !beside.contains(name);
            beside.push(name.clone());
            first && self.names.contains(name)
        });
        let mut seen: Vec<&str> = Vec::new();
        let kinds = note.sheets.iter().all(|name| {
            let first = !seen.contains(&name.as_str());
            seen.push(name);
            first && Kind::ALL.iter().any(|kind| kind.name() == name)
        });
        let own = Note { sheets: Vec::new(), beside: Vec::new(), ..note.clone() };
        named && kinds && seen.contains(&self.kind.name()) && own == self.note
    }
}

/// Makes the sheet again, with what it says it was made with.
fn again(
    made: &MadeWith,
    then: &Companions<'_>,
    named: &Named,
    loaded: &Loaded,
    format: Format,
) -> Result<Again, String> {
    let first = |faults: Vec<Fault>| faults.into_iter().next().map_or_else(String::new, |fault| fault.message);
    let outcome = then.check(loaded, named).map_err(first)?;
    let shop = then.shop(named);
    let estimate = match &loaded.document {
        Document::Procedure(procedure) if made.sheet == Kind::Estimate => {
            let length = made.length.as_deref().map(str::parse).transpose().map_err(|_| "its length is no length")?;
            Some(estimate::of(procedure, shop, length.as_ref()).map_err(|error| format!("{error:#}"))?)
        }
        _ => None,
    };
    let procedure = then.procedure(named);
    let lately = &then.appearance().lately;
    let subject = Subject { loaded, outcome: &outcome, shop, procedure, estimate: estimate.as_ref(), lately };
    let options = SheetOptions {
        units: made.units,
        terms: made.terms,
        annex: made.annex,
        language: made.language,
        ..SheetOptions::default()
    };
    let mut sheet = kinds::sheet(made.sheet, subject, options)?;
    sheet.source.made_with = Some(made.clone());
    let entry = kinds::index_entry(subject, &sheet, made.units);
    let bytes = set(&sheet, made, then.appearance(), format)?;
    let names = companions::names(&loaded.document).map(str::to_owned).collect();
    Ok(Again { bytes, kind: made.sheet, note: note_of(&outcome, entry), names })
}

fn note_of(outcome: &Outcome, entry: IndexEntry) -> Note {
    Note {
        sheets: Vec::new(),
        beside: Vec::new(),
        examined: outcome.examined,
        findings: outcome.findings.len(),
        deviations: outcome.deviations.len(),
        entry: Some(entry),
    }
}

fn set(sheet: &Sheet, made: &MadeWith, look: &Appearance, format: Format) -> Result<Vec<u8>, String> {
    match format {
        Format::Pdf => sheets::pdf(sheet, made.paper, look).map_err(|error| error.to_string()),
        Format::Html => {
            let renderer = look.renderer().map_err(|error| error.to_string())?;
            let page = sheets::html(&renderer, sheet, made.paper, look);
            page.map(String::into_bytes).map_err(|error| error.to_string())
        }
    }
}

/// The first difference to the eye; nothing where the given file cannot be read within bounds.
#[expect(clippy::option_option, reason = "no difference is another answer than no reading")]
fn difference(format: Format, given: &[u8], made: &[u8]) -> Option<Option<Difference>> {
    match format {
        Format::Pdf => received::pdf_difference(given, made).ok(),
        Format::Html => {
            let (given, made) = (String::from_utf8_lossy(given), String::from_utf8_lossy(made));
            Some(received::page_difference(&given, &made))
        }
    }
}
