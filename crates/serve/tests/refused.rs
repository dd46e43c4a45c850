//! What the system refuses: a full disk, a folder that may not be written to, a folder that goes away. It is told in words, and
//! nothing that was typed is lost.

#![cfg(target_os = "linux")]

mod common;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use common::{Page, address_of, attach, page, serve_named};
use serde_json::{Value, json};

const FOLDER: &str = "SEAMWRIGHT_REFUSED_FOLDER";

/// What the program does that the system refuses things to: it serves a folder, where a test names one.
#[test]
fn the_program_that_is_refused() {
    serve_named(FOLDER);
}

/// A program on a small disk of its own, which nobody else sees.
struct OnDisk {
    child: Child,
    page: Page,
    /// The disk, as it is seen from here.
    seen: PathBuf,
    _place: tempfile::TempDir,
}

impl Drop for OnDisk {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

const DOCUMENT: &str = "format: 1\ndocument: procedure\nidentification: {number: P-1, revision: 1, title: Lap}\n";

/// Serves a disk of so many KiB with one document, and with a file that fills so many of them; `then` is done to it first.
fn on_disk(kib: usize, filled: usize, then: &str) -> OnDisk {
    let place = tempfile::tempdir().unwrap();
    let (from, disk) = (place.path().join("from"), place.path().join("disk"));
    fs::create_dir(&from).unwrap();
    fs::create_dir(&disk).unwrap();
    fs::write(from.join("a.yaml"), DOCUMENT).unwrap();
    fs::write(from.join("filler.bin"), vec![0; filled << 10]).unwrap();
    let script = format!(
        "mount -t tmpfs -o size={kib}k none \"$1\" && cp \"$2\"/* \"$1\" && {{ {then}; }} && exec \"$3\" the_program_that_is_refused --exact --nocapture"
    );
    let mut child = Command::new("unshare")
        .args(["--user", "--map-root-user", "--mount", "sh", "-c", &script, "sh"])
        .args([&disk, &from, &std::env::current_exe().unwrap()])
        .env(FOLDER, &disk)
        .stdout(Stdio::piped())
        .spawn()
        .expect("unshare of util-linux gives the test a disk of its own");
    let address = address_of(&mut child);
    let seen = PathBuf::from(format!("/proc/{}/root{}", child.id(), disk.display()));
    let page = attach(&address, &disk, None);
    OnDisk { child, page, seen, _place: place }
}

/// Types a text into the page; gives what a save of it is asked with.
fn typed(page: &Page, id: &str, text: &str) -> Value {
    page.edit(id, &json!([{"op": "text", "text": text}]))
}

fn saved(page: &Page, id: &str, edited: &Value) -> common::Answer {
    page.save(id, edited["live"]["digest"].as_str().unwrap(), edited["base"].as_str().unwrap())
}

/// Names of files that were begun and not ended, in a folder and below it.
fn left_behind(folder: &Path) -> Vec<PathBuf> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).unwrap().flatten() {
        if entry.path().is_dir() {
            all.extend(left_behind(&entry.path()));
        } else if entry.file_name().to_string_lossy().ends_with(".part") {
            all.push(entry.path());
        }
    }
    all
}

#[test]
fn a_full_disk_at_a_save_loses_neither_the_file_nor_the_text() {
    let own = on_disk(600, 560, "true");
    let id = own.page.id("a.yaml");
    let long = format!("{DOCUMENT}notes: [{}]\n", vec!["\"typed on the page\""; 3000].join(", "));
    let edited = typed(&own.page, &id, &long);
    let refused = saved(&own.page, &id, &edited);
    assert_eq!(refused.status, 507, "{refused:?}");
    let words = refused.json()["error"].as_str().unwrap().to_owned();
    assert!(words.contains("the disk is full") && words.contains("the text is kept on the page"), "{words}");
    assert_eq!(fs::read_to_string(own.seen.join("a.yaml")).unwrap(), DOCUMENT);
    assert_eq!(own.page.state(&id)["text"], long.as_str());
    assert_eq!(left_behind(&own.seen), Vec::<PathBuf>::new());
    // A new document is refused in the same words, and nothing of it stays.
    let kept = own.page.post("/new/keep", &json!({"name": "b", "text": long}));
    assert!(kept.status == 507 && kept.body.contains("the disk is full"), "{kept:?}");
    assert!(!own.seen.join("b.yaml").exists());
    // Room is made: the same save goes through.
    fs::remove_file(own.seen.join("filler.bin")).unwrap();
    let again = saved(&own.page, &id, &edited);
    assert_eq!(again.status, 200, "{again:?}");
    assert_eq!(fs::read_to_string(own.seen.join("a.yaml")).unwrap(), long);
}

#[test]
fn a_folder_that_may_not_be_written_to_is_shown_and_the_text_stays_on_the_page() {
    let own = on_disk(600, 1, "mount -o remount,ro none \"$1\"");
    let id = own.page.id("a.yaml");
    let text = DOCUMENT.replace("Lap", "Tee");
    let edited = typed(&own.page, &id, &text);
    let refused = saved(&own.page, &id, &edited);
    assert_eq!(refused.status, 507, "{refused:?}");
    assert!(refused.body.contains("this folder may not be written to"), "{refused:?}");
    assert_eq!(fs::read_to_string(own.seen.join("a.yaml")).unwrap(), DOCUMENT);
    assert_eq!(own.page.state(&id)["text"], text.as_str());
    let kept = own.page.post("/new/keep", &json!({"name": "b", "text": DOCUMENT}));
    assert!(kept.status == 507 && kept.body.contains("may not be written to"), "{kept:?}");
}

#[test]
fn a_folder_that_goes_away_is_told_and_its_texts_are_there_when_it_comes_back() {
    let page = page(&[("a.yaml", DOCUMENT)]);
    let id = page.id("a.yaml");
    let text = DOCUMENT.replace("Lap", "Tee");
    let edited = typed(&page, &id, &text);
    let away = page.folder.with_extension("away");
    fs::rename(&page.folder, &away).unwrap();
    let rows = page.get("/rows");
    assert!(rows.status == 422 && rows.body.contains("the folder cannot be read"), "{rows:?}");
    let opened = page.raw(&format!(
        "GET / HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\nAccept: text/html\r\nConnection: close\r\n\r\n",
        page.host, page.cookie
    ));
    assert!(opened.body.contains("<h1>") && opened.body.contains("the folder cannot be read"), "{opened:?}");
    assert_ne!(saved(&page, &id, &edited).status, 200);
    fs::rename(&away, &page.folder).unwrap();
    assert_eq!(page.state(&id)["text"], text.as_str());
    let again = saved(&page, &id, &edited);
    assert_eq!(again.status, 200, "{again:?}");
    assert_eq!(fs::read_to_string(page.folder.join("a.yaml")).unwrap(), text);
}
