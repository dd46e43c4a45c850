//! What must hold for any input, whoever made it. Property tests, fuzz targets and kept inputs all ask it here.
//!
//! Each function panics where a promise is broken, and returns quietly where the input is refused in words.

use std::sync::OnceLock;

use seamwright_check::{Context, Outcome};
use seamwright_estimate::{Joint, Options, estimate};
use seamwright_model::document::Document;
use seamwright_model::price::Price;
use seamwright_model::quantity::{self, UnitSystem};
use seamwright_model::source::Span;
use seamwright_model::stated::Date;
use seamwright_model::{Loaded, load};
use seamwright_page::attached::{Attached, ReadError, SOURCE_LIMIT};
use seamwright_page::block::Sheet;
use seamwright_page::html::{HtmlError, HtmlOptions, HtmlRenderer};
use seamwright_page::pdf::{self, Paper, PdfError, PdfOptions, missing_glyphs};
use seamwright_page::{Kind, SheetOptions};
use seamwright_page::{html, received};
use seamwright_sheet::kinds::{self, Subject};
use serde_json::Value;

/// Loading gives a document, or at least one fault in words that lies inside the file.
pub fn loads(bytes: &[u8]) -> Option<Loaded> {
    match load("input.yaml", bytes) {
        Ok(loaded) => {
            assert_eq!(loaded.source.text.as_bytes(), bytes, "the source is not what was read");
            Some(loaded)
        }
        Err((source, faults)) => {
            assert!(!faults.is_empty(), "refused without a fault");
            for fault in faults {
                assert!(!fault.message.is_empty() && !fault.message.ends_with('.'), "{:?}", fault.message);
                if let Some(span) = fault.span {
                    let text = source.as_ref().map_or("", |source| &source.text);
                    inside(text, span, &fault.message);
                }
            }
            None
        }
    }
}

/// A place lies inside a text: bytes, line and column.
fn inside(text: &str, span: Span, what: &str) {
    assert!(span.start <= span.end && span.end <= text.len(), "{what}: {span:?} of {} bytes", text.len());
    assert!(text.get(span.bytes()).is_some(), "{what}: {span:?} cuts a character");
    // A line of YAML ends at a line feed, a carriage return, or both.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n").replace('\r', "\n");
    let line = text.split('\n').nth(span.line.saturating_sub(1));
    let columns = line.map(|line| line.chars().count() + 1);
    assert!(columns.is_some_and(|columns| (1..=columns).contains(&span.column)), "{what}: {span:?} of {line:?}");
}

/// A quantity or a price is read or refused in words; what is read prints, and reads again as the same.
pub fn quantities(text: &str) {
    for format in quantity::FORMATS {
        match quantity::check_format(format, text) {
            Some(Err(error)) => assert!(!error.message().is_empty() && !error.hint().is_empty(), "{format}: {text:?}"),
            Some(Ok(())) => {}
            None => panic!("{format} names no quantity"),
        }
    }
    macro_rules! prints {
        ($($quantity:ident),*) => {$(
            if let Ok(range) = text.parse::<quantity::Range<quantity::$quantity>>() {
                assert_eq!(range.to_string().parse::<quantity::Range<quantity::$quantity>>().ok(), Some(range.clone()));
                for units in [UnitSystem::Si, UnitSystem::Us, UnitSystem::Both] {
                    assert!(!range.print(units).is_empty(), "{text:?}");
                }
            }
        )*};
    }
    prints!(Angle, Current, Density, DepositionRate, Duration, Energy, Flow, Force, Frequency, GasVolume, Hardness);
    prints!(HeatInput, HeatingRate, Hydrogen, Length, Mass, Oxygen, Power, Pressure, Share, Speed, Stress);
    prints!(Temperature, Voltage);
    match text.parse::<Price>() {
        Ok(price) => assert_eq!(price.to_string().parse::<Price>().as_ref(), Ok(&price)),
        Err(reason) => assert!(reason.contains("; "), "{reason}"),
    }
}

