//! The version that a sheet names: that of the package, and a digest of everything that its bytes come from.
//!
//! Sources, tables, templates and the list of libraries are digested when the program is built, so that no change of them
//! leaves the version as it was, and nothing has to be counted by hand. Names and texts alone count: the digest is the same
//! on every machine, with and without version control, whatever ends the lines.

use std::path::{Path, PathBuf};
use std::{fs, io};

use sha2::{Digest, Sha256};

/// Crates that nothing on a sheet comes from. A new crate counts until it is named here.
const NOT_ON_SHEETS: &[&str] = &["cli", "draft", "editor", "serve", "version", "xtask"];

/// Every file that counts, by its path from the top of the tree with `/` between the parts, sorted.
pub fn files(top: &Path) -> io::Result<Vec<(String, PathBuf)>> {
    let mut found = Vec::new();
    for name in ["Cargo.toml", "Cargo.lock"] {
        found.push((name.to_owned(), top.join(name)));
    }
    walk(&top.join("templates"), "templates", &mut found)?;
    for entry in fs::read_dir(top.join("crates"))? {
        let path = entry?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if !path.join("Cargo.toml").is_file() || NOT_ON_SHEETS.contains(&name.as_str()) {
            continue;
        }
        for own in fs::read_dir(&path)? {
            let own = own?.path();
            let below = own.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let whole = format!("crates/{name}/{below}");
            if own.is_dir() && !["tests", "benches", "examples", "target"].contains(&below.as_str()) {
                walk(&own, &whole, &mut found)?;
            } else if own.is_file() && ["rs", "toml"].iter().any(|ending| own.extension().is_some_and(|e| e == *ending))
            {
                found.push((whole, own));
            }
        }
    }
    found.sort();
    Ok(found)
}

fn walk(folder: &Path, below: &str, found: &mut Vec<(String, PathBuf)>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        // Hidden files are those of editors; tests make no sheet, nor do the pages in the browser.
        if name.starts_with('.')
            || name.ends_with('~')
            || name == "tests"
            || name == "tests.rs"
            || left_out(below, &name)
        {
            continue;
        }
        let whole = format!("{below}/{name}");
        if path.is_dir() {
            walk(&path, &whole, found)?;
        } else {
            found.push((whole, path));
        }
    }
    Ok(())
}

fn left_out(below: &str, name: &str) -> bool {
    below == "templates" && NOT_ON_SHEETS.contains(&name)
}

/// The digest of files by names and texts, twelve digits.
pub fn digest<'f>(files: impl IntoIterator<Item = (&'f str, Vec<u8>)>) -> String {
    let mut hash = Sha256::new();
    for (name, mut text) in files {
        // A checkout may end lines otherwise; what is no text has other bytes before its line feeds.
        if std::str::from_utf8(&text).is_ok() {
            text.retain(|byte| *byte != b'\r');
        }
        for part in [name.as_bytes(), &text] {
            hash.update((part.len() as u64).to_le_bytes());
            hash.update(part);
        }
    }
    hash.finalize().iter().take(6).map(|byte| format!("{byte:02x}")).collect()
}

/// The digest of the tree.
pub fn of(top: &Path) -> io::Result<String> {
    let files = files(top)?;
    let texts: Vec<(&str, Vec<u8>)> =
        files.iter().map(|(name, path)| Ok((name.as_str(), fs::read(path)?))).collect::<io::Result<_>>()?;
    Ok(digest(texts))
}

/// The folder of a crate, or the file itself, that must be watched for a file: `crates/calc/src` for one in it.
pub fn watched(name: &str) -> String {
    match name.split('/').collect::<Vec<_>>().as_slice() {
        ["templates", ..] => "templates".to_owned(),
        ["crates", own, folder, _, ..] => format!("crates/{own}/{folder}"),
        _ => name.to_owned(),
    }
}
