//! What commands print as JSON: it says its version, the program and the command, and is as its schema says.

mod common;

use common::seamwright;
use serde_json::Value;

fn schema(command: &str) -> Value {
    let output = seamwright(&["schema", command]);
    assert_eq!(output.status.code(), Some(0), "{command}");
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn every_answer_is_as_its_schema_says() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    seamwright(&["render", "procedures/butt-3-carbon-141.yaml", "--out", out]);
    let [pdf, page] = ["pdf", "html"].map(|ending| format!("{out}/butt-3-carbon-141.{ending}"));
    let changed = format!("{out}/changed.html");
    std::fs::write(&changed, std::fs::read_to_string(&page).unwrap().replacen("deg", "grad", 1)).unwrap();
    let (record, shop) = ("examples/inspection/record-iso.yaml", "examples/shop/shop.yaml");
    let (old, new) = ("examples/inspection/procedure.yaml", "examples/inspection/procedure-revision-2.yaml");
    let cases: Vec<Vec<&str>> = vec![
        vec!["check", "procedures", "examples/submitted", "--shop", shop],
        vec!["check", old, "--record", record, "--completeness"],
        vec!["check", &pdf, &page, &changed, "nowhere.yaml", "examples/inspection/faulty-record.yaml"],
        vec!["check", "examples/lesson/lesson.yaml", "examples/shop/shop.yaml"],
        vec!["compare", old, new],
        vec!["compare", old, old],
        vec!["find", "--metal", "S355J2", "--thickness", "8 mm", "--joint", "tee", "--all", "procedures"],
        vec!["range", record],
        vec!["range", "examples/inspection/record-asme.yaml"],
        vec!["range", shop],
        vec!["estimate", "procedures", "--length", "2.4 m", "--shop", shop],
        vec!["estimate", "procedures/butt-3-carbon-141.yaml", "--length", "2.4 m"],
        vec!["table"],
        vec!["table", "tungsten-current"],
        vec!["explain"],
        vec!["explain", "tungsten-current-above-range"],
        vec!["explain", "travel_speed"],
        vec!["explain", "304L"],
        vec!["explain", "DCEN"],
        vec!["explain", "power_sources"],
        vec![
            "calc",
            "heat-input",
            "--process",
            "141",
            "--voltage",
            "11 V",
            "--current",
            "120 A",
            "--travel-speed",
            "90 mm/min",
        ],
        vec!["calc", "throat", "--leg", "6 mm"],
    ];
    for mut arguments in cases {
        arguments.extend(["--format", "json"]);
        let output = seamwright(&arguments);
        let answer: Value =
            serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{arguments:?}: {error}"));
        assert_eq!(answer["json_format"], 1, "{arguments:?}");
        assert_eq!(answer["command"], arguments[0]);
        assert_eq!(answer["program"]["name"], "Seamwright");
        let version = answer["program"]["version"].as_str().unwrap();
        assert!(version.starts_with(&format!("{}+", env!("CARGO_PKG_VERSION"))), "{version}");
        let validator = jsonschema::validator_for(&schema(arguments[0])).unwrap();
        let faults: Vec<String> =
            validator.iter_errors(&answer).map(|error| format!("{}: {error:.200}", error.instance_path())).collect();
        assert!(faults.is_empty(), "{arguments:?}: {faults:#?}");
    }
    assert_eq!(seamwright(&["schema", "render"]).status.code(), Some(2));
}

#[test]
fn limits_stand_as_numbers_beside_their_text_and_a_clause_is_a_clause() {
    let output = seamwright(&["check", "--format", "json", "examples/submitted"]);
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    let findings = answer["files"][0]["findings"].as_array().unwrap();
    let (mut numbers, mut others) = (0, 0);
    for finding in findings {
        let limits = &finding["limits"];
        if let Some(text) = finding["limit"].as_str().filter(|_| !limits.is_null()) {
            numbers += 1;
            let ends: Vec<f64> = ["low", "high"].iter().filter_map(|end| limits[end].as_f64()).collect();
            assert!(!ends.is_empty(), "{text}: {limits}");
            let unit = limits["unit"].as_str().unwrap();
            assert!(text.contains(unit), "{text}: {limits}");
        }
        let clause = finding["source"]["clause"].as_str().unwrap_or_default();
        assert!(!clause.contains("more source"), "{clause}");
        others += usize::from(finding["source"]["others"].as_u64().is_some());
    }
    assert!(numbers > 3 && others > 0, "{numbers} limits as numbers, {others} of several sources");
}

#[test]
fn lines_fit_sixty_columns() {
    for arguments in [
        &["check", "examples/submitted"][..],
        &["check", "procedures/butt-3-carbon-141.yaml", "--completeness"],
        &["table"],
        &["table", "tungsten-current"],
        &["range", "examples/inspection/record-iso.yaml"],
    ] {
        let output = common::command(arguments).env("COLUMNS", "60").output().unwrap();
        let text = String::from_utf8(output.stdout).unwrap();
        assert!(!text.is_empty());
        for line in text.lines() {
            // A word that is longer than a line, such as the name of a file, stays whole.
            let longest = line.split_whitespace().map(|word| word.chars().count()).max().unwrap_or(0);
            assert!(line.chars().count() <= 60 || longest > 40, "{arguments:?}: {line}");
        }
    }
}

#[test]
fn doubts_of_a_table_are_told_once() {
    let output = common::command(&["table", "spray-transition"]).env("COLUMNS", "200").output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert_eq!(text.matches("Doubts").count(), 1, "{text}");
    assert_eq!(text.matches("remembered with low certainty").count(), 1, "{text}");
    assert!(text.contains("carbon-steel, 0.9, 85Ar-15CO2; carbon-steel, 1.2, 85Ar-15CO2"), "{text}");
}
