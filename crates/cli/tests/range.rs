//! `range`, and `check` against records and a shop, as their users meet them: output, exit status and clear refusals.

mod common;

use std::fs;

use common::{json, messages, names, piped, root, run, seamwright};
use serde_json::Value;

const CASE: &str = "examples/inspection";

/// ASME IX QW-451.1 (2017, read in an excerpt): 10.97 mm covers 5 mm to twice itself; each deposit covers twice itself.
#[test]
fn ranges_are_printed_as_json_with_reference_and_basis() {
    let found = json(&["range", &format!("{CASE}/record-asme.yaml"), "--code", "asme-ix", "--format", "json"]);
    assert_eq!(found["code"], "asme-ix");
    let of = |variable: &str, process: Option<&str>| {
        let list = found["ranges"].as_array().unwrap();
        list.iter().find(|one| one["variable"] == variable && one["process"].as_str() == process).unwrap().clone()
    };
    let thickness = of("base_metal_thickness", None);
    assert_eq!((&thickness["reference"], &thickness["basis"]), (&"QW-451.1".into(), &"published".into()));
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

/// A record with a test that failed gives no table; one that lacks a test says so beside its table. Both end in 1, and a
/// procedure that rests on one is not acceptable.
#[test]
fn a_record_that_failed_qualifies_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(root().join(format!("{CASE}/record-iso.yaml"))).unwrap();
    let failed = folder.path().join("failed.yaml");
    fs::write(&failed, text.replacen("455 MPa, result: acceptable", "300 MPa, result: not acceptable", 1)).unwrap();
    let lacking = folder.path().join("lacking.yaml");
    let without: Vec<&str> = text.lines().filter(|line| !line.contains("method: macro")).collect();
    fs::write(&lacking, without.join("\n")).unwrap();
    for (record, reason, table) in [
        (&failed, "T-009 qualifies nothing: the tensile test T1 is not acceptable", false),
        (&lacking, "T-009 qualifies nothing: no macro test; ISO 15614-1 asks for 1", true),
    ] {
        let record = record.display().to_string();
        let output = seamwright(&["range", &record]);
        let said = messages(&output).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(output.status.code() == Some(1) && said.contains(reason), "{said}");
        assert_eq!(!output.stdout.is_empty(), table);
        let output = seamwright(&["range", &record, "--format", "json"]);
        let found: Value = serde_json::from_slice(&output.stdout).unwrap();
        assert_eq!(output.status.code(), Some(1));
        assert_eq!(found["qualify_nothing"][0], reason);
        let output = seamwright(&["check", &format!("{CASE}/procedure.yaml"), "--record", &record]);
        let text = String::from_utf8_lossy(&output.stdout).into_owned();
        assert!(output.status.code() == Some(1) && text.contains(reason), "{text}");
    }
}

/// A record or a shop may come on standard input, which can be read only once.
#[test]
fn ranges_are_printed_of_a_document_on_standard_input() {
    for file in ["examples/inspection/record-iso.yaml", "examples/shop/shop.yaml"] {
        let output = piped(&["range", "-"], &fs::read(root().join(file)).unwrap());
        assert_eq!(output.status.code(), Some(0), "{}", messages(&output));
        assert_eq!(output.stdout, seamwright(&["range", file]).stdout);
    }
    for args in [["range", "-", "-"], ["check", "-", "-"], ["compare", "-", "-"]] {
        let output = piped(&args, &fs::read(root().join("examples/inspection/record-iso.yaml")).unwrap());
        assert_eq!(output.status.code(), Some(2));
        let said = messages(&output);
        assert!(
            said.contains("standard input") && said.contains("it was read to its end before; name - once"),
            "{said}"
        );
    }
}

