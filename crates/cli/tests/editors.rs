//! The schema as an editor uses it: it underlines what people mistype, completes what they begin, and leaves alone every
//! document of the project.

mod common;

use std::fs;
use std::path::PathBuf;

use common::{root, run};
use serde_json::{Value, json};

fn schema(what: &[&str]) -> Value {
    common::json(&[&["schema"], what].concat())
}

/// As an editor has it, without formats: those of quantities are the project's own.
fn validator(schema: &Value) -> jsonschema::Validator {
    jsonschema::draft202012::options().should_validate_formats(false).build(schema).unwrap()
}

/// A file as values, numbers as an editor sees them.
fn values(path: &PathBuf) -> Value {
    let name = path.display().to_string();
    let reading = seamwright_model::load(&name, &fs::read(path).unwrap());
    reading.unwrap_or_else(|(_, faults)| panic!("{name}: {faults:?}")).tree.to_value()
}

/// Every `*.yaml` below folders of the project.
fn yaml(folders: &[&str]) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open: Vec<PathBuf> = folders.iter().map(|folder| root().join(folder)).collect();
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|ending| ending == "yaml") {
                found.push(path);
            }
        }
    }
    found
}

#[test]
fn every_document_of_the_project_is_accepted() {
    let whole = schema(&[]);
    assert!(whole["$id"].as_str().unwrap().starts_with("urn:"));
    let all = validator(&whole);
    let mut documents = yaml(&["procedures", "examples", "tests/golden"]);
    documents.retain(|path| !path.ends_with("house-style.yaml"));
    assert!(documents.len() >= 60, "{}", documents.len());
    for path in documents {
        let value = values(&path);
        let wrong: Vec<String> =
            all.iter_errors(&value).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert!(wrong.is_empty(), "{}: {wrong:#?}", path.display());
        let kind = value["document"].as_str().unwrap();
        let own = schema(&[kind]);
        assert!(validator(&own).is_valid(&value), "{} is no {kind}", path.display());
    }
}

#[test]
fn every_key_and_section_has_a_title() {
    fn walk(schema: &Value, at: &str) {
        if let Some(map) = schema.get("properties").and_then(Value::as_object) {
            for (key, own) in map {
                let place = format!("{at}/{key}");
                // What holds for an entry of `processes` has the title of its section.
                let named = own.get("title").is_some()
                    || own.get("const").is_some()
                    || own.get("$ref").is_some()
                    || own.get("enum").is_some();
                assert!(named, "{place} has no title: {own}");
            }
        }
    }
    let whole = schema(&[]);
    for (name, own) in whole["$defs"].as_object().unwrap() {
        assert!(own.get("title").is_some() || own.get("properties").is_none(), "{name}");
        walk(own, name);
    }
}

/// Ten kinds of slip, each once or more; an editor underlines all of them.
#[test]
fn single_slips_are_caught() {
    let all = validator(&schema(&[]));
    let sound = values(&root().join("procedures/lap-fillet-2-carbon-141.yaml"));
    assert!(all.is_valid(&sound));
    let mut kinds = std::collections::BTreeMap::new();
    for (kind, place, value) in [
        ("number without unit", "/runs/0/current", json!("70-90")),
        ("number without unit", "/parent_metals/0/thickness", json!(2)),
        ("number without unit", "/runs/0/travel_speed", json!("80-110")),
        ("wrong unit", "/parent_metals/0/thickness", json!("2 milimetre")),
        ("wrong unit", "/runs/0/travel_speed", json!("80-110 mm/mn")),
        ("wrong dimension", "/runs/0/current", json!("70-90 V")),
        ("wrong dimension", "/processes/141/shielding_gas/flow", json!("6-8 mm/min")),
        ("unknown position", "/positions/0", json!("PX")),
        ("unknown position", "/positions/0", json!("7G")),
        ("unknown process", "/runs/0/process", json!(149)),
        ("unknown process", "/runs/0/process", json!("TOG")),
        ("unknown polarity", "/processes/141/polarity", json!("DCE")),
        ("unknown polarity", "/processes/141/polarity", json!("DCRP")),
        ("unknown key", "/runs/0/amps", json!("70-90 A")),
        ("unknown key", "/processes/TOG", json!({"polarity": "DCEN"})),
        ("unknown key", "/position", json!(["PB"])),
        ("missing key", "/identification/number", Value::Null),
        ("missing key", "/runs/0/run", Value::Null),
        ("wrong date", "/identification/date", json!("17.02.2026")),
        ("word outside a list", "/joint/type", json!("overlap")),
        (
            "word outside a list",
            "/deviations",
            json!([{"check": "to-hot", "reason": "r", "by": "b", "date": "2026-02-17"}]),
        ),
    ] {
        let mut changed = sound.clone();
        let (above, key) = place.rsplit_once('/').unwrap();
        let above = changed.pointer_mut(above).unwrap_or_else(|| panic!("{place}"));
        match (above, value) {
            (Value::Object(map), Value::Null) => _ = map.remove(key).unwrap_or_else(|| panic!("{place}")),
            (Value::Object(map), value) => _ = map.insert(key.to_owned(), value),
            (Value::Array(list), value) => list[key.parse::<usize>().unwrap()] = value,
            (other, _) => panic!("{place}: {other}"),
        }
        assert!(!all.is_valid(&changed), "{kind} is not caught at {place}");
        *kinds.entry(kind).or_insert(0) += 1;
    }
    assert_eq!(kinds.len(), 10, "{kinds:?}");
}

