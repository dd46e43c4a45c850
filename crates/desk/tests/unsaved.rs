//! Texts that are not saved count for their own document and for every document that names them.
#![expect(clippy::disallowed_methods, reason = "a test is not the core")]

use std::path::{Path, PathBuf};

use seamwright_desk::companions::Companions;
use seamwright_desk::files::{self, Disk, Files, Input, Overlay};
use seamwright_desk::sheets::{self, SheetRequest};
use seamwright_model::stated::Date;
use seamwright_page::Kind;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn disk() -> Disk {
    Disk::new("2026-06-01".parse::<Date>().unwrap())
}

/// The checks that found something in a document.
fn found(files: &dyn Files, path: &Path) -> Vec<&'static str> {
    let (report, _) = Companions::none(files).examine(Input::typed(path));
    let (_, outcome) = report.result.unwrap_or_else(|unread| panic!("{:?}", unread.faults));
    outcome.findings.iter().map(|finding| finding.check).collect()
}

#[test]
fn an_unsaved_text_counts_for_its_own_document_and_nothing_is_written() {
    let path = root().join("procedures/butt-3-carbon-141.yaml");
    let saved = std::fs::read_to_string(&path).unwrap();
    assert_eq!(found(&disk(), &path), Vec::<&str>::new());
    let wrong = saved.replace("polarity: DCEN", "polarity: DCEP");
    assert_ne!(wrong, saved);
    let disk = disk();
    let unsaved = Overlay::new(&disk).with(&path, wrong);
    // By another way to the same file, too.
    for way in [path.clone(), root().join("procedures/../procedures/./butt-3-carbon-141.yaml")] {
        assert!(found(&unsaved, &way).contains(&"polarity-wrong-for-metal"), "{:?}", found(&unsaved, &way));
    }
    assert_eq!(std::fs::read_to_string(&path).unwrap(), saved);
}

#[test]
fn an_unsaved_shop_counts_for_the_procedure_that_names_it() {
    let folder = tempfile::tempdir().unwrap();
    let procedure = std::fs::read_to_string(root().join("procedures/butt-3-carbon-141.yaml")).unwrap();
    let named = procedure.replace("  number: P-002\n", "  number: P-002\n  shop: shop.yaml\n");
    assert_ne!(named, procedure);
    let path = folder.path().join("p.yaml");
    std::fs::write(&path, named).unwrap();
    let disk = disk();
    let (report, _) = Companions::none(&disk).examine(Input::typed(&path));
    assert!(report.result.is_err(), "the shop is not there yet");
    let shop = std::fs::read_to_string(root().join("examples/shop/shop.yaml")).unwrap();
    let unsaved = Overlay::new(&disk).with(&folder.path().join("shop.yaml"), shop);
    let companions = Companions::none(&unsaved);
    let (report, named) = companions.examine(Input::typed(&path));
    assert!(companions.shop(&named).is_some(), "{:?}", report.result.map(|_| ()).map_err(|unread| unread.faults));
    // And stands in the folder's list.
    let listed: Vec<String> =
        files::inputs(&unsaved, &[folder.path().to_path_buf()]).unwrap().into_iter().map(|input| input.name).collect();
    assert!(listed.iter().any(|name| name.ends_with("shop.yaml")), "{listed:?}");
    assert_eq!(listed.len(), 2);
}

#[test]
fn an_unsaved_text_gives_its_sheet_as_page_and_as_pdf() {
    let path = root().join("procedures/butt-3-carbon-141.yaml");
    let saved = std::fs::read_to_string(&path).unwrap();
    let disk = disk();
    let unsaved = Overlay::new(&disk).with(&path, saved.replace("Butt, 3 mm carbon steel sheet", "An unsaved title"));
    let companions = Companions::none(&unsaved);
    let (report, named) = companions.examine(Input::typed(&path));
    let (loaded, outcome) = report.result.unwrap_or_else(|unread| panic!("{:?}", unread.faults));
    let request = SheetRequest { kinds: vec![Kind::Procedure, Kind::Lesson, Kind::Review], ..SheetRequest::default() };
    let done = companions.sheets(&request, &loaded, &outcome, &named);
    // It is no lesson, which is not told where other kinds fit.
    assert!(done.failures.is_empty(), "{:?}", done.failures);
    assert_eq!(done.made.iter().map(|made| made.kind).collect::<Vec<_>>(), [Kind::Procedure, Kind::Review]);
    let appearance = companions.appearance();
    let page = sheets::html(&appearance.renderer().unwrap(), &done.made[0].sheet, request.paper, appearance).unwrap();
    assert!(page.contains("An unsaved title"));
    assert!(sheets::pdf(&done.made[0].sheet, request.paper, appearance).unwrap().starts_with(b"%PDF"));
}
