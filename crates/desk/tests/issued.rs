//! What lies beside a file and was issued under its number tells against another content, whichever face of the program asks.
#![expect(clippy::disallowed_methods, reason = "a test is not the core")]

use std::fs;
use std::path::Path;

use seamwright_desk::beside::ISSUED_CONTENT_CHANGED;
use seamwright_desk::companions::Companions;
use seamwright_desk::files::{Disk, Files, Input, Overlay};
use seamwright_desk::report::Report;
use seamwright_desk::sheets::{self, SheetRequest};
use seamwright_model::finding::Severity;
use seamwright_page::Kind;

fn examined(files: &dyn Files, path: &Path) -> Report {
    Companions::none(files).examine(Input::typed(path)).0
}

/// The messages of the check, as every report tells them.
fn told(report: &Report) -> Vec<String> {
    let own = report.diagnostics().into_iter().filter(|own| own.check == ISSUED_CONTENT_CHANGED);
    own.map(|own| own.message.to_owned()).collect()
}

#[test]
fn a_kept_copy_or_a_sheet_beside_a_file_tells_against_another_content() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tray.yaml");
    let library = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures/lap-fillet-2-carbon-141.yaml");
    let issued = fs::read_to_string(library).unwrap();
    let changed = issued.replacen("leg: 2 mm", "leg: 2.5 mm", 1).replace("status: issued", "status: draft");
    assert_ne!(changed, issued);
    let disk = Disk::new("2026-06-01".parse().unwrap());
    fs::write(&path, &changed).unwrap();
    assert!(told(&examined(&disk, &path)).is_empty(), "nothing lies beside it");
    let bare = sheet(&disk, &path);
    // A kept copy of the same revision, under another name.
    let kept = folder.path().join("superseded/other.yaml");
    fs::create_dir(kept.parent().unwrap()).unwrap();
    fs::write(&kept, issued.replace("status: issued", "status: superseded")).unwrap();
    let report = examined(&disk, &path);
    let words = told(&report);
    assert!(words.len() == 1 && words[0].contains("superseded/other.yaml shows revision 1 of P-001"), "{words:?}");
    assert!(report.count(Severity::Error) == 1 && report.findings().count() > 0);
    assert!(report.not_printed().is_some_and(|words| words.contains("seamwright revise")));
    // The outcome, of which sheets are made, knows nothing of it: a sheet is proved by its document alone.
    assert!(report.result.as_ref().is_ok_and(|(_, outcome)| outcome.count(Severity::Error) == 0));
    assert_eq!(sheet(&disk, &path), bare);
    // A text that is not saved counts in the place of the file.
    let unsaved = Overlay::new(&disk).with(&path, issued.clone());
    assert!(told(&examined(&unsaved, &path)).is_empty(), "it is what was issued");
    fs::write(&path, &issued).unwrap();
    assert!(told(&examined(&disk, &path)).is_empty());
    let unsaved = Overlay::new(&disk).with(&path, changed.clone());
    assert_eq!(told(&examined(&unsaved, &path)).len(), 1);
    // Another revision is another number.
    let raised = Overlay::new(&disk).with(&path, changed.replacen("revision: 1", "revision: 2", 1));
    assert!(told(&examined(&raised, &path)).is_empty());
    // Without the copy, a card of the file in a folder beside it.
    let card = sheet(&disk, &path);
    fs::remove_file(&kept).unwrap();
    fs::create_dir(folder.path().join("cards")).unwrap();
    fs::write(folder.path().join("cards/tray.bench-card.pdf"), &card).unwrap();
    let words = told(&examined(&unsaved, &path));
    assert!(words.len() == 1 && words[0].contains("cards/tray.bench-card.pdf shows revision 1"), "{words:?}");
    // The card itself is a sheet that arrives: it is held against its source, and against nothing beside it.
    let report = examined(&unsaved, &folder.path().join("cards/tray.bench-card.pdf"));
    assert!(report.issued.is_none() && report.not_printed().is_none());
    // Where the seal in the file tells, it is told once.
    let sealed = changed.replacen("revision: 1\n", "revision: 1\n  seal: 0123456789abcdef\n", 1);
    let unsaved = Overlay::new(&disk).with(&path, sealed);
    let report = examined(&unsaved, &path);
    assert_eq!((told(&report).len(), report.count(Severity::Error)), (1, 1));
}

#[test]
fn what_was_opened_before_is_opened_again_once_it_was_changed() {
    let folder = tempfile::tempdir().unwrap();
    let (path, kept) = (folder.path().join("tray.yaml"), folder.path().join("superseded/tray.rev-1.yaml"));
    fs::create_dir(kept.parent().unwrap()).unwrap();
    let library = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures/lap-fillet-2-carbon-141.yaml");
    let issued = fs::read_to_string(library).unwrap();
    fs::write(&path, issued.replacen("leg: 2 mm", "leg: 2.5 mm", 1)).unwrap();
    let disk = Disk::new("2026-06-01".parse().unwrap());
    let opened = std::sync::Arc::default();
    let found = || {
        let companions = Companions::none(&disk).remembering(std::sync::Arc::clone(&opened));
        told(&companions.examine(Input::typed(&path)).0).len()
    };
    assert_eq!(found(), 0);
    fs::write(&kept, &issued).unwrap();
    assert_eq!((found(), found()), (1, 1));
    fs::write(&kept, issued.replacen("revision: 1\n", "revision: 17\n", 1)).unwrap();
    assert_eq!(found(), 0, "it is the copy of another revision now");
    fs::remove_file(&kept).unwrap();
    assert_eq!(found(), 0);
}

/// The bench card of a file, as the bytes of a PDF.
fn sheet(files: &dyn Files, path: &Path) -> Vec<u8> {
    let companions = Companions::none(files);
    let (report, named) = companions.examine(Input::typed(path));
    let (loaded, outcome) = report.result.as_ref().ok().unwrap();
    let request = SheetRequest { kinds: vec![Kind::BenchCard], ..SheetRequest::default() };
    let mut made = companions.sheets(&request, loaded, outcome, &named).made;
    sheets::pdf(&made.pop().unwrap().sheet, request.paper, companions.appearance()).unwrap()
}