/// What is read is not underlined: units in the spellings of the shop, ranges, limits, fractions.
#[test]
fn sound_spellings_are_left_alone() {
    let all = validator(&schema(&[]));
    let sound = values(&root().join("procedures/lap-fillet-2-carbon-141.yaml"));
    for (place, text) in [
        ("/parent_metals/0/thickness", "1/8\""),
        ("/parent_metals/0/thickness", "1 1/4 in"),
        ("/parent_metals/0/thickness", "1 / 4 inch"),
        ("/parent_metals/0/thickness", "2 – 3 mm"),
        ("/parent_metals/0/thickness", "2 mm to 3 mm"),
        ("/parent_metals/0/thickness", "12 mm maximum"),
        ("/parent_metals/0/thickness", "2.5mm min."),
        ("/parent_metals/0/thickness", "not applicable"),
        ("/runs/0/current", "70 to 90 Amps"),
        ("/runs/0/travel_speed", "4-5 IPM"),
        ("/processes/141/shielding_gas/flow", "15 CFH"),
    ] {
        let mut changed = sound.clone();
        *changed.pointer_mut(place).unwrap() = json!(text);
        assert!(all.is_valid(&changed), "{place}: {text}");
        assert!(seamwright_model::load::from_value(&changed).is_ok(), "{place}: {text} is not read");
    }
}

/// Where an editor offers words, it offers all of them.
#[test]
fn lists_are_complete_where_words_are_offered() {
    let whole = schema(&[]);
    for (place, list, least, one) in [
        ("/$defs/Procedure/properties/positions/items", "enum", 25, json!("PF")),
        ("/$defs/Run/properties/positions/items", "enum", 25, json!("3G")),
        ("/$defs/Run/properties/process", "enum", 20, json!(141)),
        ("/$defs/Settings/properties/polarity", "enum", 4, json!("DCEN")),
        ("/$defs/ParentMetal/properties/specification", "examples", 236, json!("304L")),
        ("/$defs/Filler/properties/designation", "examples", 59, json!("E7018")),
        ("/$defs/ShieldingGas/properties/designation", "examples", 10, json!("M21")),
        ("/$defs/BackingGas/properties/designation", "examples", 10, json!("I1")),
        ("/$defs/Deviation/properties/check", "enum", 100, json!("polarity-wrong-for-metal")),
        ("/$defs/Joint/properties/type", "enum", 4, json!("tee")),
        ("/$defs/Joint/properties/weld", "enum", 2, json!("fillet")),
        ("/properties/document", "enum", 5, json!("lesson")),
    ] {
        let words = whole.pointer(place).and_then(|own| own.get(list)).and_then(Value::as_array);
        let words = words.unwrap_or_else(|| panic!("{place} offers nothing: {:?}", whole.pointer(place)));
        assert!(words.len() >= least && words.contains(&one), "{place}: {} words", words.len());
    }
    let processes = whole.pointer("/$defs/Procedure/properties/processes/properties").unwrap();
    assert!(processes.get("141").is_some() && processes.get("GTAW").is_some());
}