/// Two coupons of one shop, the second heat treated: no range joins, and each line says whose it is.
#[test]
fn ranges_of_several_records_say_whose_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let root = root();
    let text = fs::read_to_string(root.join(format!("{CASE}/record-iso.yaml"))).unwrap();
    let second = folder.path().join("second.yaml");
    let treated = text
        .replace("number: T-009", "number: T-031")
        .replace("post_weld_heat_treatment: none", "post_weld_heat_treatment: {temperature: 600 °C, time: 30 min}");
    fs::write(&second, &treated).unwrap();
    let first = format!("{CASE}/record-iso.yaml");
    let both = ["range", &first, second.to_str().unwrap()];
    let said = String::from_utf8(seamwright(&both).stdout).unwrap();
    assert!(said.contains("Records"), "{said}");
    let of = |number: &str| {
        said.lines().filter(|line| line.starts_with("base metal thickness") && line.ends_with(number)).count()
    };
    assert_eq!((of("T-009"), of("T-031")), (1, 1), "{said}");
    // The procedure is as welded: the treated coupon supports nothing of it, and the check says so.
    let procedure = folder.path().join("procedure.yaml");
    let own = fs::read_to_string(root.join(format!("{CASE}/procedure.yaml"))).unwrap();
    fs::write(&procedure, own.replace("records: [T-009]", "records: [T-009, T-031]")).unwrap();
    let args = ["check", procedure.to_str().unwrap(), "--record", &first, "--record", second.to_str().unwrap()];
    let output = seamwright(&args);
    let said = messages(&output);
    assert_eq!(output.status.code(), Some(0), "{said}");
    assert!(said.contains("T-031 supports nothing of this procedure: its coupon is heat treated"), "{said}");
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
    let text = fs::read_to_string(root().join(format!("{CASE}/record-iso.yaml"))).unwrap();
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
        (vec!["check", &procedure, "--record", &asme], "T-130 is a record of ASME IX, and P-121 is under ISO 15614-1"),
        (vec!["check", &procedure, "--record", &other], "T-010 is not among the records of P-121"),
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
        (
            vec!["range", "examples/shop/shop.yaml", "--code", "aws-d1.1"],
            "no welder of the shop has a test of aws-d1.1",
        ),
    ] {
        let output = seamwright(&args);
        let said = messages(&output);
        assert_eq!(output.status.code(), Some(2), "{args:?}: {said}");
        assert!(said.contains(text), "{args:?}: {text:?} is not in\n{said}");
        // What `check` finds is its result; no other command has one here.
        assert!((args[0] == "check" || output.stdout.is_empty()) && !said.contains("panicked"), "{args:?}: {said}");
    }
}

/// A record that gives nothing, or that is not of the procedure, stops `check` and `render` with status 2; nothing is written.
#[test]
fn records_that_give_nothing_leave_no_sheet_behind() {
    let folder = tempfile::tempdir().unwrap();
    let root = root();
    let read = |name: &str| fs::read_to_string(root.join(format!("{CASE}/{name}"))).unwrap();
    let iso = read("record-iso.yaml");
    let asme = read("record-asme.yaml");
    let toughness = iso.replace("toughness: not required", "toughness: 27 J at -20 °C");
    for (name, text, from, to, reason) in [
        ("number", &iso, "number: T-009", "number: T-010", "T-010 is not among the records of P-121, which are T-009"),
        ("code", &asme, "", "", "T-130 is a record of ASME IX, and P-121 is under ISO 15614-1"),
        ("no-thickness", &iso, "    thickness: 5.5 mm\n", "", "the measured thickness of P235GH is missing"),
        ("range", &iso, "thickness: 5.5 mm", "thickness: 3-11 mm", "3-11 mm is no single value"),
        ("no-deposit", &iso, "    deposit_thickness: 3 mm\n", "", "the thickness deposited with 111 is missing"),
        ("no-filler", &iso, "    filler: root-rod\n", "", "the filler of 141 is missing"),
        ("no-metal", &iso, "  - specification: P235GH", "  - specification: 6061-T6", "6061-T6 is no steel"),
        ("no-voltage", &toughness, ", voltage: 10.5 V", "", "the measured heat input of 141 is missing"),
        (
            "thick",
            &iso,
            "deposit_thickness: 3 mm",
            "deposit_thickness: 6 mm",
            "the deposits add up to 8.5 mm in a coupon of 5.5 mm",
        ),
        ("thin", &iso, "thickness: 5.5 mm", "thickness: 12 mm", "the deposits add up to 5.5 mm in a coupon of 12 mm"),
        ("no-code", &iso, "code: iso-15614-1\n", "", "names no code of the test"),
    ] {
        assert!(text.contains(from), "{name}");
        let record = folder.path().join(format!("{name}.yaml"));
        fs::write(&record, text.replacen(from, to, 1)).unwrap();
        let record = record.to_str().unwrap();
        let procedure = format!("{CASE}/procedure.yaml");
        let out = folder.path().join(format!("out-{name}"));
        for args in [
            vec!["check", &procedure, "--record", record],
            vec!["render", &procedure, "--record", record, "--out", out.to_str().unwrap()],
        ] {
            let output = seamwright(&args);
            let said = messages(&output);
            assert_eq!(output.status.code(), Some(2), "{name}: {said}");
            assert!(said.contains(reason), "{name}: {reason:?} is not in\n{said}");
            // The message leads to a line, of the record or of the procedure.
            assert!(said.contains(".yaml:"), "{name}: {said}");
            assert!((args[0] == "check" || output.stdout.is_empty()) && !said.contains("panicked"), "{name}: {said}");
        }
        let written = fs::read_dir(&out).map_or(0, Iterator::count);
        assert_eq!(written, 0, "{name}");
    }
    // A procedure that lists no record takes one that names it, and no other.
    let unlisted = read("procedure.yaml").replace("records: [T-009], ", "");
    let procedure = folder.path().join("unlisted.yaml");
    fs::write(&procedure, unlisted.replace("P-121", "P-099")).unwrap();
    let output = seamwright(&["check", procedure.to_str().unwrap(), "--record", &format!("{CASE}/record-iso.yaml")]);
    assert_eq!(output.status.code(), Some(2));
    assert!(messages(&output).contains("T-009 is the record of P-121, not of P-099"), "{}", messages(&output));
}

