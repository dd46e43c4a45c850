//! Digests what sheets come from: see `src/tree.rs`.

#[path = "src/tree.rs"]
mod tree;

use std::path::Path;
use std::process::exit;

fn main() {
    let top = Path::new("../..");
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-changed=src");
    match tree::files(top).and_then(|files| Ok((tree::of(top)?, files))) {
        Ok((digest, files)) => {
            println!("cargo::rustc-env=SHEET_DIGEST={digest}");
            // Folders are watched for new files; a new crate changes Cargo.lock.
            let mut watched: Vec<String> = files.into_iter().map(|(name, _)| tree::watched(&name)).collect();
            watched.dedup();
            for name in watched {
                println!("cargo::rerun-if-changed=../../{name}");
            }
        }
        Err(error) => {
            eprintln!("the files that sheets are made of cannot be read: {error}");
            exit(1);
        }
    }
}
