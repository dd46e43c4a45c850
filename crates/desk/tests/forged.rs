//! Random changes of sheets: none is proved, whatever byte they change, and none makes the program panic.
#![expect(clippy::disallowed_methods, reason = "a test is not the core")]

use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use std::thread;

use seamwright_desk::companions::Companions;
use seamwright_desk::files::{Disk, Input, Overlay};
use seamwright_desk::received::Verdict;
use seamwright_desk::seal::{self, Format, Note};
use seamwright_desk::sheets::SheetRequest;
use seamwright_model::stated::Date;
use seamwright_page::Kind;
use seamwright_page::html::{HtmlOptions, HtmlRenderer};
use seamwright_page::lately::Lately;
use seamwright_page::pdf::{self, PdfOptions};

/// Changes of each format; CI asks for more of them.
fn changes() -> u64 {
    std::env::var("SEAMWRIGHT_FORGERIES").ok().and_then(|count| count.parse().ok()).unwrap_or(300)
}

fn day() -> Date {
    "2026-03-02".parse().unwrap()
}

/// A sheet of a starter procedure, sealed as `render` seals it.
fn sheet(format: Format) -> Vec<u8> {
    let disk = Disk::new(day());
    let companions = Companions::none(&disk);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures/butt-3-carbon-141.yaml");
    let (report, named) = companions.examine(Input::typed(&path));
    let (loaded, outcome) = report.result.unwrap_or_else(|unread| panic!("{:?}", unread.faults));
    let request = SheetRequest { kinds: vec![Kind::Procedure], ..SheetRequest::default() };
    let mut made = companions.sheets(&request, &loaded, &outcome, &named).made.remove(0);
    made.sheet.source.made_with.as_mut().unwrap().sealed = true;
    let bytes = match format {
        Format::Pdf => pdf::render(&made.sheet, &PdfOptions::default()).unwrap(),
        Format::Html => HtmlRenderer::new().unwrap().render(&made.sheet, &HtmlOptions::default()).unwrap().into_bytes(),
    };
    let note = Note {
        sheets: vec!["procedure".to_owned()],
        beside: Vec::new(),
        examined: outcome.examined,
        findings: outcome.findings.len(),
        deviations: outcome.deviations.len(),
        entry: Some(made.entry),
    };
    seal::seal(format, bytes, b"options of a run", &note)
}

/// The faces of all sheets that are made again.
static LATELY: LazyLock<Lately> = LazyLock::new(Lately::default);

fn verdict(format: Format, bytes: Vec<u8>) -> Verdict {
    let disk = Disk::new(day());
    let path = PathBuf::from(format!("received.{}", format.ending()));
    let files = Overlay::new(&disk).with(&path, bytes);
    let (report, _) = Companions::none(&files).keeping(&LATELY).examine(Input::typed(&path));
    report.received.expect("a sheet is judged").verdict
}

/// Numbers that look random and are the same in every run (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(limit.max(1)).unwrap()).unwrap()
    }
}

/// Words that mean something in either format.
const WORDS: &[&str] = &[
    "obj",
    "endobj",
    "stream",
    "endstream",
    "trailer",
    "startxref",
    "%%EOF",
    "/Type",
    "/EF",
    "/Kids",
    "<<",
    ">>",
    "[",
    "]",
    "(",
    ")",
    "1 0 R",
    "/Annots",
    "/Length 9",
    "<p>",
    "</main>",
    "<!--",
    "-->",
    "<style>",
    "\" href=\"",
    "&lt;",
    "\0",
    "\n",
    "9",
];

fn changed(sheet: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = sheet.to_vec();
    for _ in 0..=dice.below(3) {
        let at = dice.below(bytes.len());
        // Half of the changes at the end, where tables, seal and trailer stand.
        let at = if dice.below(2) == 0 { at } else { bytes.len() - 1 - dice.below(bytes.len().min(1500)) };
        let end = (at + 1 + dice.below(40)).min(bytes.len());
        match dice.below(7) {
            0 => bytes[at] ^= 1 << dice.below(8),
            1 => bytes[at] = u8::try_from(dice.below(256)).unwrap(),
            2 => drop(bytes.drain(at..end)),
            3 => {
                let part = bytes[at..end].to_vec();
                let to = dice.below(bytes.len());
                bytes.splice(to..to, part);
            }
            4 => {
                let word = WORDS[dice.below(WORDS.len())];
                bytes.splice(at..at, word.bytes());
            }
            5 => {
                let word = WORDS[dice.below(WORDS.len())];
                bytes.splice(at..end, word.bytes());
            }
            _ => bytes.truncate(end),
        }
        if bytes.is_empty() {
            break;
        }
    }
    bytes
}

fn forge(format: Format) {
    let sheet = sheet(format);
    assert_eq!(verdict(format, sheet.clone()), Verdict::Proved);
    thread::scope(|scope| {
        for half in 0..2 {
            let sheet = &sheet;
            scope.spawn(move || {
                for round in 0..changes() / 2 {
                    let seed = (round * 2 + half + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
                    let forged = changed(sheet, &mut Dice(seed | 1));
                    if forged == *sheet {
                        continue;
                    }
                    // Whoever changes a sheet can seal it anew.
                    let forged = match seal::note(format, &forged).filter(|_| round % 2 == 0) {
                        Some(note) => {
                            let anew = seal::seal(format, seal::without(format, &forged), b"forged", &note);
                            if seal::without(format, &anew) == seal::without(format, sheet) {
                                continue;
                            }
                            anew
                        }
                        None => forged,
                    };
                    let verdict = verdict(format, forged);
                    assert_ne!(verdict, Verdict::Proved, "{format:?}, seed {seed}");
                }
            });
        }
    });
}

#[test]
fn no_random_change_of_a_pdf_is_proved() {
    forge(Format::Pdf);
}

#[test]
fn no_random_change_of_a_page_is_proved() {
    forge(Format::Html);
}

#[test]
fn every_byte_counts_that_a_seal_holds() {
    for format in [Format::Pdf, Format::Html] {
        let sheet = sheet(format);
        let line = sheet.windows(11).rposition(|own| own == b"seamwright ").unwrap();
        for at in line..sheet.len() {
            let mut forged = sheet.clone();
            forged[at] = if forged[at] == b'0' { b'1' } else { b'0' };
            assert_ne!(verdict(format, forged), Verdict::Proved, "{format:?}, byte {at}");
        }
    }
}