/// The findings of a review are read back from both forms by general libraries, and are the same in both; what was answered
/// is not written over.
#[test]
fn a_review_is_written_as_data_for_a_reply() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().to_str().unwrap();
    let submission = format!("{CASE}/faulty-submission.yaml");
    let record = format!("{CASE}/record-iso.yaml");
    let ask = |to: &str, more: &[&str]| {
        let mut args =
            vec!["render", &submission, "--record", &record, "--sheet", "review", "--to", to, "--out", folder];
        args.extend(more);
        run(&args)
    };
    let (code, _, said) = ask("csv,json", &[]);
    assert!(code == 1 && said.contains("faulty-submission.review.csv"), "{said}");
    assert_eq!(names(out.path()), ["faulty-submission.review.csv", "faulty-submission.review.json"]);
    let (table, tree) =
        (out.path().join("faulty-submission.review.csv"), out.path().join("faulty-submission.review.json"));
    let mut reader = csv::Reader::from_path(&table).unwrap();
    let heads = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let whole: Value = serde_json::from_slice(&fs::read(&tree).unwrap()).unwrap();
    let findings = whole["findings"].as_array().unwrap();
    assert!(rows.len() >= 11 && rows.len() == findings.len(), "{}", rows.len());
    for (row, finding) in rows.iter().zip(findings) {
        for (head, cell) in heads.iter().zip(row) {
            let value = match &finding[head] {
                Value::Null => String::new(),
                Value::String(text) => text.clone(),
                other => other.to_string(),
            };
            assert_eq!(cell, value, "{head}");
        }
        assert!(finding["disposition"] == "" && finding["reply"] == "" && finding["item"] != "", "{finding}");
    }
    // The command that checks finds the same.
    let (_, checked, _) = run(&["check", &submission, "--record", &record, "--format", "json"]);
    let checked: Value = serde_json::from_str(&checked).unwrap();
    let ids = |list: &[Value]| {
        let mut ids: Vec<String> = list.iter().map(|own| own["check"].as_str().unwrap().to_owned()).collect();
        ids.sort();
        ids
    };
    assert_eq!(ids(findings), ids(checked["files"][0]["findings"].as_array().unwrap()));
    assert!(whole["json_format"].is_number() && whole["number"].is_string());
    assert!(whole["items"].as_array().unwrap().iter().any(|item| item["state"] == "stated"));

    // A reply is kept.
    assert_eq!(ask("csv", &[]).0, 1);
    let mut writer = csv::Writer::from_path(&table).unwrap();
    writer.write_record(&heads).unwrap();
    for row in &rows {
        let answered = row.iter().zip(&heads).map(|(cell, head)| if head == "reply" { "corrected" } else { cell });
        writer.write_record(answered).unwrap();
    }
    writer.flush().unwrap();
    let (code, _, said) = ask("csv", &[]);
    assert!(code == 2 && said.contains("replies written into it"), "{said}");
    assert!(fs::read_to_string(&table).unwrap().contains("corrected"));
    assert_eq!(ask("csv", &["--force"]).0, 1);
    assert!(!fs::read_to_string(&table).unwrap().contains("corrected"));
    // Beside a sheet that stands, the data are written all the same.
    ask("html", &[]);
    fs::remove_file(&table).unwrap();
    let (_, _, said) = ask("html,csv", &[]);
    assert!(table.is_file() && said.contains("left 1 as they were"), "{said}");

    // Another sheet has no such form.
    for kinds in ["procedure", "review,bench-card"] {
        let args = ["render", &submission, "--sheet", kinds, "--to", "json", "--out", folder];
        let (code, _, said) = run(&args);
        assert!(code == 2 && said.contains("--sheet review --to json"), "{said}");
    }
}

