//! Inputs that fuzzing starts from, those that once broke something among them, under every promise.

use std::fs;
use std::path::{Path, PathBuf};

fn kept(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../fuzz/corpus").join(folder);
    let mut paths: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    assert!(!paths.is_empty());
    paths
}

#[test]
fn documents_keep_their_promises() {
    for path in kept("documents") {
        println!("{}", path.display());
        seamwright_tests::document(&fs::read(&path).unwrap());
    }
}

#[test]
fn quantities_keep_their_promises() {
    for path in kept("quantities") {
        println!("{}", path.display());
        seamwright_tests::quantities(&String::from_utf8_lossy(&fs::read(&path).unwrap()));
    }
}

#[test]
fn sheets_keep_their_promises() {
    for path in kept("sheets") {
        println!("{}", path.display());
        seamwright_tests::arrives(&fs::read(&path).unwrap());
    }
}
