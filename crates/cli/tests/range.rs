//! `range`, and `check` against records and a shop, as their users meet them: output, exit status and clear refusals.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

const CASE: &str = "examples/inspection";

fn seamwright(args: &[&str]) -> Output {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    Command::new(env!("CARGO_BIN_EXE_seamwright")).args(args).current_dir(root).env("NO_COLOR", "1").output().unwrap()
}

fn messages(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn json(args: &[&str]) -> Value {
    let output = seamwright(args);
    assert_eq!(output.status.code(), Some(0), "{}", messages(&output));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// ASME IX QW-451.1 (from memory): 10.97 mm covers 5 mm to twice itself; each deposit covers twice itself.
#[test]
fn ranges_are_printed_as_json_with_reference_and_basis() {
    let found = json(&["range", &format!("{CASE}/record-asme.yaml"), "--code", "asme-ix", "--format", "json"]);
    assert_eq!(found["code"], "asme-ix");
    let of = |variable: &str, process: Option<&str>| {
        let list = found["ranges"].as_array().unwrap();
        list.iter().find(|one| one["variable"] == variable && one["process"].as_str() == process).unwrap().clone()
    };
    let thickness = of("base_metal_thickness", None);
    assert_eq!((&thickness["reference"], &thickness["basis"]), (&"QW-451.1".into(), &"from-memory".into()));
    assert_eq!(thickness["low"], serde_json::json!({"value": 5.0, "unit": "mm"}));
    assert_eq!(thickness["high"], serde_json::json!({"value": 21.94, "unit": "mm"}));
    assert_eq!(of("deposit_thickness", Some("GTAW"))["high"]["value"], 7.0);
    assert_eq!(of("deposit_thickness", Some("SMAW"))["high"]["value"], 15.0);
    assert!(of("deposit_thickness", Some("GTAW"))["low"].is_null());
}

#[test]
fn ranges_are_printed_for_people_and_for_welders() {
    let output = seamwright(&["range", &format!("{CASE}/record-iso.yaml")]);
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(
        text.contains("3-11 mm") && text.contains("Table 7") && text.contains("verify against your edition"),
        "{text}"
    );
    let welders = json(&["range", "examples/shop/shop.yaml", "--format", "json"]);
    assert_eq!(welders["welders"].as_array().unwrap().len(), 3);
    assert!(welders["ranges"].as_array().unwrap().iter().all(|range| range["welder"].is_string()));
    let one = json(&["range", "examples/shop/shop.yaml", "--code", "iso-9606-1", "--format", "json"]);
    assert_eq!(one["welders"].as_array().unwrap().len(), 2);
}

#[test]
fn a_procedure_is_held_against_its_record() {
    let record = format!("{CASE}/record-iso.yaml");
    let sound = seamwright(&["check", &format!("{CASE}/procedure.yaml"), "--record", &record]);
    assert_eq!(sound.status.code(), Some(0), "{}", messages(&sound));
    let outside = seamwright(&["check", &format!("{CASE}/procedure-revision-2.yaml"), "--record", &record]);
    assert_eq!(outside.status.code(), Some(1));
    let said = messages(&outside);
    assert!(said.contains("3-14 mm lies outside what T-009 qualifies: 3-11 mm (ISO 15614-1 Table 7)"), "{said}");
    assert!(said.contains("8.4.9") && said.contains("verify against your edition"), "{said}");
}

#[test]
fn records_that_do_not_belong_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../{CASE}/record-iso.yaml")))
        .unwrap();
    let edited = |name: &str, from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        let path = folder.path().join(name);
        fs::write(&path, text.replacen(from, to, 1)).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let procedure = format!("{CASE}/procedure.yaml");
    let iso = format!("{CASE}/record-iso.yaml");
    let asme = format!("{CASE}/record-asme.yaml");
    let other = edited("other.yaml", "number: T-009", "number: T-010");
    let bare = edited("bare.yaml", "    thickness: 5.5 mm\n", "");
    let thick = edited("thick.yaml", "deposit_thickness: 3 mm", "deposit_thickness: 6 mm");
    for (args, text) in [
        (vec!["check", &procedure, "--record", &asme], "T-030 is a record of ASME IX, and P-021 is under ISO 15614-1"),
        (vec!["check", &procedure, "--record", &other], "T-010 is not among the records of P-021"),
        (vec!["check", &procedure, "--record", &bare], "thickness of P235GH is missing"),
        (vec!["check", &procedure, "--record", &procedure], "this is a procedure, and a test-record is meant"),
        (vec!["check", &procedure, "--record", "nowhere.yaml"], "cannot be read"),
        (
            vec!["check", &procedure, "--record", &iso, "--code", "asme-ix"],
            "T-009 is a record of ISO 15614-1, not of ASME IX",
        ),
        (vec!["check", &procedure, "--code", "din-4711", "--record", &iso], "is not a word for code"),
        (vec!["range", &iso, "--code", "asme-ix"], "T-009 is a record of ISO 15614-1, not of ASME IX"),
        (vec!["range", &iso, &asme], "ranges of two codes do not combine"),
        (vec!["range", &thick], "contradicts itself"),
        (vec!["range", &bare, "--format", "json"], "thickness of P235GH is missing"),
        (vec!["range", &procedure], "a test-record is meant"),
        (vec!["range", "examples/shop/shop.yaml", "--code", "aws-d1.1"], "no ranges of welders for AWS D1.1"),
    ] {
        let output = seamwright(&args);
        let said = messages(&output);
        assert_eq!(output.status.code(), Some(2), "{args:?}: {said}");
        assert!(said.contains(text), "{args:?}: {text:?} is not in\n{said}");
        assert!(output.stdout.is_empty() && !said.contains("panicked"), "{args:?}: {said}");
    }
}

#[test]
fn every_fault_planted_in_the_faulty_record_is_found() {
    let output = seamwright(&["check", &format!("{CASE}/faulty-record.yaml")]);
    assert_eq!(output.status.code(), Some(1));
    let said = messages(&output);
    for name in [
        "coupon-test-missing",
        "heat-input-above-runs",
        "measured-value-missing",
        "result-contradicts-requirement",
        "thickness-contradicts-deposits",
    ] {
        assert!(said.contains(name), "{name} is not in\n{said}");
    }
}

#[test]
fn the_welders_of_a_shop_are_told_for_a_procedure() {
    let output = seamwright(&["check", &format!("{CASE}/procedure.yaml"), "--shop", "examples/shop/shop.yaml"]);
    let said = messages(&output);
    assert!(said.contains("no welder of the shop is qualified for 111"), "{said}");
    assert!(said.contains("position PH"), "{said}");
}
