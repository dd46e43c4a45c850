//! The program is killed at random while two browsers and one editor write: no save that was answered is missing, and no file
//! is torn.

mod common;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use common::{Answer, Page, address_of, attach, serve_named};
use serde_json::{Value, json};

const FOLDER: &str = "SEAMWRIGHT_KILLED_FOLDER";

/// What the killed program does: it serves a folder, where the test names one.
#[test]
fn the_program_that_is_killed() {
    serve_named(FOLDER);
}

fn program(folder: &Path) -> (Child, Page) {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["the_program_that_is_killed", "--exact", "--nocapture"])
        .env(FOLDER, folder)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let address = address_of(&mut child);
    let page = attach(&address, folder, None);
    (child, page)
}

/// What a browser knows of the program of the moment.
#[derive(Clone, Default)]
struct Door {
    host: String,
    cookie: String,
    token: String,
}

fn send(door: &Door, request: &str, body: &str, more: &str) -> Option<Answer> {
    use std::io::{Read, Write};
    let mut stream = std::net::TcpStream::connect(&door.host).ok()?;
    stream.set_read_timeout(Some(Duration::from_secs(5))).ok()?;
    let head = format!(
        "{request} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nCookie: {}\r\nX-Seamwright-Token: {}\r\n{more}Content-Length: {}\r\nConnection: close\r\n\r\n{body}",
        door.cookie,
        door.token,
        body.len(),
        host = door.host
    );
    stream.write_all(head.as_bytes()).ok()?;
    let mut all = Vec::new();
    stream.read_to_end(&mut all).ok()?;
    let text = String::from_utf8(all).ok()?;
    let (head, body) = text.split_once("\r\n\r\n")?;
    Some(Answer { status: head.split(' ').nth(1)?.parse().ok()?, head: head.to_owned(), body: body.to_owned() })
}

fn document(marks: &str) -> String {
    format!(
        "format: 1\ndocument: procedure\nidentification: {{number: P-1, revision: 1, title: Lap}}\nnotes:\n{marks}# end of the file\n"
    )
}

/// How far the browsers have come, both together.
#[derive(Default)]
struct Done {
    /// Times that they began with what the program shows.
    tries: AtomicUsize,
    /// Saves that were answered.
    saves: AtomicUsize,
}

/// A browser that puts its marks into the document and saves; gives the marks of the saves that were answered.
fn browse(own: char, id: &str, door: &Mutex<Door>, ended: &AtomicBool, done: &Done) -> Vec<String> {
    let mut answered = Vec::new();
    let mut count = 0;
    while !ended.load(Ordering::Relaxed) {
        let door = door.lock().unwrap().clone();
        let mut save = || -> Option<()> {
            let state: Value = serde_json::from_str(&send(&door, &format!("GET /d/{id}/state"), "", "")?.body).ok()?;
            count += 1;
            done.tries.fetch_add(1, Ordering::Relaxed);
            let mark = format!("{own}{count}");
            let text = state["text"]
                .as_str()?
                .replace("# end of the file\n", &format!("  - mark {mark}\n# end of the file\n"));
            let base = state["base"].as_str()?;
            let body =
                json!({"of": state["live"]["digest"], "base": base, "n": count, "ops": [{"op": "text", "text": text}]})
                    .to_string();
            let edited = send(&door, &format!("POST /d/{id}/edit"), &body, "")?;
            if edited.status != 200 {
                return None;
            }
            let edited: Value = serde_json::from_str(&edited.body).ok()?;
            let body = json!({"of": edited["live"]["digest"]}).to_string();
            let base = edited["base"].as_str()?;
            let saved = send(&door, &format!("POST /d/{id}/save"), &body, &format!("If-Match: \"{base}\"\r\n"))?;
            match saved.status {
                200 => {
                    answered.push(mark);
                    done.saves.fetch_add(1, Ordering::Relaxed);
                }
                // The file was changed meanwhile: begin with it anew.
                412 => drop(send(&door, &format!("POST /d/{id}/discard"), "{}", "")),
                _ => {}
            }
            Some(())
        };
        if save().is_none() {
            std::thread::sleep(Duration::from_millis(5));
        }
    }
    answered
}

