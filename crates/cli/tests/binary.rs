//! The binary as its users meet it: good input, bad input, exit status, and what is left on the disk.

mod common;

use std::fs;

use common::{messages, root, seamwright};
use serde_json::Value;

/// A procedure that is clean but for what a test puts in.
fn procedure(runs: &str) -> String {
    format!(
        "format: 1\ndocument: procedure\nidentification: {{number: P-9, revision: 1, title: Trial}}\nprocesses: {{141: {{polarity: DCEN}}}}\nruns:\n{runs}\n"
    )
}

/// Checks a file that cannot be read: its message, hint or place holds each of the texts, and the exit status is 2.
fn refused(name: &str, bytes: &[u8], texts: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    fs::write(&path, bytes).unwrap();
    let out = folder.path().join("sheets");
    for output in [
        seamwright(&["check", path.to_str().unwrap()]),
        seamwright(&["render", path.to_str().unwrap(), "--out", out.to_str().unwrap()]),
    ] {
        let said = messages(&output);
        assert_eq!(output.status.code(), Some(2), "{said}");
        for text in texts {
            assert!(said.contains(text), "{text:?} is not in:\n{said}");
        }
        assert!(!said.contains("panicked"), "{said}");
    }
    assert_eq!(fs::read_dir(&out).map_or(0, Iterator::count), 0, "a sheet was written of a file that cannot be read");
}

#[test]
fn the_starter_library_renders_and_gives_its_source_back() {
    let out = tempfile::tempdir().unwrap();
    let again = tempfile::tempdir().unwrap();
    for (folder, jobs) in [(&out, "1"), (&again, "2")] {
        let output = seamwright(&["render", "procedures", "--out", folder.path().to_str().unwrap(), "--jobs", jobs]);
        assert_eq!(output.status.code(), Some(0), "{}", messages(&output));
    }
    let mut count = 0;
    for entry in fs::read_dir(root().join("procedures")).unwrap() {
        let source = entry.unwrap().path();
        let stem = source.file_stem().unwrap().to_str().unwrap();
        let text = fs::read_to_string(&source).unwrap();
        let pdf = fs::read(out.path().join(format!("{stem}.pdf"))).unwrap();
        let html = fs::read_to_string(out.path().join(format!("{stem}.html"))).unwrap();
        assert_eq!(seamwright_page::pdf::source_of(&pdf).unwrap().text, text);
        assert_eq!(seamwright_page::html::source_of(&html).unwrap().text, text);
        assert_eq!(fs::read(again.path().join(format!("{stem}.pdf"))).unwrap(), pdf, "{stem}: other bytes");
        assert_eq!(fs::read_to_string(again.path().join(format!("{stem}.html"))).unwrap(), html, "{stem}: other bytes");
        // What arrives as a sheet is checked from the source inside it.
        let sheet = out.path().join(format!("{stem}.pdf"));
        assert_eq!(seamwright(&["check", sheet.to_str().unwrap()]).status.code(), Some(0));
        count += 1;
    }
    assert!(count >= 6);
    // The two formats of each, and the index.
    assert_eq!(fs::read_dir(out.path()).unwrap().count(), 2 * count + 1);
    let index = fs::read_to_string(out.path().join("index.html")).unwrap();
    assert_eq!(index.matches("as a page").count(), count);
}

#[test]
fn the_submitted_procedure_has_its_faults_with_place_limit_and_source() {
    let output = seamwright(&["check", "--format", "json", "examples/submitted"]);
    assert_eq!(output.status.code(), Some(1));
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    let findings = report["files"][0]["findings"].as_array().unwrap();
    let whole = findings
        .iter()
        .filter(|finding| {
            finding["line"].is_u64()
                && finding["column"].is_u64()
                && finding["stated"].is_string()
                && finding["limit"].is_string()
                && finding["source"]["title"].is_string()
        })
        .count();
    assert!(whole >= 10, "{whole}");
    assert_eq!(report["files"][0]["number"], "X-104");
    assert!(report["errors"].as_u64().unwrap() >= 10);
    let current = findings.iter().find(|finding| finding["check"] == "tungsten-current-above-range").unwrap();
    assert_eq!(current["pointer"], "/runs/0/current");
    assert_eq!(current["stated"], "190-220 A");
}

