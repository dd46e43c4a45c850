//! Sheets of every kind, of documents that have all kinds between them.
#![allow(dead_code, reason = "each test uses a part")]

use std::path::{Path, PathBuf};

use seamwright_desk::companions::Companions;
use seamwright_desk::files::{Disk, Input};
use seamwright_desk::sheets::SheetRequest;
use seamwright_model::quantity::UnitSystem;
use seamwright_model::stated::Date;
use seamwright_page::block::Sheet;
use seamwright_page::{Kind, SheetOptions};

const DOCUMENTS: &[&str] = &[
    "procedures/butt-3-carbon-141.yaml",
    "procedures/butt-10-s355-135.yaml",
    "examples/inspection/procedure.yaml",
    "examples/lesson/lesson.yaml",
];

/// The name of each document, the kind, and the sheet, in both units.
pub fn sheets() -> Vec<(&'static str, Kind, Sheet)> {
    let options = SheetOptions { units: UnitSystem::Both, ..SheetOptions::default() };
    DOCUMENTS.iter().flat_map(|name| of_document(name, options)).collect()
}

/// Every kind of sheet of a document.
pub fn of_document(name: &'static str, options: SheetOptions) -> Vec<(&'static str, Kind, Sheet)> {
    let disk = Disk::new(day());
    let companions = Companions::none(&disk);
    let (report, named) = companions.examine(Input::typed(&top().join(name)));
    let (loaded, outcome) = report.result.unwrap_or_else(|unread| panic!("{name}: {:?}", unread.faults));
    let request =
        SheetRequest { kinds: Kind::ALL.to_vec(), options, length: "2.4 m".parse().ok(), ..SheetRequest::default() };
    let sheets = companions.sheets(&request, &loaded, &outcome, &named).made;
    sheets.into_iter().map(|sheet| (name, sheet.kind, sheet.sheet)).collect()
}

pub fn day() -> Date {
    "2026-06-01".parse().unwrap()
}

pub fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}
