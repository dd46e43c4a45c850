//! A sheet that comes from elsewhere is made again from the source that it carries, and held against it byte for byte.

use seamwright_check::Outcome;
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::load::Fault;
use seamwright_page::block::Sheet;
use seamwright_page::html::IndexEntry;
use seamwright_page::made_with::MadeWith;
use seamwright_page::received::{self, Difference};
use seamwright_page::{Kind, SheetOptions};
use seamwright_sheet::kinds::{self, Subject};
use seamwright_version::VERSION;

use crate::appearance::Appearance;
use crate::companions::Companions;
use crate::estimate;
use crate::files::{Arrival, Input};
use crate::named::{self, Missing, Named};
use crate::received::{Received, Source, Verdict};
use crate::seal::{self, Format, Note};
use crate::sheets;

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
    let own = |producer: &&String| !producer.starts_with(seamwright_page::attached::PRODUCER);
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
    let names = named::names(&loaded.document).map(str::to_owned).collect();
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