/// Checking ends, and every finding lies inside the file.
pub fn checks(loaded: &Loaded) -> Outcome {
    let today: Option<Date> = "2026-02-17".parse().ok();
    let context = match &loaded.document {
        Document::Shop(shop) => Context { shop: Some(shop), today, ..Context::default() },
        Document::Procedure(procedure) => Context { procedure: Some(procedure), today, ..Context::default() },
        _ => Context { today, ..Context::default() },
    };
    let outcome = seamwright_check::check_with(&loaded.document, &context);
    for finding in outcome.findings.iter().chain(outcome.deviations.iter().map(|(finding, _)| finding)) {
        let pointer = &finding.pointer;
        assert!(pointer.is_empty() || pointer.starts_with('/'), "{}: {pointer:?}", finding.check);
        inside(&loaded.source.text, loaded.tree.span_of(pointer), finding.check);
    }
    outcome
}

/// The sheets that are made of a document, each in other units and on other paper.
fn sheets() -> impl Iterator<Item = (Kind, UnitSystem, Paper)> {
    let units = [UnitSystem::Si, UnitSystem::Us, UnitSystem::Both].into_iter().cycle();
    let papers = [Paper::A4, Paper::Letter].into_iter().cycle();
    Kind::ALL.into_iter().zip(units).zip(papers).map(|((kind, units), paper)| (kind, units, paper))
}

/// Every kind of sheet that a document has is made in both formats, and carries the source byte for byte.
///
/// A document that holds a character without a glyph has no sheets: the program refuses it before.
pub fn renders(loaded: &Loaded, outcome: &Outcome) {
    for sheet in sheets() {
        renders_as(sheet, loaded, outcome);
    }
}

fn renders_as((kind, units, paper): (Kind, UnitSystem, Paper), loaded: &Loaded, outcome: &Outcome) {
    if !printable(&loaded.tree.to_value()) {
        return;
    }
    let procedure = match &loaded.document {
        Document::Procedure(procedure) => Some(&**procedure),
        _ => None,
    };
    let joints = [Joint { name: "weld".to_owned(), length_mm: 1000.0, count: 1 }];
    let estimate = procedure.and_then(|procedure| estimate(procedure, &joints, &Options::default()).ok());
    let estimated = estimate.as_ref();
    let subject =
        Subject { loaded, outcome, shop: None, procedure: None, estimate: estimated, lately: &options().lately };
    match kinds::sheet(kind, subject, SheetOptions { units, ..SheetOptions::default() }) {
        Ok(sheet) => both_formats(&sheet, kind, paper),
        Err(reason) => {
            let has = match (kind, &loaded.document) {
                (Kind::Estimate, _) => estimate.is_some(),
                (_, Document::TestRecord(record)) => record.code().is_some(),
                _ => true,
            };
            assert!(!has || kind.of() != loaded.document.kind(), "no {kind:?}: {reason}");
        }
    }
}

/// The renderer of pages, its templates compiled once.
fn renderer() -> &'static HtmlRenderer {
    static RENDERER: OnceLock<HtmlRenderer> = OnceLock::new();
    RENDERER.get_or_init(|| HtmlRenderer::new().expect("the built-in templates are sound"))
}

/// The usual options; faces and drawings are made once for all that is tried.
fn options() -> &'static PdfOptions {
    static OPTIONS: OnceLock<PdfOptions> = OnceLock::new();
    OPTIONS.get_or_init(PdfOptions::default)
}

fn both_formats(sheet: &Sheet, kind: Kind, paper: Paper) {
    match pdf::render(sheet, &PdfOptions { paper, ..options().clone() }) {
        Ok(bytes) => {
            let attached = pdf::source_of(&bytes).expect("a sheet gives its source back");
            assert_eq!(attached.text, sheet.source.text, "the source in the {kind:?} PDF");
        }
        // One page holds no more than it holds.
        Err(PdfError::DoesNotFit { .. }) if kind == Kind::BenchCard => {}
        Err(error) => panic!("{kind:?} as PDF: {error}"),
    }
    match renderer().render(sheet, &HtmlOptions { paper, ..HtmlOptions::default() }) {
        Ok(page) => {
            let attached = html::source_of(&page).expect("a page gives its source back");
            assert_eq!(attached.text, sheet.source.text, "the source in the {kind:?} page");
        }
        Err(HtmlError::TooLarge { .. }) if sheet.source.text.len() > 100_000 => {}
        Err(error) => panic!("{kind:?} as HTML: {error}"),
    }
}

