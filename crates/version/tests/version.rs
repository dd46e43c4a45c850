//! The version that a sheet names changes with everything that a sheet's bytes come from.

#[path = "../src/tree.rs"]
mod tree;

use std::fs;
use std::path::{Path, PathBuf};

fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

#[test]
fn the_built_version_is_that_of_the_tree() {
    let version = seamwright_version::VERSION;
    assert_eq!(version, format!("{}+{}", env!("CARGO_PKG_VERSION"), tree::of(&top()).unwrap()));
}

#[test]
fn every_byte_of_every_file_that_counts_changes_it() {
    let files = tree::files(&top()).unwrap();
    let texts: Vec<(String, Vec<u8>)> =
        files.iter().map(|(name, path)| (name.clone(), fs::read(path).unwrap())).collect();
    let digest = |texts: &[(String, Vec<u8>)]| tree::digest(texts.iter().map(|(name, text)| (&**name, text.clone())));
    let whole = digest(&texts);
    for at in (0..texts.len()).step_by(texts.len() / 12 + 1) {
        let mut other = texts.clone();
        let middle = other[at].1.len() / 2;
        other[at].1.insert(middle, b'x');
        assert_ne!(digest(&other), whole, "{}", texts[at].0);
        let mut gone = texts.clone();
        gone.remove(at);
        assert_ne!(digest(&gone), whole, "{}", texts[at].0);
    }
    // A checkout on another system ends lines otherwise, and makes the same sheets.
    let ended: Vec<(String, Vec<u8>)> = texts
        .iter()
        .map(|(name, text)| match std::str::from_utf8(text) {
            Ok(text) => (name.clone(), text.replace('\n', "\r\n").into_bytes()),
            Err(_) => (name.clone(), text.clone()),
        })
        .collect();
    assert_eq!(digest(&ended), whole);
}

#[test]
fn folders_are_watched_whole() {
    let watched = [
        "crates/calc/src/gas.rs",
        "crates/page/src/pdf/paint.rs",
        "templates/a.html",
        "Cargo.lock",
        "crates/calc/Cargo.toml",
    ];
    let folders = ["crates/calc/src", "crates/page/src", "templates", "Cargo.lock", "crates/calc/Cargo.toml"];
    assert_eq!(watched.map(tree::watched), folders);
}

/// A path without its `..`: `crates/sheet/../../templates/a.html` is `templates/a.html`.
fn straight(path: &str) -> String {
    let mut steps = Vec::new();
    for step in path.split('/') {
        if step == ".." {
            steps.pop();
        } else {
            steps.push(step);
        }
    }
    steps.join("/")
}

/// The compiler's own lists of what it read for the crates that sheets are made by, beside this test's binary.
#[test]
fn every_file_that_the_compiler_read_for_sheets_counts() {
    let counted: Vec<String> = tree::files(&top()).unwrap().into_iter().map(|(name, _)| name).collect();
    let folder = std::env::current_exe().unwrap().parent().unwrap().to_owned();
    let mut lists = 0;
    for entry in fs::read_dir(folder).unwrap().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let own = ["model", "handbook", "calc", "check", "estimate", "drawing", "page", "sheet"]
            .iter()
            .any(|own| name.starts_with(&format!("seamwright_{own}-")));
        if !own || entry.path().extension().is_none_or(|ending| ending != "d") {
            continue;
        }
        lists += 1;
        for word in fs::read_to_string(entry.path()).unwrap().split_whitespace() {
            let word = word.trim_end_matches(':').replace('\\', "/");
            let below = word.rsplit_once("/crates/").map_or(word.clone(), |(_, below)| format!("crates/{below}"));
            let below = straight(&below);
            let read = below.starts_with("crates/") || below.starts_with("templates/");
            let test = below.ends_with("/tests.rs") || below.contains("/tests/") || below.contains("/benches/");
            // A list may be left from a build before a file was moved.
            if read && !test && !word.contains("/out/") && top().join(&below).is_file() {
                assert!(counted.contains(&below), "{below} makes sheets and does not change their version");
            }
        }
    }
    // Built alone, this crate has no neighbour; in a run over the workspace it has.
    println!("{lists} lists of the compiler were read");
}
