//! Rendering again: sheets that are what they would be are left alone, and nothing else is.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::time::{Duration, SystemTime};

/// A folder with procedures, and the folder of their sheets.
struct Shop(tempfile::TempDir);

impl Shop {
    fn new() -> Self {
        let shop = Self(tempfile::tempdir().unwrap());
        fs::create_dir(shop.sources()).unwrap();
        for name in ["lap-fillet-2-carbon-141", "butt-3-carbon-141", "pipe-butt-p235gh-141-111"] {
            let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures");
            fs::copy(root.join(name).with_extension("yaml"), shop.source(name)).unwrap();
        }
        shop
    }

    fn sources(&self) -> PathBuf {
        self.0.path().join("procedures")
    }

    fn source(&self, name: &str) -> PathBuf {
        self.sources().join(name).with_extension("yaml")
    }

    fn sheet(&self, name: &str) -> PathBuf {
        self.0.path().join("sheets").join(name)
    }

    fn render(&self, options: &[&str]) -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_seamwright"));
        command.current_dir(self.0.path()).env("NO_COLOR", "1");
        command.args(["render", "procedures", "--out", "sheets"]).args(options).output().unwrap()
    }

    /// The sheets with their bytes; every file is made to look old, so that a new one is told from it.
    fn sheets(&self) -> BTreeMap<String, Vec<u8>> {
        let mut sheets = BTreeMap::new();
        for entry in fs::read_dir(self.0.path().join("sheets")).unwrap() {
            let path = entry.unwrap().path();
            File::options().append(true).open(&path).unwrap().set_modified(old()).unwrap();
            sheets.insert(path.file_name().unwrap().to_string_lossy().into_owned(), fs::read(&path).unwrap());
        }
        sheets
    }

    /// The sheets that were written since [`Shop::sheets`], but for the index.
    fn written(&self) -> Vec<String> {
        let entries = fs::read_dir(self.0.path().join("sheets")).unwrap().map(|entry| entry.unwrap());
        let new = entries.filter(|entry| entry.metadata().unwrap().modified().unwrap() != old());
        let mut names: Vec<String> = new.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
        names.retain(|name| name != "index.html");
        names.sort();
        names
    }

    fn edit(&self, name: &str, from: &str, to: &str) {
        let text = fs::read_to_string(self.source(name)).unwrap();
        assert!(text.contains(from), "{from}");
        fs::write(self.source(name), text.replace(from, to)).unwrap();
    }
}

