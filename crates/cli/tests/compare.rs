//! `compare` as its users meet it: text, JSON, exit status, and what cannot be compared.

mod common;

use common::seamwright;
use serde_json::Value;

const OLD: &str = "examples/inspection/procedure.yaml";
const NEW: &str = "examples/inspection/procedure-revision-2.yaml";

#[test]
fn the_second_revision_is_judged_and_the_exit_status_follows() {
    let output = seamwright(&["compare", OLD, NEW, "--format", "json"]);
    let whole: Value = serde_json::from_slice(&output.stdout).unwrap();
    let needed = whole["new_test_needed"].as_bool().unwrap();
    assert_eq!(output.status.code(), Some(i32::from(needed)), "{whole:#}");
    let changes = whole["changes"].as_array().unwrap();
    assert!(!changes.is_empty());
    let of = |meaning: &str| changes.iter().filter(|change| change["meaning"] == meaning).count();
    assert_eq!(whole["essential"], of("essential"));
    assert_eq!(whole["editorial"], of("editorial"));
    let text = String::from_utf8(seamwright(&["compare", OLD, NEW]).stdout).unwrap();
    for change in changes {
        assert!(text.contains(change["pointer"].as_str().unwrap()), "{text}");
    }
    assert!(text.contains(whole["verdict"].as_str().unwrap()), "{text}");
}

#[test]
fn a_file_against_itself_has_no_change() {
    let output = seamwright(&["compare", OLD, OLD]);
    assert_eq!(output.status.code(), Some(0));
    assert!(String::from_utf8_lossy(&output.stdout).contains("no change"));
}

#[test]
fn what_cannot_be_compared_is_refused() {
    for (args, reason) in [
        ([OLD, "procedures/butt-3-carbon-141.yaml"], "two revisions of one"),
        ([OLD, "examples/inspection/record-iso.yaml"], "cannot be compared"),
        ([OLD, "examples/inspection/absent.yaml"], "absent.yaml"),
    ] {
        let output = seamwright(&["compare", args[0], args[1]]);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{args:?}: {said}");
        assert!(said.contains(reason), "{said}");
        assert!(output.stdout.is_empty());
    }
}
