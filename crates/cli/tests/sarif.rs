//! `check --format sarif` against the JSON Schema of OASIS (see `data/README.md`).

use std::process::Command;

use serde_json::Value;

fn sarif(paths: &[&str]) -> (Option<i32>, Value) {
    let output = Command::new(env!("CARGO_BIN_EXE_seamwright"))
        .args(["check", "--format", "sarif"])
        .args(paths)
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
        .output()
        .unwrap();
    (output.status.code(), serde_json::from_slice(&output.stdout).unwrap())
}

fn valid(log: &Value) {
    let mut schema: Value = serde_json::from_str(include_str!("data/sarif-2.1.0.schema.json")).unwrap();
    // The published pattern of a language has a bracket that nothing opens, which a strict reader refuses; no language is
    // written here.
    for part in ["run", "toolComponent"] {
        schema["definitions"][part]["properties"]["language"].as_object_mut().unwrap().remove("pattern");
    }
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults: Vec<String> =
        validator.iter_errors(log).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn a_log_with_findings_is_valid_and_points_at_the_lines() {
    let file = "examples/submitted/submitted.yaml";
    let (code, log) = sarif(&[file]);
    assert_eq!(code, Some(1));
    valid(&log);
    let run = &log["runs"][0];
    let results = run["results"].as_array().unwrap();
    let rules = run["tool"]["driver"]["rules"].as_array().unwrap();
    assert!(!results.is_empty());
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/submitted/submitted.yaml"))
        .unwrap();
    for result in results {
        let rule = &rules[usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap()];
        assert_eq!(rule["id"], result["ruleId"]);
        assert!(rule["help"]["text"].as_str().unwrap().contains("What to do"));
        let place = &result["locations"][0]["physicalLocation"];
        assert_eq!(place["artifactLocation"]["uri"], file);
        let line = usize::try_from(place["region"]["startLine"].as_u64().unwrap()).unwrap();
        assert!(line >= 1 && line <= text.lines().count());
    }
}

/// Each finding by its check and words, with its fingerprint.
fn fingerprints(path: &str) -> std::collections::BTreeMap<(String, String), String> {
    let (_, log) = sarif(&[path]);
    let results = log["runs"][0]["results"].as_array().unwrap().clone();
    let text = |own: &Value| own.as_str().unwrap().to_owned();
    let one = |own: &Value| {
        let prints = own["partialFingerprints"].as_object().unwrap();
        assert_eq!(prints.len(), 1, "{own}");
        ((text(&own["ruleId"]), text(&own["message"]["text"])), text(prints.values().next().unwrap()))
    };
    results.iter().map(one).collect()
}

#[test]
fn a_fingerprint_stays_with_its_finding_when_lines_move() {
    let submitted = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/submitted/submitted.yaml");
    let text = std::fs::read_to_string(submitted).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("submitted.yaml");
    let path = path.to_str().unwrap();
    std::fs::write(path, &text).unwrap();
    let before = fingerprints(path);
    assert!(before.len() > 3);
    // Each finding has its own, and has it again the next time.
    let own: std::collections::BTreeSet<&String> = before.values().collect();
    assert_eq!(own.len(), before.len());
    assert_eq!(fingerprints(path), before);
    // A comment above moves every line, and no finding is another one for it.
    std::fs::write(path, format!("# one line more\n{text}")).unwrap();
    assert_eq!(fingerprints(path), before);
}

#[test]
fn a_clean_log_and_one_of_an_unreadable_file_are_valid() {
    let (code, clean) = sarif(&["procedures"]);
    assert_eq!(code, Some(0));
    valid(&clean);
    assert_eq!(clean["runs"][0]["invocations"][0]["executionSuccessful"], true);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("not a procedure ä.yaml");
    std::fs::write(&path, "format: 1\ndocument: procedure\ncurrent: [\n").unwrap();
    let (code, log) = sarif(&[path.to_str().unwrap()]);
    assert_eq!(code, Some(2));
    valid(&log);
    let result = &log["runs"][0]["results"][0];
    assert_eq!(result["ruleId"], "unreadable");
    let uri = result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"].as_str().unwrap();
    assert!(uri.starts_with("file:///") && uri.ends_with("not%20a%20procedure%20%C3%A4.yaml"), "{uri}");
}