/// Whether every text and key of a document has its glyphs.
fn printable(value: &Value) -> bool {
    let prints = |text: &str| missing_glyphs(text).is_empty();
    match value {
        Value::String(text) => prints(text),
        Value::Array(items) => items.iter().all(printable),
        Value::Object(map) => map.iter().all(|(key, value)| prints(key) && printable(value)),
        _ => true,
    }
}

/// Bytes as a document, all the way: loaded, checked, made into sheets.
pub fn document(bytes: &[u8]) {
    if let Some(loaded) = loads(bytes) {
        let outcome = checks(&loaded);
        renders(&loaded, &outcome);
    }
}

/// Bytes as a document and one of its sheets, which the bytes choose: a part of the time that all of them take.
pub fn document_as_one_sheet(bytes: &[u8]) {
    let Some(loaded) = loads(bytes) else { return };
    let outcome = checks(&loaded);
    let sum: usize = bytes.iter().copied().map(usize::from).sum();
    let sheets: Vec<_> = sheets().filter(|(kind, ..)| kind.of() == loaded.document.kind()).collect();
    if let Some(sheet) = sheets.get(sum % sheets.len().max(1)) {
        renders_as(*sheet, &loaded, &outcome);
    }
}

/// A file that says it is a sheet gives a source within the limits under a plain name, or is refused in words.
pub fn arrives(bytes: &[u8]) {
    let sound = |read: Result<Attached, ReadError>| match read {
        Ok(attached) => {
            assert!(attached.text.len() <= SOURCE_LIMIT, "{}", attached.text.len());
            let name = &attached.file_name;
            assert!(!name.is_empty() && !name.contains(['/', '\\', '\0', '\n', '\u{1b}']), "{name:?}");
            assert!(!matches!(name.as_str(), "." | ".."), "{name:?}");
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    };
    sound(pdf::source_of(bytes));
    for read in pdf::sources_of(bytes).into_iter().flatten() {
        sound(Ok(read));
    }
    let (made, made_page) = sheet();
    let named = |found: received::Arrival| {
        for own in found.candidates {
            sound(Ok(Attached { file_name: own.file_name, text: own.text, digest: String::new(), made_with: None }));
        }
    };
    let _ = received::read_pdf(bytes).map(named);
    let _ = received::pdf_difference(bytes, made);
    if let Ok(page) = std::str::from_utf8(bytes) {
        sound(html::source_of(page));
        let _ = received::read_page(page).map(named);
        let _ = received::page_difference(page, made_page);
    }
}

/// A sheet of a small procedure, to hold others against.
fn sheet() -> &'static (Vec<u8>, String) {
    static SHEET: OnceLock<(Vec<u8>, String)> = OnceLock::new();
    SHEET.get_or_init(|| {
        let text = "format: 1\ndocument: procedure\nidentification: {number: P-1, revision: 1, title: Trial}\n\
                    processes: {141: {polarity: DCEN}}\nruns: [{run: 1, process: 141, current: 90 A}]\n";
        let loaded = loads(text.as_bytes()).expect("the document is sound");
        let outcome = checks(&loaded);
        let (loaded, outcome, lately) = (&loaded, &outcome, &options().lately);
        let subject = Subject { loaded, outcome, shop: None, procedure: None, estimate: None, lately };
        let sheet = kinds::sheet(Kind::Procedure, subject, SheetOptions::default()).expect("a procedure has its sheet");
        let page = renderer().render(&sheet, &HtmlOptions::default()).expect("the sheet is sound");
        (pdf::render(&sheet, options()).expect("the sheet is sound"), page)
    })
}
