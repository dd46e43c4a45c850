//! What the page may take: the time of an answer, the weight of a page, the memory of a folder.
//!
//! Times hold for the program as it is handed out and are asserted there; a build for debugging tells some of them:
//! `cargo test --release -p seamwright-serve --test budget -- --nocapture --test-threads=1`.

mod common;

use std::time::{Duration, Instant};

use common::{Page, page};
use serde_json::json;

fn starter(name: &str) -> String {
    std::fs::read_to_string(format!("{}/../../procedures/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

/// Tells a time, and holds it to its limit where the program is built as it is handed out.
fn hold(what: &str, took: Duration, most: Duration) {
    println!("{what}: {took:.1?} of {most:.0?}");
    assert!(cfg!(debug_assertions) || took <= most, "{what}: {took:?}");
}

/// Processor time of this process so far: it is the same where other programs take their share of the machine.
#[cfg(target_os = "linux")]
fn processor_time() -> Duration {
    let status = std::fs::read_to_string("/proc/self/stat").unwrap();
    let fields: Vec<&str> = status.rsplit(") ").next().unwrap().split(' ').collect();
    let ticks: u64 = fields[11].parse::<u64>().unwrap() + fields[12].parse::<u64>().unwrap();
    // A tick is 10 ms on every Linux.
    Duration::from_millis(ticks * 10)
}

#[cfg(not(target_os = "linux"))]
fn processor_time() -> Duration {
    Duration::ZERO
}

/// The 95th percentile of the answers to a key in a field, with the sheet beside it; each value is new to the page.
fn answers(page: &Page, id: &str, at: &str, value: impl Fn(usize) -> String) -> Duration {
    let mut state = page.state(id);
    let worked = processor_time();
    let mut took: Vec<Duration> = (0..40)
        .map(|turn| {
            // As the page asks: with the fields that it shows, and the sheet beside them.
            let body = json!({"of": state["live"]["digest"], "base": state["base"], "n": turn, "sheet": "kind=procedure",
                "shape": state["shape"].as_str().unwrap_or_default(), "ops": [{"op": "type", "at": at, "text": value(turn)}]});
            let begun = Instant::now();
            let answer = page.post(&format!("/d/{id}/edit"), &body);
            let took = begun.elapsed();
            assert_eq!(answer.status, 200, "{answer:?}");
            state = answer.json();
            took
        })
        .collect();
    let worked = processor_time().saturating_sub(worked) / u32::try_from(took.len()).unwrap();
    took.sort();
    println!("{at}: half of the answers in {:.1?}, processor time {worked:.1?} each", took[took.len() / 2]);
    took[took.len() * 95 / 100 - 1]
}

/// Runs of the long procedure.
const RUNS: usize = 200;

/// Most runs of which each has its bead in the drawing.
const DRAWN: usize = 80;

/// A procedure of as many runs as are asked for, all like the only one of a starter.
fn long(runs: usize) -> String {
    let one = starter("lap-fillet-2-carbon-141.yaml");
    let (head, run) = one.split_once("\nruns:\n").unwrap();
    let end = run.lines().take_while(|line| line.starts_with("  ")).map(|line| line.len() + 1).sum();
    let (run, rest) = run.split_at(end);
    let numbered = |number: usize| run.replacen("run: 1", &format!("run: {number}"), 1);
    format!("{head}\nruns:\n{}{rest}", (1..=runs).map(numbered).collect::<String>())
}

#[test]
#[cfg_attr(debug_assertions, ignore = "times hold for the program as it is handed out")]
fn an_answer_to_a_key_comes_at_once() {
    let page = page(&[("a.yaml", &starter("lap-fillet-2-carbon-141.yaml")), ("b.yaml", &long(RUNS))]);
    let own = answers(&page, &page.id("a.yaml"), "/runs/0/current", |turn| format!("{}-90 A", 40 + turn));
    hold("an answer for one run, with its sheet", own, Duration::from_millis(20));
    let id = page.id("b.yaml");
    assert_eq!(page.state(&id)["live"]["figures"].as_array().unwrap().len(), RUNS);
    let own = answers(&page, &id, "/runs/7/current", |turn| format!("{}-130 A", 80 + turn));
    hold(&format!("an answer for {RUNS} runs, with its sheet"), own, Duration::from_millis(50));
}

#[test]
#[cfg_attr(debug_assertions, ignore = "times hold for the program as it is handed out")]
fn an_answer_that_draws_the_joint_anew_comes_at_once() {
    let page = page(&[("a.yaml", &long(1)), ("b.yaml", &long(DRAWN)), ("c.yaml", &long(RUNS))]);
    for (name, runs, most) in [("a.yaml", 1, 20), ("b.yaml", DRAWN, 50), ("c.yaml", RUNS, 50)] {
        let own = answers(&page, &page.id(name), "/weld_size/leg", |turn| format!("2.{:02} mm", 10 + turn));
        hold(&format!("an answer for {runs} runs that are drawn anew"), own, Duration::from_millis(most));
    }
}

#[test]
fn a_long_folder_is_listed_at_once_and_fits_in_memory() {
    let one = starter("lap-fillet-2-carbon-141.yaml");
    let files: Vec<(String, String)> = (0..1000)
        .map(|number| (format!("p-{number:04}.yaml"), one.replace("P-001", &format!("P-{number:04}"))))
        .collect();
    let half: Vec<(&str, &str)> = files.iter().take(500).map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let begun = Instant::now();
    let folder = page(&half);
    hold("500 documents listed for the first time", begun.elapsed(), Duration::from_secs(2));
    let begun = Instant::now();
    assert_eq!(folder.get("/rows").json().as_array().unwrap().len(), 500);
    hold("500 documents listed", begun.elapsed(), Duration::from_millis(200));
    for (name, text) in files.iter().skip(500) {
        std::fs::write(folder.folder.join(name), text).unwrap();
    }
    assert_eq!(folder.get("/rows").json().as_array().unwrap().len(), 1000);
    #[cfg(target_os = "linux")]
    {
        let status = std::fs::read_to_string("/proc/self/status").unwrap();
        let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:")).unwrap();
        let kib: u64 = line.trim().trim_end_matches(" kB").parse().unwrap();
        println!("memory with 1,000 documents and this test: {} MiB of 100 MiB", kib >> 10);
        assert!(cfg!(debug_assertions) || kib < 100 << 10, "{kib} KiB");
    }
}

#[test]
fn the_program_begins_at_once() {
    let place = tempfile::tempdir().unwrap();
    let begun = Instant::now();
    let running = seamwright_serve::start(&common::options(place.path())).unwrap();
    hold("started", begun.elapsed(), Duration::from_millis(50));
    drop(running);
}

#[test]
fn a_page_that_fills_a_form_is_light() {
    let page = page(&[("a.yaml", &starter("lap-fillet-2-carbon-141.yaml"))]);
    let shared = ["/static/serve.css", "/static/page.js", "/static/idiomorph.js", "/static/icon.svg"];
    let shared: usize = shared.iter().map(|path| page.get(path).body.len()).sum();
    for path in ["/", "/new", "/job", "/shop", "/print", "/compare", "/bench"] {
        let own = page.get(path);
        let bytes = own.body.len() + shared;
        println!("{path}: {} kB of 100 kB", bytes / 1000);
        assert!(bytes < 100_000 && !own.body.contains("editor.js"), "{path}: {bytes} bytes");
    }
}
