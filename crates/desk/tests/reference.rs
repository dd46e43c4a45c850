//! Reference digests of sheets: under the version that made them the bytes are the same on any machine, and where the bytes
//! are others, the version is another one.
#![expect(clippy::disallowed_methods, clippy::disallowed_macros, reason = "a test is not the core")]

mod made;

use std::fs;
use std::path::Path;

use seamwright_desk::seal::digest_of;
use seamwright_page::html::{HtmlOptions, HtmlRenderer};
use seamwright_page::pdf::{self, PdfOptions};
use seamwright_version::VERSION;

/// A line for each sheet: document, kind, format, and the digest of its bytes without the version that it names.
fn digests() -> Vec<String> {
    let (renderer, options) = (HtmlRenderer::new().unwrap(), PdfOptions::default());
    let mut lines = Vec::new();
    for (name, kind, mut sheet) in made::sheets() {
        // The same for every version, so that what a version changes is seen.
        if let Some(made_with) = &mut sheet.source.made_with {
            assert_eq!(made_with.version, VERSION);
            made_with.version.clear();
        }
        let pdf = pdf::render(&sheet, &options).unwrap();
        let page = renderer.render(&sheet, &HtmlOptions::default()).unwrap();
        for (format, bytes) in [("pdf", pdf), ("html", page.into_bytes())] {
            let digest: String =
                digest_of([bytes.as_slice()]).iter().take(8).map(|byte| format!("{byte:02x}")).collect();
            lines.push(format!("{name} {} {format} {digest}", kind.name()));
        }
    }
    lines
}

/// The file holds the digests of the version on its first line; `BLESS=1` writes it anew. Under another version it says
/// which sheets changed, which is what a change is read for.
#[test]
fn bytes_change_only_with_the_version() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/reference.txt");
    let now = digests();
    let again = digests();
    assert_eq!(now, again, "equal input gives equal bytes");
    assert!(now.len() >= 20, "{now:#?}");
    if std::env::var_os("BLESS").is_some() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, format!("{VERSION}\n{}\n", now.join("\n"))).unwrap();
    }
    let text = fs::read_to_string(&path).unwrap();
    let (version, then) = text.split_once('\n').unwrap();
    let then: Vec<&str> = then.lines().collect();
    assert!(version.split('+').count() == 2 && !then.is_empty(), "{version}");
    let changed: Vec<&String> = now.iter().filter(|line| !then.contains(&line.as_str())).collect();
    if version == VERSION {
        assert!(changed.is_empty(), "under one version {VERSION} the bytes of sheets differ: {changed:#?}");
    } else {
        println!("since version {version} the bytes of {} sheets of {} changed", changed.len(), now.len());
    }
}
