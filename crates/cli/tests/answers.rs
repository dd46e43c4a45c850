//! What commands print as JSON: it says its version, the program and the command, and is as its schema says.

mod common;

use common::{json, seamwright};
use serde_json::Value;

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
    let undated = format!("{out}/undated.yaml");
    let text = "format: 1\ndocument: shop\nidentification: {number: S-1, revision: 1, title: Bay}\nwelders: [{name: A. Weld, tests: [{code: api-1104, date: 2026-02-17, process: GTAW, weld: groove, product: plate, positions: [1G], thickness: 8 mm}]}]\n";
    std::fs::write(&undated, text).unwrap();
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
        // A code that tells no day on which a test lapses.
        vec!["range", &undated],
        vec!["explain", "torches"],
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
        vec!["job", "examples/week/joints.csv", "--procedures", "procedures", "--shop", "examples/week/shop.yaml"],
        vec!["job", "examples/week/joints.csv", "--procedures", "procedures", "--out", out],
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
        let name = if arguments[0] == "job" { "job-answer" } else { arguments[0] };
        let validator = jsonschema::validator_for(&json(&["schema", name])).unwrap();
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
fn every_limit_that_is_a_number_is_one_in_json() {
    // Starters are clean: one with far too much current stands beside them.
    let folder = tempfile::tempdir().unwrap();
    let starter = concat!(env!("CARGO_MANIFEST_DIR"), "/../../procedures/lap-fillet-2-carbon-141.yaml");
    let hot = folder.path().join("hot.yaml");
    std::fs::write(&hot, std::fs::read_to_string(starter).unwrap().replace("70-90 A", "300-400 A")).unwrap();
    let output = seamwright(&["check", "--format", "json", "procedures", "examples", &hot.display().to_string()]);
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    let files = answer["files"].as_array().unwrap();
    let mut seen = 0;
    for finding in files.iter().flat_map(|file| file["findings"].as_array().unwrap()) {
        let Some(text) = finding["limit"].as_str() else { continue };
        let side = [" maximum", " minimum"].iter().any(|side| text.ends_with(side));
        let range = text.split(' ').any(|word| {
            word.split_once('-').is_some_and(|(low, high)| low.parse::<f64>().is_ok() && high.parse::<f64>().is_ok())
        });
        if side || range {
            seen += 1;
            assert!(finding["limits"]["unit"].is_string(), "{text}: {finding}");
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn lines_fit_sixty_columns() {
    for arguments in [
        &["check", "examples/submitted"][..],
        &["check", "procedures/butt-3-carbon-141.yaml", "--completeness"],
        &["table"],
        &["table", "tungsten-current"],
        &["range", "examples/inspection/record-iso.yaml"],
        &["range", "examples/inspection/record-asme.yaml"],
        &["check", "examples/lesson/lesson.yaml", "examples/shop/shop.yaml"],
        &["compare", "examples/inspection/procedure.yaml", "examples/inspection/procedure-revision-2.yaml"],
        &["explain", "tungsten-current-above-range"],
        &["explain", "travel_speed"],
        // Messages go to standard error.
        &["check", "nowhere.yaml", "examples/inspection/faulty-record.yaml"],
        &["estimate", "procedures/butt-3-carbon-141.yaml"],
        &["render", "procedures/butt-3-carbon-141.yaml", "--sheet", "lesson", "--out", "target/none"],
    ] {
        let output = common::command(arguments).env("COLUMNS", "60").output().unwrap();
        let text = [output.stdout, output.stderr].map(|own| String::from_utf8(own).unwrap()).concat();
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

// What was typed comes back in a message: nothing of it may steer the terminal or hide.
#[test]
fn refused_arguments_come_out_escaped() {
    let odd = ["a\u{1b}[31mred", "b\u{9b}31m", "c\u{202e}cba", "d\u{200b}e", "f\u{7}", "g\u{2028}h", "i\u{2800}j"];
    for word in odd {
        for arguments in [
            vec![word],
            vec!["check", word],
            vec!["check", "--format", word],
            vec!["render", word],
            vec!["compare", word, word],
            vec!["explain", word],
            vec!["table", word],
            vec!["range", word],
            vec!["schema", word],
            vec!["find", "--metal", word, "procedures"],
            vec!["draft", "--process", word, "--metal", "S235JR", "--thickness", "3 mm", "--joint", "tee"],
            vec!["draft", "--process", "141", "--metal", word, "--thickness", "3 mm", "--joint", "tee"],
            vec!["draft", "--process", "141", "--metal", "S235JR", "--thickness", word, "--joint", "tee"],
            vec!["calc", "throat", "--leg", word],
            vec!["estimate", "procedures/butt-3-carbon-141.yaml", "--length", word],
            vec!["revise", word, "--why", "x"],
            vec!["serve", word, "--no-open"],
        ] {
            let output = seamwright(&arguments);
            assert_ne!(output.status.code(), Some(0), "{arguments:?}");
            let told = [output.stdout, output.stderr].concat();
            let told = String::from_utf8(told).expect("text in UTF-8");
            let steers = told.chars().find(|own| *own != '\n' && seamwright_model::source::hidden(*own));
            assert_eq!(steers, None, "{arguments:?}: {}", told.escape_debug());
            assert!(!told.is_empty(), "{arguments:?}");
        }
    }
}

// A limit beside a value is said in the unit of that value.
#[test]
fn limits_are_said_in_the_unit_of_the_value() {
    let folder = tempfile::tempdir().unwrap();
    let procedure = std::fs::read_to_string(common::root().join("procedures/tee-fillet-20-s355-135.yaml")).unwrap();
    let mut units = std::collections::BTreeSet::new();
    for (key, value) in [
        ("travel_speed", "60 in/min"),
        ("wire_feed_speed", "1500 in/min"),
        ("interpass", "900 °F maximum"),
        ("shielding_gas", "{designation: M21, flow: 200 ft3/h}"),
        ("heat_input", "300 kJ/in"),
    ] {
        // In the place of what is stated, else as a value of the first run.
        let stated = procedure.find(&format!("{key}: ")).filter(|_| key != "shielding_gas");
        let text = if let Some(at) = stated {
            let end = at + procedure[at..].find(['\n', ',', '}']).unwrap();
            format!("{}{key}: {value}{}", &procedure[..at], &procedure[end..])
        } else {
            let run = procedure.find("\n  - run:").unwrap() + 1;
            let end = run + procedure[run..].find('\n').unwrap();
            format!("{}\n    {key}: {value}{}", &procedure[..end], &procedure[end..])
        };
        let path = folder.path().join(format!("{key}.yaml"));
        std::fs::write(&path, text).unwrap();
        let output = seamwright(&["check", path.to_str().unwrap(), "--format", "json"]);
        let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
        for finding in answer["files"][0]["findings"].as_array().unwrap() {
            let (Some(stated), Some(limit)) = (finding["stated"].as_str(), finding["limits"]["unit"].as_str()) else {
                continue;
            };
            for unit in ["in/min", "ft³/h", "ft3/h", "kJ/in", "in", "°F", "psi", "ksi"] {
                if stated.split(' ').any(|word| word == unit) {
                    units.insert(unit);
                    // `cfh` is how the trade writes cubic feet in an hour.
                    let plain = |unit: &str| unit.replace('³', "3").replace("cfh", "ft3/h");
                    assert_eq!(plain(limit), plain(unit), "{finding}");
                }
            }
        }
    }
    let seen: Vec<&str> = units.into_iter().collect();
    assert_eq!(seen, ["ft3/h", "in/min", "kJ/in", "°F"]);
}
