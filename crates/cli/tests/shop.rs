//! Documents held against a shop, lessons with what they name, and procedures found for a joint, as users meet them.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn seamwright(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_seamwright")).args(args).current_dir(root()).env("NO_COLOR", "1").output().unwrap()
}

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

#[test]
fn a_procedure_that_the_shop_can_weld_is_clean_and_names_the_machine() {
    let shop = "examples/shop/shop.yaml";
    let procedure = "procedures/lap-fillet-2-carbon-141.yaml";
    let output = seamwright(&["check", procedure, "--shop", shop]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(said(&output).contains("141 on AC/DC machine: DCEN, 70-90 A, duty cycle 100 %"), "{}", said(&output));
    let output = seamwright(&["check", procedure, "--shop", shop, "--format", "json"]);
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(report["files"][0]["machines"][0]["machine"], "AC/DC machine");
    assert_eq!(report["files"][0]["machines"][0]["duty_cycle"]["unit"], "%");
}

#[test]
fn a_procedure_that_no_machine_welds_is_an_error_once() {
    let output = seamwright(&[
        "check",
        "procedures/butt-10-s355-135.yaml",
        "--shop",
        "examples/shop/shop.yaml",
        "--format",
        "json",
    ]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    let unfit: Vec<&Value> = report["files"][0]["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|finding| finding["check"] == "machine-unfit")
        .collect();
    assert_eq!(unfit.len(), 1, "{unfit:#?}");
    assert_eq!(unfit[0]["message"], "no machine of the shop welds 135");
}

#[test]
fn a_shop_that_is_none_is_refused_with_its_file_and_place() {
    let folder = tempfile::tempdir().unwrap();
    let bare = folder.path().join("bare.yaml");
    let head = "format: 1\ndocument: shop\nidentification: {number: S-9, revision: 1, title: Trial}\n";
    fs::write(&bare, head).unwrap();
    let broken = folder.path().join("broken.yaml");
    fs::write(&broken, format!("{head}power_sources: [{{name: one, current: 10-160}}]\n")).unwrap();
    for (shop, texts) in [
        (bare.to_str().unwrap(), ["names no power source", "bare.yaml"]),
        (broken.to_str().unwrap(), ["broken.yaml:4:", "unit"]),
        ("procedures/butt-2-304l-141.yaml", ["a shop is meant", "procedure"]),
        ("nowhere.yaml", ["nowhere.yaml", "cannot be read"]),
    ] {
        let output = seamwright(&["check", "procedures/butt-2-304l-141.yaml", "--shop", shop]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        for text in texts {
            assert!(said(&output).contains(text), "{text:?} is not in:\n{}", said(&output));
        }
    }
}

#[test]
fn a_lesson_that_names_a_file_that_is_not_there_is_refused_at_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lesson.yaml");
    let head = "format: 1\ndocument: lesson\nidentification: {number: L-9, revision: 1, title: Trial}\n";
    fs::write(&path, format!("{head}procedure: gone.yaml\nlearners: 4\nduration: 2 h\n")).unwrap();
    let output = seamwright(&["check", path.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert!(said(&output).contains("lesson.yaml:4:12") && said(&output).contains("gone.yaml"), "{}", said(&output));
    fs::write(&path, format!("{head}procedure: gone.yaml\nlearners: -4\nduration: 2 h\n")).unwrap();
    let output = seamwright(&["check", path.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert!(said(&output).contains("lesson.yaml:5:"), "{}", said(&output));
}