#[test]
fn each_file_that_people_write_has_a_schema() {
    let style = serde_json::json!({"lines": ["Tarn Beck Metalwork"], "accent": "#1f4e79", "logo": "logo.svg"});
    let house = validator(&schema(&["house-style"]));
    assert!(house.is_valid(&style));
    for wrong in [json!({"accent": "blue"}), json!({"colour": "#1f4e79"}), json!({"lines": "Tarn Beck"})] {
        assert!(!house.is_valid(&wrong), "{wrong}");
    }
    let joints = validator(&schema(&["joints"]));
    assert!(joints.is_valid(&json!([{"joint": "W1", "length": "1.2 m", "count": 2, "procedure": "P-001"}])));
    for wrong in [json!([]), json!([{"joint": "W1", "length": "1.2"}]), json!([{"joint": "W1"}])] {
        assert!(!joints.is_valid(&wrong), "{wrong}");
    }
}

#[test]
fn the_schema_is_written_beside_the_documents() {
    let folder = tempfile::tempdir().unwrap();
    let (code, _, said) = run(&["schema", "--write", folder.path().to_str().unwrap()]);
    let file = folder.path().join("seamwright.schema.json");
    assert!(code == 0 && said.contains("wrote") && file.is_file(), "{said}");
    let written: Value = serde_json::from_str(&fs::read_to_string(file).unwrap()).unwrap();
    assert_eq!(written, schema(&[]));
    assert_eq!(run(&["schema", "banana"]).0, 2);
}

/// The line that a text begins with, as the name of the file that it says.
fn named(text: &str) -> Option<&str> {
    text.lines().next()?.strip_prefix("# yaml-language-server: $schema=")
}

#[test]
fn every_document_that_is_handed_out_names_a_schema_that_is_written_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let handed_out = yaml(&["procedures", "examples"]);
    assert!(handed_out.len() >= 60, "{}", handed_out.len());
    for path in &handed_out {
        let below = path.strip_prefix(root()).unwrap();
        let copy = folder.path().join(below);
        fs::create_dir_all(copy.parent().unwrap()).unwrap();
        fs::copy(path, &copy).unwrap();
    }
    let (code, _, said) = run(&["schema", "--write", folder.path().to_str().unwrap()]);
    assert_eq!(code, 0, "{said}");
    for path in &handed_out {
        let text = fs::read_to_string(path).unwrap();
        let name = named(&text).unwrap_or_else(|| panic!("{} names no schema", path.display()));
        let beside = folder.path().join(path.strip_prefix(root()).unwrap()).with_file_name(name);
        let schema: Value = serde_json::from_str(&fs::read_to_string(&beside).unwrap_or_default())
            .unwrap_or_else(|_| panic!("{} is not written", beside.display()));
        let value = if name.starts_with("house-style") { serde_yaml::from_str(&text).unwrap() } else { values(path) };
        assert!(validator(&schema).is_valid(&value), "{} does not hold to {name}", path.display());
    }
    // Nowhere else: not in the folders between.
    assert!(!folder.path().join("seamwright.schema.json").exists());
    assert!(!folder.path().join("examples/seamwright.schema.json").exists());
}

#[test]
fn drafts_name_the_schema_in_their_first_line() {
    let line = "# yaml-language-server: $schema=seamwright.schema.json";
    for words in [
        &[
            "draft",
            "--process",
            "135",
            "--metal",
            "S235JR",
            "--thickness",
            "3 mm",
            "--joint",
            "tee",
            "--position",
            "PB",
        ][..],
        &["draft", "--lesson", "procedures/lap-fillet-2-carbon-141.yaml"],
    ] {
        let (code, text, _) = run(words);
        assert!(code == 0 && text.lines().next() == Some(line), "{text}");
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("draft.yaml");
        fs::write(&file, text.replace("procedures/", &format!("{}/procedures/", root().display()))).unwrap();
        let all = validator(&schema(&[]));
        let value = values(&file);
        let wrong: Vec<String> = all.iter_errors(&value).map(|error| error.to_string()).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
    }
}
