//! Sheets that arrive: what they show is held against what is attached to them.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn seamwright(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_seamwright")).args(arguments).current_dir(root()).output().unwrap()
}

fn check(path: &Path) -> (Option<i32>, String) {
    let output = seamwright(&["check", path.to_str().unwrap()]);
    (output.status.code(), String::from_utf8(output.stderr).unwrap())
}

fn rendered(more: &[&str]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let arguments = [&["render", "procedures/butt-3-carbon-141.yaml", "--out", out], more].concat();
    assert_eq!(seamwright(&arguments).status.code(), Some(0));
    folder
}

fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let paths = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    paths.filter(|path| path.extension().is_some_and(|own| own == ending) && !path.ends_with("index.html")).collect()
}

#[test]
fn an_untouched_sheet_agrees_whatever_its_kind_units_and_terms() {
    for more in [&[][..], &["--units", "us", "--terms", "aws", "--paper", "letter"], &["--sheet", "review"]] {
        let folder = rendered(more);
        for path in files(folder.path(), "pdf").into_iter().chain(files(folder.path(), "html")) {
            let (code, said) = check(&path);
            assert_eq!(code, Some(0), "{}: {said}", path.display());
            assert!(said.contains("shows what its attached source gives"), "{said}");
        }
    }
}

#[test]
fn a_page_with_a_changed_value_is_refused() {
    let folder = rendered(&["--to", "html"]);
    let path = files(folder.path(), "html").remove(0);
    let page = fs::read_to_string(&path).unwrap();
    let changed = page.replace("deg", "grad");
    assert_ne!(page, changed);
    fs::write(&path, changed).unwrap();
    let (code, said) = check(&path);
    assert_eq!(code, Some(2));
    assert!(said.contains("does not show what its attached source gives"), "{said}");
}

#[test]
fn a_pdf_with_a_changed_page_is_refused() {
    let folder = rendered(&["--to", "pdf"]);
    let path = files(folder.path(), "pdf").remove(0);
    let mut document = lopdf::Document::load(&path).unwrap();
    let page = document.get_pages()[&1];
    document.add_page_contents(page, b"q 1 1 1 rg 100 100 200 200 re f Q".to_vec()).unwrap();
    document.save(&path).unwrap();
    let (code, said) = check(&path);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("page 1 differs"), "{said}");
}

#[test]
fn foreign_files_and_files_over_the_limit_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let large = folder.path().join("large.yaml");
    fs::write(&large, vec![b'#'; 40 * 1024 * 1024]).unwrap();
    let (code, said) = check(&large);
    assert_eq!(code, Some(2));
    assert!(said.contains("larger than"), "{said}");
    let foreign = folder.path().join("foreign.html");
    fs::write(&foreign, "<!doctype html><title>a form</title><p>WPS").unwrap();
    let (code, said) = check(&foreign);
    assert_eq!(code, Some(2));
    assert!(said.contains("not by Seamwright"), "{said}");
}

// Each fault that the example's page lists stands on its review, by the name of the check.
#[test]
fn the_review_of_the_submitted_procedure_lists_every_planted_fault() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let code =
        seamwright(&["render", "examples/submitted/submitted.yaml", "--sheet", "review", "--to", "html", "--out", out])
            .status
            .code();
    assert_eq!(code, Some(1));
    let page = fs::read_to_string(files(folder.path(), "html").remove(0)).unwrap();
    let listed = fs::read_to_string(root().join("examples/submitted/README.md")).unwrap();
    let rows = listed.lines().filter(|line| line.starts_with("| ") && line.contains('-') && !line.contains("---"));
    let names: Vec<&str> = rows.filter_map(|line| line.trim_end_matches(" |").rsplit(" | ").next()).collect();
    assert!(names.len() >= 17, "{names:?}");
    for name in names {
        assert!(page.contains(name), "{name}");
    }
    assert!(page.contains("Not acceptable as it stands"));
}