#[test]
fn what_cannot_be_read_is_said_with_place_and_hint() {
    let run = |rest: &str| procedure(&format!("- {{run: 1, process: 141, {rest}}}"));
    refused("mm.yaml", run("current: 90 mm").as_bytes(), &["mm.yaml:6:", "`90 mm` is a length", "90 A"]);
    refused("fall.yaml", run("current: 120-90 A").as_bytes(), &["fall.yaml:6:", "120-90 A"]);
    refused("comma.yaml", run("current: '2,5 A'").as_bytes(), &["comma.yaml:6:", "2.5 A"]);
    refused("bare.yaml", run("current: 90").as_bytes(), &["bare.yaml:6:", "unit", "90 A"]);
    refused("unit.yaml", run("current: 90 furlong").as_bytes(), &["unit.yaml:6:", "furlong"]);
    refused("nan.yaml", run("current: .nan").as_bytes(), &["nan.yaml:6:", ".nan"]);
    refused("key.yaml", run("currant: 90 A").as_bytes(), &["key.yaml:6:", "`currant`", "`current`"]);
    refused("twice.yaml", b"format: 1\nformat: 1\ndocument: procedure\n", &["twice.yaml:2:1", "`format` stands twice"]);
    refused("two.yaml", b"format: 1\n---\nformat: 1\n", &["second document"]);
    refused("empty.yaml", b"", &["empty"]);
    refused("binary.yaml", &[0, 159, 146, 150, 255], &["not text"]);
    refused("newer.yaml", b"format: 2\ndocument: procedure\n", &["format 2", "newer.yaml:1:"]);
    refused("kind.yaml", b"format: 1\ndocument: recipe\n", &["`recipe`", "document: procedure"]);
    let valued = |rest: &str| format!("{}{rest}\n", procedure("- {run: 1, process: 141}"));
    refused("list.yaml", valued("weld_size: []").as_bytes(), &["list.yaml:7:", "`weld_size` is a list"]);
    refused("hollow.yaml", valued("weld_size: {leg: }").as_bytes(), &["hollow.yaml:7:", "`leg` is empty"]);
    refused("broken.yaml", b"format: 1\ndocument: [procedure\nx: 1\n", &["well-formed"]);
    refused("big.yaml", &vec![b'#'; (1 << 20) + 1], &["1 MiB"]);
    refused(
        "deep.yaml",
        format!("format: 1\ndocument: procedure\nnotes: {}", "[".repeat(100_000)).as_bytes(),
        &["deep"],
    );
    let nested =
        |depth: usize| format!("format: 1\ndocument: procedure\nnotes: {}{}\n", "[".repeat(depth), "]".repeat(depth));
    refused("deeper.yaml", nested(33).as_bytes(), &["deep"]);
    let bomb = (0..30).fold("format: 1\ndocument: procedure\na0: &a0 [x, x]\n".to_owned(), |text, n| {
        let next = n + 1;
        format!("{text}a{next}: &a{next} [*a{n}, *a{n}, *a{n}]\n")
    });
    refused("bomb.yaml", bomb.as_bytes(), &["aliases"]);
    let titled = |title: &str| procedure("- {run: 1, process: 141}").replace("Trial", title);
    refused("emoji.yaml", titled("Weld \u{1F525}").as_bytes(), &["emoji.yaml:3:", "U+1F525"]);
    refused("hebrew.yaml", titled("\u{5E8}\u{5EA}\u{5DA}").as_bytes(), &["hebrew.yaml:3:", "U+05"]);
}

#[test]
fn every_fault_of_a_file_is_reported_at_once() {
    let text = procedure("- {run: 1, process: 141, current: 90, voltage: 12 A, polarity: minus-ish}");
    refused("three.yaml", text.as_bytes(), &["has no unit", "`12 A` is a current", "`minus-ish`"]);
}

