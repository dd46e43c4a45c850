//! The kinds of sheet, one file each, as blocks; and what they share. To add a kind: its file, and its line in [`Kind`] and in [`sheet`].

mod alike;
mod alt;
mod bench_card;
mod cautions;
mod columns;
mod compared;
mod conditions;
mod coupon;
mod estimate;
mod ferrite;
mod job;
mod joint;
mod lesson;
mod listing;
mod procedure;
mod review;
mod setup;
mod standing;
mod words;

use seamwright_check::{Outcome, View};
use seamwright_estimate::Estimate;
use seamwright_handbook::nominal_sizes;
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity::{Length, Quantity, Range};
use seamwright_model::shop::Shop;
use seamwright_model::stated::{NONE, NOT_APPLICABLE, OrNone, Stated};
use sha2::{Digest, Sha256};

pub use self::alike::{alike, places};
pub use self::job::{JobPaper, JobRow, JobSheets, job_sheet};
pub use self::listing::index_entry;
pub use seamwright_page::{Kind, SheetOptions};

pub use self::review::{
    REVIEW_COLUMNS, ReviewFinding, ReviewedItem, review_csv, review_findings, review_too_long, reviewed_items,
};
use self::standing::stamp;
use crate::attached::plain_file_name;
use crate::block::{Footer, Masthead, NoticeItem, Sheet, Source};
use crate::lately::Lately;
use crate::made_with::MadeWith;
use crate::qr::Qr;
use crate::words::{Label, Language, label, lacking_in};

/// The last line of every sheet.
const DEFERS: Label = label::DEFERS;

/// How the sketches of a sheet are lettered.
#[derive(Debug, Clone, Copy)]
struct Lettering<'d> {
    /// Units and terms.
    options: SheetOptions,
    /// What was drawn lately.
    lately: &'d Lately,
    /// Size of the type at the natural size of a sketch, pt.
    size: f64,
    /// Factor of the room that a sketch may take.
    room: f64,
}

impl<'d> Lettering<'d> {
    /// For a sheet that is read on a desk.
    const fn desk(subject: Subject<'d>, options: SheetOptions) -> Self {
        Self { options, lately: subject.lately, size: 8.0, room: 1.0 }
    }

    /// For a card that is read at arm's length.
    const fn bench(subject: Subject<'d>, options: SheetOptions) -> Self {
        Self { options, lately: subject.lately, size: 11.0, room: 1.0 }
    }

    /// For a sheet on which much stands.
    const fn close(subject: Subject<'d>, options: SheetOptions) -> Self {
        Self { options, lately: subject.lately, size: 7.2, room: 0.72 }
    }
}

/// A document with what was found in it, ready to be set.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'d> {
    /// The document with its source.
    pub loaded: &'d Loaded,
    /// What the checks found.
    pub outcome: &'d Outcome,
    /// The shop whose machines are used, where one is named.
    pub shop: Option<&'d Shop>,
    /// The procedure that a lesson teaches.
    pub procedure: Option<&'d Procedure>,
    /// What a procedure uses over its joints, where it was computed.
    pub estimate: Option<&'d Estimate>,
    /// What was made lately of other sheets.
    pub lately: &'d Lately,
}

/// The sheet of a kind for a document; `Err` says in words that this kind of document has no such sheet.
pub fn sheet(kind: Kind, subject: Subject<'_>, options: SheetOptions) -> Result<Sheet, String> {
    if !kind.languages().contains(&options.language) {
        return Err(format!(
            "the {} sheet is made in English only; {} has the bench card and the lesson",
            kind.name(),
            options.language.name()
        ));
    }
    let mut sheet = blocks(kind, subject, options)?;
    sheet.source.made_with = Some(MadeWith::new(kind, options));
    Ok(sheet)
}

/// The words of a document's sheets that a language lacks and that stand in English there, each once; what the author wrote is not
/// among them.
pub fn lacking(subject: Subject<'_>, options: SheetOptions, language: Language) -> Vec<String> {
    let options = SheetOptions { language, marks_lacking: true, ..options };
    let kinds = Kind::ALL.into_iter().filter(|kind| kind.languages().contains(&language));
    let made = kinds.filter_map(|kind| blocks(kind, subject, options).ok());
    let mut found: Vec<String> = Vec::new();
    for sheet in made {
        // Every text of a sheet, wherever it stands.
        let texts = serde_json::to_string(&sheet).unwrap_or_default();
        for word in lacking_in(&texts) {
            if !found.contains(&word) {
                found.push(word);
            }
        }
    }
    found
}

/// The cautions that a procedure's own processes, metals and gases call for, the lens shade first.
pub fn cautions_of(procedure: &Procedure) -> Vec<NoticeItem> {
    cautions::items(&View::new(procedure), SheetOptions::default())
}

