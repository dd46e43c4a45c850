//! The kinds of sheet, one file each, as blocks; and what they share. To add a kind: its file, and its line in [`Kind`].

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
mod frame;
mod job;
mod joint;
mod lesson;
mod listing;
mod procedure;
mod review;
mod setup;
mod standing;
mod subject;
mod values;
mod words;

use seamwright_model::document::Document;
use seamwright_model::procedure::Procedure;
use seamwright_page::block::{NoticeItem, Sheet};
use seamwright_page::made_with::MadeWith;
use seamwright_page::words::{Language, lacking_in};
use seamwright_page::{Kind, SheetOptions};
use seamwright_weld::View;

pub use self::alike::{alike, places};
pub use self::frame::digest;
pub(crate) use self::frame::{DEFERS, footer, masthead, source};
pub use self::job::{JobPaper, JobRow, JobSheets, job_sheet};
pub use self::listing::index_entry;
pub use self::review::{
    REVIEW_COLUMNS, ReviewFinding, ReviewedItem, review_csv, review_findings, review_too_long, reviewed_items,
};
pub(crate) use self::subject::Lettering;
pub use self::subject::Subject;
pub(crate) use self::values::{joined, part, print, quantity, sold, word};

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

/// What there is in the place of a sheet that a kind of document does not have.
fn instead(document: &Document, kind: Kind) -> String {
    let names: Vec<&str> = Kind::made_of(document.kind()).map(Kind::name).collect();
    match document {
        Document::Procedure(_) if kind.of() == "lesson" => {
            "`seamwright draft --lesson` drafts a lesson on it, which has one".to_owned()
        }
        Document::Procedure(_) | Document::Lesson(_) => format!("it has `--sheet {}`", names.join(",")),
        Document::TestRecord(_) => format!(
            "`seamwright check` reads it, `seamwright range` prints what it qualifies, and `--sheet {}` draws its coupon",
            names.join(",")
        ),
        Document::Job(_) => "`seamwright job` prints its quotation, traveller and cards".to_owned(),
        Document::Shop(_) => "`seamwright check` reads it, and `--shop` holds procedures against it".to_owned(),
    }
}

fn blocks(kind: Kind, subject: Subject<'_>, options: SheetOptions) -> Result<Sheet, String> {
    of_kind(kind, subject, options).unwrap_or_else(|| {
        let document = &subject.loaded.document;
        let (own, there) = (document.kind(), instead(document, kind));
        Err(format!("`document: {own}` has no {} sheet; {there}", kind.name()))
    })
}

macro_rules! of_kind {
    ($($kind:ident $file:ident $name:literal of $of:literal in $languages:ident welds $welds:literal: $help:literal;)*) => {
        /// The sheet of a kind; none of another kind of document.
        fn of_kind(kind: Kind, subject: Subject<'_>, options: SheetOptions) -> Option<Result<Sheet, String>> {
            match kind { $(Kind::$kind => $file::of(subject, options),)* }
        }
    };
}

seamwright_page::kinds_of_sheet!(of_kind);