#[test]
fn a_bad_file_does_not_stop_the_others() {
    let folder = tempfile::tempdir().unwrap();
    let out = tempfile::tempdir().unwrap();
    let good = root().join("procedures/lap-fillet-2-carbon-141.yaml");
    fs::copy(good, folder.path().join("good.yaml")).unwrap();
    fs::write(folder.path().join("bad.yaml"), "format: 9\n").unwrap();
    let output =
        seamwright(&["render", folder.path().to_str().unwrap(), "--out", out.path().to_str().unwrap(), "--to", "html"]);
    assert_eq!(output.status.code(), Some(2), "{}", messages(&output));
    let mut names: Vec<_> = fs::read_dir(out.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    names.sort();
    assert_eq!(names, ["good.html", "index.html"]);
}

#[test]
fn paths_that_lead_nowhere_are_said_so() {
    let folder = tempfile::tempdir().unwrap();
    let output = seamwright(&["check", folder.path().to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(messages(&output).contains("no *.yaml file"), "{}", messages(&output));
    let output = seamwright(&["check", "no-such-file.yaml"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(messages(&output).contains("no-such-file.yaml"), "{}", messages(&output));
    let file = folder.path().join("file");
    fs::write(&file, "kept").unwrap();
    let output = seamwright(&["render", "procedures", "--out", file.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2), "{}", messages(&output));
    assert_eq!(fs::read_to_string(&file).unwrap(), "kept");
}

#[test]
fn text_from_the_file_cannot_leave_its_place_on_the_page() {
    let folder = tempfile::tempdir().unwrap();
    let text = procedure("- {run: 1, process: 141}").replace("Trial", "\"<script>alert(1)</script> {{ 7*7 }}\"");
    fs::write(folder.path().join("x.yaml"), &text).unwrap();
    let path = folder.path().join("x.yaml");
    seamwright(&["render", path.to_str().unwrap(), "--out", folder.path().to_str().unwrap(), "--to", "html"]);
    let html = fs::read_to_string(folder.path().join("x.html")).unwrap();
    assert!(!html.contains("<script>alert"), "the title runs as a script");
    assert!(html.contains("{{ 7*7 }}") && !html.contains(">49<"));
    assert_eq!(seamwright_page::html::source_of(&html).unwrap().text, text);
}

#[test]
fn words_that_yaml_could_change_stay_as_written() {
    let text = procedure("- {run: 1, process: '141'}")
        .replace("number: P-9", "number: 012")
        .replace("revision: 1,", "revision: 1_000,")
        .replace("title: Trial", "title: no")
        + "positions: [1G]\nnotes: [\"007\", 1.50]\n";
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("x.yaml");
    fs::write(&path, text).unwrap();
    let output = seamwright(&["check", "--format", "json", path.to_str().unwrap()]);
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(report["files"][0]["number"], "012");
    seamwright(&["render", path.to_str().unwrap(), "--out", folder.path().to_str().unwrap(), "--to", "html"]);
    let html = fs::read_to_string(folder.path().join("x.html")).unwrap();
    for written in ["1_000", ">no<", "1G", "007", "1.50"] {
        assert!(html.contains(written), "{written}");
    }
}

#[test]
fn a_deviation_is_printed_and_never_silent() {
    let good = fs::read_to_string(root().join("procedures/butt-2-304l-141.yaml")).unwrap();
    let hot = good.replace("interpass: 150 °C maximum", "interpass: 170 °C maximum");
    let waived = format!(
        "{hot}\ndeviations:\n  - {{check: interpass-above-usual, at: /temperatures/interpass, reason: trial on scrap, by: M. Okafor, date: 2026-02-20}}\n"
    );
    let folder = tempfile::tempdir().unwrap();
    for (name, text, code) in [("hot.yaml", &hot, 1), ("waived.yaml", &waived, 0)] {
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        let output = seamwright(&["check", "--deny", "cautions", path.to_str().unwrap()]);
        assert_eq!(output.status.code(), Some(code), "{}", messages(&output));
    }
    let path = folder.path().join("waived.yaml");
    seamwright(&["render", path.to_str().unwrap(), "--out", folder.path().to_str().unwrap(), "--to", "html"]);
    assert!(fs::read_to_string(folder.path().join("waived.html")).unwrap().contains("trial on scrap"));
}

#[test]
fn a_route_that_needs_a_record_is_stamped_without_one() {
    let folder = tempfile::tempdir().unwrap();
    for (file, text, stamped) in [
        ("record.yaml", "qualification: {route: test-record, code: iso-15614-1}", true),
        ("named.yaml", "qualification: {route: test-record, records: [T-1]}", false),
        ("prequalified.yaml", "qualification: {route: prequalified, code: aws-d1.1}", false),
    ] {
        let path = folder.path().join(file);
        fs::write(&path, format!("{}{text}\n", procedure("- {run: 1, process: 141}"))).unwrap();
        seamwright(&["render", path.to_str().unwrap(), "--out", folder.path().to_str().unwrap(), "--to", "html"]);
        let html = fs::read_to_string(path.with_extension("html")).unwrap();
        assert_eq!(html.contains("NOT QUALIFIED"), stamped, "{file}");
    }
}

#[test]
fn every_check_and_table_explains_itself() {
    for rule in seamwright_check::rules::RULES {
        let output = seamwright(&["explain", rule.name]);
        assert_eq!(output.status.code(), Some(0));
        let text = String::from_utf8(output.stdout).unwrap();
        for heading in ["What it finds", "Why it matters", "What to do", "Limit and source"] {
            assert!(text.contains(heading), "{}: {heading}", rule.name);
        }
    }
    for info in seamwright_handbook::TABLES {
        let output = seamwright(&["table", info.name()]);
        assert_eq!(output.status.code(), Some(0));
        assert!(String::from_utf8(output.stdout).unwrap().contains("Sources"));
    }
    let output = seamwright(&["explain", "tungsten-curent"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(messages(&output).contains("tungsten-current"));
}

#[test]
fn a_check_shows_the_rows_of_its_tables() {
    for one in seamwright_check::explanations() {
        let output = seamwright(&["explain", one.name, "--format", "json"]);
        let value: Value = serde_json::from_slice(&output.stdout).unwrap();
        let tables = value["tables"].as_array().unwrap();
        assert_eq!(tables.len(), one.tables.len(), "{}", one.name);
        assert!(tables.iter().all(|table| !table["rows"].as_array().unwrap().is_empty()), "{}", one.name);
    }
    let text = String::from_utf8(seamwright(&["explain", "interpass-above-usual"]).stdout).unwrap();
    assert!(text.contains("austenitic") && text.contains("seamwright table interpass-temperature"), "{text}");
}

// Root gap is root opening in AWS A3.0; ISO 15609-1:2019 4.5.3 asks process 13 for its mode of transfer.
#[test]
fn every_key_explains_itself() {
    for row in seamwright_handbook::variables::rows() {
        let output = seamwright(&["explain", row.key, "--format", "json"]);
        let value: Value = serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", row.key));
        assert_eq!(value["keys"][0]["key"], row.key);
    }
    let text = |name| String::from_utf8(seamwright(&["explain", name]).stdout).unwrap();
    assert!(text("root_gap").contains("AWS A3.0: Root opening"));
    assert!(text("transfer mode").contains("4.5.3: mode of transfer"));
    let preheating = text("preheating");
    for line in ["8.4.8: preheating temperature, essential", "QW-406.1: preheat lower by more than 55 °C, essential"] {
        assert!(preheating.contains(line), "{preheating}");
    }
    let output = seamwright(&["explain", "transfer_mod"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(messages(&output).contains("transfer_mode"));
}

// That the schema and the types agree is tested in `tests/tests/schema.rs`.
#[test]
fn the_schema_is_json_schema_2020_12() {
    let output = seamwright(&["schema"]);
    assert_eq!(output.status.code(), Some(0));
    let schema: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
}

#[test]
fn every_key_of_every_kind_of_document_is_explained() {
    fn names(at: &serde_json::Value, found: &mut std::collections::BTreeSet<String>) {
        if let Some(own) = at.get("properties").and_then(serde_json::Value::as_object) {
            found.extend(own.keys().cloned());
        }
        match at {
            serde_json::Value::Object(own) => own.values().for_each(|own| names(own, found)),
            serde_json::Value::Array(own) => own.iter().for_each(|own| names(own, found)),
            _ => {}
        }
    }
    let mut all = std::collections::BTreeSet::new();
    for kind in ["shop", "test-record", "lesson", "job"] {
        names(seamwright_model::document::schema_of(kind), &mut all);
    }
    assert!(all.contains("power_sources") && all.contains("learners") && all.len() > 100, "{all:?}");
    let silent: Vec<&String> = all.iter().filter(|name| !seamwright(&["explain", name]).status.success()).collect();
    assert!(silent.is_empty(), "{silent:?}");
}