fn blocks(kind: Kind, subject: Subject<'_>, options: SheetOptions) -> Result<Sheet, String> {
    match (kind, &subject.loaded.document) {
        (Kind::Procedure, Document::Procedure(procedure)) => {
            Ok(procedure::sheet(subject, procedure, &View::new(procedure), options))
        }
        (Kind::BenchCard, Document::Procedure(procedure)) => {
            Ok(bench_card::sheet(subject, &View::new(procedure), options))
        }
        (Kind::Review, Document::Procedure(procedure)) => {
            review_too_long(subject.outcome).map_or(Ok(()), Err)?;
            Ok(review::sheet(subject, procedure, &View::new(procedure), options))
        }
        (Kind::Estimate, Document::Procedure(_)) => match subject.estimate {
            Some(estimate) => Ok(estimate::sheet(subject, estimate, options)),
            None => Err("an estimate sheet needs a length of weld".to_owned()),
        },
        (Kind::Coupon, Document::TestRecord(record)) => coupon::sheet(subject, record, options),
        (Kind::Lesson, Document::Lesson(lesson)) => Ok(lesson::sheet(subject, lesson, options)),
        (_, other) => Err(format!(
            "`document: {}` has no {} sheet; `seamwright check` reads it{}",
            other.kind(),
            kind.name(),
            match other {
                Document::TestRecord(_) =>
                    ", `seamwright range` prints what it qualifies, and `--sheet coupon` draws its coupon",
                _ => "",
            }
        )),
    }
}

/// A short digest of a source: the first 12 hexadecimal digits of its SHA-256, in groups of four.
pub fn digest(text: &str) -> String {
    let full = Sha256::digest(text.as_bytes());
    let digits: String = full.iter().take(6).map(|byte| format!("{byte:02x}")).collect();
    digits.as_bytes().chunks(4).map(String::from_utf8_lossy).collect::<Vec<_>>().join(" ")
}

/// The head of a sheet of the kind that `kind` says in words; `facts` stand under revision and date.
fn masthead(subject: Subject<'_>, kind: Label, mut facts: Vec<(String, String)>, options: SheetOptions) -> Masthead {
    let identification = subject.loaded.document.identification();
    let mut all = vec![(options.say(label::REVISION).into_owned(), identification.revision.to_string())];
    if let Some(date) = identification.date {
        all.push((options.say(label::DATE).into_owned(), date.to_string()));
    }
    all.append(&mut facts);
    Masthead {
        manufacturer: identification.manufacturer.as_deref().unwrap_or_default().into(),
        kind: options.say(kind).into_owned(),
        title: identification.title.to_string(),
        number: identification.number.to_string(),
        facts: all,
        stamp: stamp(subject, options),
        qr: Some(format!(
            "{} rev {} {}",
            identification.number,
            identification.revision,
            digest(&subject.loaded.source.text)
        ))
        .filter(|text| text.len() <= QR_MOST)
        .map(Qr::from),
    }
}

/// Most bytes of a code that is still read from paper: what version 10 holds at level M (ISO/IEC 18004, table 7).
const QR_MOST: usize = 213;

/// The foot of a sheet: what was checked, and the digest of the source.
fn footer(subject: Subject<'_>, options: SheetOptions) -> Footer {
    let identification = subject.loaded.document.identification();
    Footer {
        checked: options.fill(
            label::CHECKED,
            &[("counts", &standing::counts(subject, options)), ("digest", &digest(&subject.loaded.source.text))],
        ),
        reference: options
            .fill(label::REFERENCE, &[("number", &identification.number), ("revision", &identification.revision)]),
    }
}

fn source(subject: Subject<'_>) -> Source {
    let text = subject.loaded.source.text.to_string();
    Source {
        file_name: plain_file_name(&subject.loaded.source.name),
        digest: digest(&text),
        text,
        date: subject.loaded.document.identification().date.map(|date| date.to_string()),
        made_with: None,
    }
}

/// A stated quantity in the chosen units and language; nothing where it is not stated.
fn quantity<Q: Quantity>(value: Option<&Stated<Range<Q>>>, options: impl Into<SheetOptions>) -> Option<String> {
    let options: SheetOptions = options.into();
    Some(match value? {
        Stated::NotApplicable => options.word(NOT_APPLICABLE).into_owned(),
        Stated::Is(range) => print(range, options),
    })
}

/// A stated diameter of filler or tungsten as it is sold; nothing where it is not stated.
fn sold(value: Option<&Stated<Range<Length>>>, options: impl Into<SheetOptions>) -> Option<String> {
    let options: SheetOptions = options.into();
    Some(match value? {
        Stated::NotApplicable => options.word(NOT_APPLICABLE).into_owned(),
        Stated::Is(range) => options.measure(nominal_sizes::print(range, options.units)),
    })
}

/// A range in the chosen units and language.
fn print<Q: Quantity>(range: &Range<Q>, options: SheetOptions) -> String {
    options.measure(range.print(options.units))
}

/// A stated word; nothing where it is not stated.
fn word<T: ToString>(value: Option<&Stated<T>>) -> Option<String> {
    Some(match value? {
        Stated::NotApplicable => NOT_APPLICABLE.to_owned(),
        Stated::Is(word) => word.to_string(),
    })
}

/// A part in words; "none" and "not applicable" as they are.
fn part<T>(value: Option<&OrNone<T>>, print: impl FnOnce(&T) -> String) -> Option<String> {
    Some(match value? {
        OrNone::NotApplicable => NOT_APPLICABLE.to_owned(),
        OrNone::None => NONE.to_owned(),
        OrNone::Is(value) => print(value),
    })
}

/// The parts that are there, with commas between.
fn joined(parts: impl IntoIterator<Item = Option<String>>) -> String {
    parts.into_iter().flatten().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
}