#[test]
fn no_answered_save_is_missing_and_none_is_torn() {
    let place = tempfile::tempdir().unwrap();
    let file: PathBuf = place.path().join("a.yaml");
    std::fs::write(&file, document("  - begun\n")).unwrap();
    let id = {
        use sha2::{Digest, Sha256};
        Sha256::digest(b"a.yaml").iter().map(|byte| format!("{byte:02x}")).collect::<String>()[..16].to_owned()
    };
    let door = Arc::new(Mutex::new(Door::default()));
    let ended = Arc::new(AtomicBool::new(false));
    let done = Arc::new(Done::default());
    let kept = Arc::new(Mutex::new(BTreeSet::new()));
    // What was put aside is gathered all the time: only the last fifty are kept.
    let gather = {
        let (ended, kept, history) =
            (Arc::clone(&ended), Arc::clone(&kept), place.path().join(".seamwright/history").join(&id));
        std::thread::spawn(move || {
            loop {
                let last = ended.load(Ordering::Relaxed);
                for entry in std::fs::read_dir(&history).into_iter().flatten().flatten() {
                    let name = entry.file_name().to_string_lossy().into_owned();
                    if !name.starts_with('.')
                        && let Ok(text) = std::fs::read_to_string(entry.path())
                    {
                        kept.lock().unwrap().insert(text);
                    }
                }
                if last {
                    return;
                }
                std::thread::sleep(Duration::from_millis(10));
            }
        })
    };
    let browsers: Vec<_> = ['x', 'y']
        .map(|own| {
            let (id, door, ended, done) = (id.clone(), Arc::clone(&door), Arc::clone(&ended), Arc::clone(&done));
            std::thread::spawn(move || browse(own, &id, &door, &ended, &done))
        })
        .into();
    let editor = {
        let (file, ended, done) = (file.clone(), Arc::clone(&ended), Arc::clone(&done));
        std::thread::spawn(move || {
            let mut count = 0;
            let mut tries = 0;
            while !ended.load(Ordering::Relaxed) {
                std::thread::sleep(Duration::from_millis(70));
                // On a busy machine it lets each browser try in between, or none would ever find the file as it left it.
                if done.tries.load(Ordering::Relaxed) < tries + 4 {
                    continue;
                }
                tries = done.tries.load(Ordering::Relaxed);
                count += 1;
                let text = std::fs::read_to_string(&file).unwrap();
                assert!(text.starts_with("format: 1\n") && text.ends_with("# end of the file\n"), "torn: {text}");
                // An editor writes its whole text; now and then it begins with little.
                let text = if count % 5 == 0 {
                    document("  - begun again\n")
                } else {
                    text.replace("# end of the file\n", &format!("  - mark e{count}\n# end of the file\n"))
                };
                let new = file.with_extension("new");
                std::fs::write(&new, text).unwrap();
                std::fs::rename(&new, &file).unwrap();
            }
        })
    };
    let begun = Instant::now();
    let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
    let mut kills = 0;
    // Eight seconds of it; on a busy machine, where few saves come through between two kills, until enough were answered.
    let enough = || done.saves.load(Ordering::Relaxed) > 10 || begun.elapsed() > Duration::from_mins(2);
    while begun.elapsed() < Duration::from_secs(8) || !enough() {
        let (mut child, page) = program(place.path());
        *door.lock().unwrap() = Door { host: page.host, cookie: page.cookie, token: page.token };
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        std::thread::sleep(Duration::from_millis(150 + seed % 500));
        child.kill().unwrap();
        child.wait().unwrap();
        kills += 1;
    }
    ended.store(true, Ordering::Relaxed);
    let answered: Vec<String> = browsers.into_iter().flat_map(|own| own.join().unwrap()).collect();
    editor.join().unwrap();
    gather.join().unwrap();
    let mut texts = kept.lock().unwrap().clone();
    texts.insert(std::fs::read_to_string(&file).unwrap());
    for text in &texts {
        assert!(text.starts_with("format: 1\n") && text.ends_with("# end of the file\n"), "torn: {text}");
    }
    for mark in &answered {
        let line = format!("  - mark {mark}\n");
        assert!(texts.iter().any(|text| text.contains(&line)), "the answered save {mark} is missing");
    }
    assert!(kills > 5 && answered.len() > 10, "{kills} kills, {} answered saves", answered.len());
    // What a killed run left half-written is swept away by the next.
    let (mut child, _) = program(place.path());
    let left = std::fs::read_dir(place.path())
        .unwrap()
        .flatten()
        .filter(|entry| entry.file_name().to_string_lossy().ends_with(".part"))
        .count();
    assert_eq!(left, 0);
    child.kill().unwrap();
    child.wait().unwrap();
}