/// Each fault that the page of the case folder lists stands on the review of the submission, with the value and the check.
#[test]
fn the_review_of_the_faulty_submission_lists_every_planted_fault() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().to_str().unwrap();
    let submission = format!("{CASE}/faulty-submission.yaml");
    let record = format!("{CASE}/record-iso.yaml");
    let args = ["render", &submission, "--record", &record, "--sheet", "review", "--to", "html", "--out", folder];
    assert_eq!(seamwright(&args).status.code(), Some(1));
    let html = fs::read_to_string(out.path().join("faulty-submission.review.html")).unwrap();
    let page = fs::read_to_string(root().join(format!("{CASE}/README.md"))).unwrap();
    let rows: Vec<Vec<&str>> = page
        .lines()
        .skip_while(|line| !line.starts_with("| stated"))
        .skip(2)
        .take_while(|line| line.starts_with("| "))
        .map(|line| line.trim_matches('|').split(" | ").map(str::trim).collect())
        .collect();
    assert!(rows.len() >= 11, "{rows:?}");
    for row in rows {
        let (stated, check) = (row[0].trim_matches('`'), row[1]);
        assert!(html.contains(check), "{check}");
        let value = stated.split(": ").last().unwrap();
        assert!(html.contains(value), "{value}");
    }
    assert!(html.contains("Not acceptable as it stands"));
    let args = ["render", &submission, "--record", &record, "--annex", "--to", "html", "--out", folder];
    assert_eq!(seamwright(&args).status.code(), Some(1));
    let sheet = fs::read_to_string(out.path().join("faulty-submission.html")).unwrap();
    assert!(sheet.contains("NOT QUALIFIED: outside its test records") && sheet.contains("Qualified ranges"));
    assert!(
        html.contains("Ranges against the test records") && html.contains("ISO 15614-1, 2017, Table 7"),
        "no ranges"
    );
}

#[test]
fn completeness_is_told_for_people_and_for_programs() {
    let file = format!("{CASE}/procedure-asme.yaml");
    let output = seamwright(&["check", &file, "--completeness"]);
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    // The code that is named asks by its own paragraphs, and ISO 15609-1 where it has none.
    assert!(text.contains("ASME BPVC IX asks for") && !text.contains("ISO 15609-1"), "{text}");
    let iso = seamwright(&["check", &format!("{CASE}/procedure.yaml"), "--completeness"]);
    assert!(String::from_utf8_lossy(&iso.stdout).contains("ISO 15609-1:2019 asks for"));
    let found = json(&["check", &file, "--completeness", "--format", "json"]);
    let items = found["files"][0]["completeness"].as_array().unwrap();
    let state = |clause: &str, process: Option<&str>| {
        let own = |one: &&Value| one["clause"] == clause && one["process"].as_str() == process;
        items.iter().find(own).unwrap_or_else(|| panic!("{clause}"))["state"].clone()
    };
    assert_eq!(state("QW-404.4", None), "stated");
    assert_eq!(state("QW-409.4", Some("GTAW")), "stated");
    let missing = items.iter().filter(|one| one["state"] == "missing").count();
    assert_eq!(found["files"][0]["not_stated"], missing);
    for word in items.iter().map(|one| one["state"].as_str().unwrap()) {
        assert!(["stated", "not-applicable", "missing", "not-specified"].contains(&word), "{word}");
    }
    // Without the flag the key is not there; a shop is asked for nothing.
    assert!(json(&["check", &file, "--format", "json"])["files"][0].get("completeness").is_none());
    let shop = json(&["check", "examples/shop/shop.yaml", "--completeness", "--format", "json"]);
    assert_eq!(shop["files"][0]["completeness"], serde_json::json!([]));
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

/// What is not known silences its checks; the verdict says so, and acceptable is not what it says.
#[test]
fn the_verdict_of_a_review_says_what_was_not_reviewed() {
    let out = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(root().join("procedures/butt-12-s355-111.yaml")).unwrap();
    let unknown = text.replacen("specification: S355J2+N", "specification: Invented 7", 1);
    assert_ne!(text, unknown);
    for (name, text, known) in [("known", text, true), ("unknown", unknown, false)] {
        let file = out.path().join(format!("{name}.yaml"));
        fs::write(&file, text).unwrap();
        let args = ["render", file.to_str().unwrap(), "--sheet", "review", "--to", "html", "--out"];
        seamwright(&[&args[..], &[out.path().to_str().unwrap()]].concat());
        let html = fs::read_to_string(out.path().join(format!("{name}.review.html"))).unwrap();
        let verdict = html.split("Verdict").last().unwrap();
        assert_eq!(verdict.contains("Not reviewed in part"), !known, "{name}");
        assert_eq!(verdict.contains("Not reviewed: Invented 7, a metal that the handbook does not know"), !known);
    }
}