fn old() -> SystemTime {
    SystemTime::UNIX_EPOCH + Duration::from_secs(1_000_000_000)
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn unchanged_files_are_left_alone_and_force_makes_them_again() {
    let shop = Shop::new();
    let first = shop.render(&[]);
    assert_eq!(first.status.code(), Some(0), "{}", said(&first));
    let sheets = shop.sheets();
    assert_eq!(sheets.len(), 7);
    let again = shop.render(&[]);
    assert_eq!(again.status.code(), Some(0), "{}", said(&again));
    assert_eq!(shop.written(), [""; 0]);
    // What is told is the same, whether or not the sheets stand.
    let told = |output: &Output| {
        said(output).split("\nwrote ").flat_map(|part| part.split("\nleft ")).next().map(str::to_owned)
    };
    assert_eq!(told(&again), told(&first));
    assert_eq!(shop.sheets(), sheets);
    assert_eq!(shop.render(&["--force"]).status.code(), Some(0));
    assert_eq!(shop.written().len(), 6);
    assert_eq!(shop.sheets(), sheets);
}

#[test]
fn a_changed_file_is_made_again_alone_and_stands_in_the_index() {
    let shop = Shop::new();
    // A draft: the sheets of an issued revision are not written over.
    shop.edit("butt-3-carbon-141", "status: issued", "status: draft");
    shop.render(&[]);
    let before = shop.sheets();
    shop.edit("butt-3-carbon-141", "Butt, 3 mm carbon steel sheet, 141", "Butt in thin sheet");
    assert_eq!(shop.render(&[]).status.code(), Some(0));
    assert_eq!(shop.written(), ["butt-3-carbon-141.html", "butt-3-carbon-141.pdf"]);
    let index = fs::read_to_string(shop.sheet("index.html")).unwrap();
    assert!(index.contains("Butt in thin sheet") && index.contains("P-006"), "{index}");
    // Back to what it was: all is as it was, the index too.
    shop.edit("butt-3-carbon-141", "Butt in thin sheet", "Butt, 3 mm carbon steel sheet, 141");
    shop.render(&[]);
    assert_eq!(shop.sheets(), before);
    // A file that is gone leaves the index.
    fs::remove_file(shop.source("butt-3-carbon-141")).unwrap();
    shop.render(&[]);
    assert!(!fs::read_to_string(shop.sheet("index.html")).unwrap().contains("butt-3-carbon-141"));
}

#[test]
fn a_sheet_that_was_changed_cut_off_or_lost_is_made_again() {
    let shop = Shop::new();
    shop.render(&[]);
    let sheets = shop.sheets();
    for name in ["butt-3-carbon-141.html", "butt-3-carbon-141.pdf"] {
        let whole = &sheets[name];
        for at in [10, whole.len() / 2, whole.len() - 4] {
            let mut changed = whole.clone();
            changed[at] ^= 1;
            fs::write(shop.sheet(name), &changed).unwrap();
            assert_eq!(shop.render(&[]).status.code(), Some(0));
            assert_eq!(&fs::read(shop.sheet(name)).unwrap(), whole, "{name}, byte {at}");
            fs::write(shop.sheet(name), &whole[..at]).unwrap();
            shop.render(&[]);
            assert_eq!(&fs::read(shop.sheet(name)).unwrap(), whole, "{name}, cut off at {at}");
        }
        fs::remove_file(shop.sheet(name)).unwrap();
        shop.render(&[]);
        assert_eq!(&fs::read(shop.sheet(name)).unwrap(), whole, "{name}");
    }
    assert_eq!(shop.sheets(), sheets);
    // A sheet of one file does not stand for another.
    // It was issued, so that it is not written over either: whoever put it there takes it away.
    fs::copy(shop.sheet("lap-fillet-2-carbon-141.pdf"), shop.sheet("butt-3-carbon-141.pdf")).unwrap();
    assert_eq!(shop.render(&[]).status.code(), Some(2));
    assert_eq!(shop.sheets()["butt-3-carbon-141.pdf"], sheets["lap-fillet-2-carbon-141.pdf"]);
    fs::remove_file(shop.sheet("butt-3-carbon-141.pdf")).unwrap();
    shop.render(&[]);
    assert_eq!(shop.sheets(), sheets);
}

#[test]
fn other_options_kinds_and_looks_are_made_and_stand_in_their_turn() {
    let shop = Shop::new();
    shop.render(&[]);
    let style = shop.0.path().join("house-style.yaml");
    fs::write(&style, "lines: [\"Tarn Beck Metalwork, an invented shop\"]\n").unwrap();
    let looks: [&[&str]; 5] = [
        &["--units", "both"],
        &["--paper", "letter"],
        &["--terms", "aws"],
        &["--code", "asme-ix"],
        &["--style", "house-style.yaml"],
    ];
    for options in looks {
        shop.sheets();
        shop.render(options);
        assert_eq!(shop.written().len(), 6, "{options:?}");
        shop.sheets();
        shop.render(options);
        assert_eq!(shop.written(), [""; 0], "{options:?}");
    }
    fs::write(&style, "lines: [\"Tarn Beck Metalwork, invented\"]\n").unwrap();
    shop.render(&["--style", "house-style.yaml"]);
    assert_eq!(shop.written().len(), 6, "another style");
    // One more kind of sheet is made; the next run has both.
    let kinds = ["--sheet", "procedure,bench-card"];
    shop.render(&kinds);
    shop.sheets();
    shop.render(&kinds);
    assert_eq!(shop.written(), [""; 0]);
    let index = fs::read_to_string(shop.sheet("index.html")).unwrap();
    assert_eq!(index.matches("bench-card.pdf").count(), 3);
}

#[test]
fn findings_are_told_again_and_end_the_run_as_before() {
    let shop = Shop::new();
    shop.edit("butt-3-carbon-141", "current: 95-120 A", "current: 495-520 A");
    let first = shop.render(&[]);
    assert_eq!(first.status.code(), Some(1), "{}", said(&first));
    shop.sheets();
    let again = shop.render(&[]);
    assert_eq!(again.status.code(), Some(1), "{}", said(&again));
    assert!(said(&again).contains("tungsten-current-above-range"), "{}", said(&again));
    assert_eq!(shop.written(), [""; 0]);
}

#[test]
fn a_sheet_that_depends_on_the_day_never_stands() {
    let shop = Shop::new();
    shop.edit("butt-3-carbon-141", "date: 2026-02-17", "date: 2999-01-01");
    shop.render(&[]);
    shop.sheets();
    let again = shop.render(&[]);
    assert!(said(&again).contains("date-in-future"), "{}", said(&again));
    assert_eq!(shop.written(), ["butt-3-carbon-141.html", "butt-3-carbon-141.pdf"]);
}

#[test]
fn a_named_document_that_changed_makes_the_sheet_again() {
    let shop = Shop::new();
    let lesson = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/lesson/lesson.yaml");
    fs::copy(lesson, shop.source("lesson")).unwrap();
    shop.edit("lesson", "../../procedures/lap-fillet-2-carbon-141.yaml", "lap-fillet-2-carbon-141.yaml");
    shop.edit("lesson", "shop: ../shop/shop.yaml\n", "");
    shop.edit("lap-fillet-2-carbon-141", "status: issued", "status: draft");
    let kinds = ["--sheet", "lesson,procedure"];
    let first = shop.render(&kinds);
    assert!(shop.sheets().contains_key("lesson.lesson.pdf"), "{}", said(&first));
    shop.render(&kinds);
    assert_eq!(shop.written(), [""; 0]);
    shop.edit("lap-fillet-2-carbon-141", "current: 70-90 A", "current: 70-88 A");
    shop.render(&kinds);
    let changed =
        ["lap-fillet-2-carbon-141.html", "lap-fillet-2-carbon-141.pdf", "lesson.lesson.html", "lesson.lesson.pdf"];
    assert_eq!(shop.written(), changed);
}

#[test]
fn a_binder_holds_all_sheets_though_they_stand() {
    let shop = Shop::new();
    shop.render(&["--binder"]);
    let sheets = shop.sheets();
    shop.render(&["--binder"]);
    assert_eq!(shop.written(), ["binder.pdf"]);
    assert_eq!(shop.sheets(), sheets);
}

#[test]
fn a_sealed_sheet_is_read_back_and_agrees_with_its_source() {
    let shop = Shop::new();
    shop.render(&[]);
    for name in ["butt-3-carbon-141.pdf", "butt-3-carbon-141.html"] {
        let bytes = fs::read(shop.sheet(name)).unwrap();
        let text = fs::read_to_string(shop.source("butt-3-carbon-141")).unwrap();
        let attached = if name.ends_with("pdf") {
            lopdf::Document::load_mem(&bytes).unwrap();
            seamwright_page::pdf::source_of(&bytes).unwrap()
        } else {
            seamwright_page::html::source_of(&String::from_utf8(bytes).unwrap()).unwrap()
        };
        assert_eq!(attached.text, text);
        let check = Command::new(env!("CARGO_BIN_EXE_seamwright")).arg("check").arg(shop.sheet(name)).output().unwrap();
        assert_eq!(check.status.code(), Some(0), "{}", said(&check));
        let told = String::from_utf8_lossy(&check.stdout).into_owned();
        assert!(told.contains("sheet is proved"), "{told}");
    }
}
