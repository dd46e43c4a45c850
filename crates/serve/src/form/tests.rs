//! Every value of every document in its field.

use std::path::Path;

use seamwright_model::source::escape;
use serde_json::Value;

use super::wording::{heading, singular};
use super::*;

fn value(path: &str) -> (String, Value) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(path);
    let bytes = std::fs::read(&path).unwrap();
    let loaded = seamwright_model::load("x", &bytes).unwrap();
    (loaded.document.kind().to_owned(), loaded.tree.to_value())
}

/// Every field of a form, with those below its rows.
fn pointers(form: &Form, document: &Value) -> Vec<Field> {
    let mut all = Vec::new();
    for section in &form.sections {
        let rows = section.table.iter().flat_map(|table| &table.rows);
        let below = rows.clone().filter_map(|row| below(&form.kind, document, &row.pointer)).flatten();
        let plates = section.plates.iter().flat_map(|plate| &plate.groups);
        for group in section.groups.iter().chain(plates).cloned().chain(below) {
            all.extend(group.fields.into_iter().chain(group.more).chain(group.elsewhere));
        }
        all.extend(rows.flat_map(|row| &row.fields).cloned());
    }
    all
}

fn scalars(value: &Value, at: &str, all: &mut Vec<String>) {
    match value {
        Value::Object(map) => map.iter().for_each(|(key, own)| scalars(own, &format!("{at}/{}", escape(key)), all)),
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(n, own)| scalars(own, &format!("{at}/{n}"), all));
        }
        _ => all.push(at.to_owned()),
    }
}

#[test]
fn every_value_of_every_document_stands_in_one_field() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut files = Vec::new();
    for folder in
        ["procedures", "examples/job", "examples/shop", "examples/lesson", "examples/inspection", "examples/codes"]
    {
        files.extend(std::fs::read_dir(root.join(folder)).unwrap().map(|entry| entry.unwrap().path()));
    }
    let mut seen = 0;
    for file in files.iter().filter(|file| file.extension().is_some_and(|ending| ending == "yaml")) {
        let Ok(loaded) = seamwright_model::load("x", &std::fs::read(file).unwrap()) else { continue };
        let document = loaded.tree.to_value();
        let form = form(loaded.document.kind(), &document);
        let fields = pointers(&form, &document);
        let mut stated = Vec::new();
        scalars(&document, "", &mut stated);
        for pointer in stated.iter().filter(|own| !matches!(own.as_str(), "/format" | "/document")) {
            let of = |field: &&Field| *pointer == field.pointer || pointer.starts_with(&format!("{}/", field.pointer));
            let own: Vec<_> = fields.iter().filter(of).filter(|field| !field.value.is_empty()).collect();
            assert_eq!(own.len(), 1, "{}: {pointer}: {own:#?}", file.display());
            seen += 1;
        }
        for field in fields {
            let alone = field_at(loaded.document.kind(), &document, &field.pointer);
            assert_eq!(alone, Some(field), "{}", file.display());
        }
    }
    assert!(seen > 2000, "{seen}");
}

#[test]
fn what_a_process_does_not_have_is_folded() {
    let (kind, document) = value("procedures/lap-fillet-2-carbon-141.yaml");
    let form = form(&kind, &document);
    let section = form.sections.iter().find(|section| section.key == "processes").unwrap();
    let group = &section.groups[0];
    assert!(group.title.starts_with("141: "));
    assert!(group.elsewhere.iter().any(|field| field.pointer == "/processes/141/wire_feed_speed"));
    assert!(group.fields.iter().any(|field| field.pointer == "/processes/141/polarity"));
}

#[test]
fn a_run_shows_what_it_has_from_its_process() {
    let (kind, mut document) = value("procedures/lap-fillet-2-carbon-141.yaml");
    document["runs"][0].as_object_mut().unwrap().remove("current");
    document["processes"]["141"]["current"] = "70-90 A".into();
    let form = form(&kind, &document);
    let table = form.sections.iter().find_map(|section| section.table.as_ref()).unwrap();
    let current = table.rows[0].fields.iter().find(|field| field.pointer == "/runs/0/current").unwrap();
    assert_eq!((current.value.as_str(), current.inherited.as_str()), ("", "70-90 A"));
    assert_eq!(table.columns.len(), table.rows[0].fields.len());
}

#[test]
fn each_run_says_its_condition_and_each_condition_is_a_plate() {
    let (kind, document) = value("examples/codes/procedure-conditions.yaml");
    let form = form(&kind, &document);
    let section = |key: &str| form.sections.iter().find(|section| section.key == key).unwrap();
    let columns: Vec<&str> = section("runs").table.iter().flat_map(|own| &own.columns).map(|own| own.key).collect();
    assert!(columns.contains(&"condition"), "{columns:?}");
    let titles: Vec<&str> = section("conditions").plates.iter().map(|plate| plate.title.as_str()).collect();
    assert_eq!(titles, ["Condition thin", "Condition thick"]);
    let names = |list| super::own_names(list, &document).into_iter().map(|own| own.value).collect::<Vec<_>>();
    assert_eq!((names("conditions"), names("own-fillers")), (owned(["thin", "thick"]), owned(["root", "fill"])));
    // Where there are none, nobody is asked.
    let (kind, document) = value("procedures/lap-fillet-2-carbon-141.yaml");
    let form = super::form(&kind, &document);
    let mut columns = form.sections.iter().filter_map(|own| own.table.as_ref()).flat_map(|own| &own.columns);
    assert!(columns.all(|own| own.key != "condition"));
}

fn owned(names: [&str; 2]) -> Vec<String> {
    names.map(str::to_owned).to_vec()
}

#[test]
fn a_shop_is_folded_by_plate() {
    let (kind, document) = value("examples/shop/shop.yaml");
    let form = form(&kind, &document);
    let section = form.sections.iter().find(|section| section.key == "power_sources").unwrap();
    let machines = document["power_sources"].as_array().unwrap();
    assert_eq!(section.plates.len(), machines.len());
    for (plate, machine) in section.plates.iter().zip(machines) {
        assert!(plate.title.starts_with("Power source "), "{}", plate.title);
        assert_eq!(plate.name.as_ref().unwrap().1, machine["name"].as_str().unwrap());
        assert!(plate.groups.iter().all(|group| group.pointer.starts_with(&plate.pointer)));
    }
}

#[test]
fn no_heading_is_a_bare_key() {
    for kind in seamwright_model::document::KINDS {
        let headings = |form: &Form| {
            let mut all: Vec<String> = super::fields(form).map(|field| field.what.label.to_string()).collect();
            for section in &form.sections {
                all.push(section.title.clone());
                let plates = section.plates.iter().flat_map(|plate| &plate.groups);
                all.extend(section.groups.iter().chain(plates).map(|group| group.title.clone()));
                all.extend(section.add.iter().map(|add| add.what.clone()));
            }
            all
        };
        for name in headings(&form(kind, &serde_json::json!({"document": kind}))) {
            assert!(!name.contains('_'), "{kind}: {name}");
        }
    }
    assert_eq!((heading("ac"), heading("rated_points")), ("AC".to_owned(), "Rated points".to_owned()));
    for (key, one) in [
        ("power_sources", "power source"),
        ("gas_lenses", "gas lens"),
        ("gases", "gas"),
        ("torches", "torch"),
        ("processes", "process"),
        ("parent_metals", "metal"),
        ("inspection", "examination"),
    ] {
        assert_eq!(singular(key), one);
    }
}

#[test]
fn the_shape_is_that_of_the_fields_and_not_of_the_values() {
    let (kind, mut document) = value("procedures/lap-fillet-2-carbon-141.yaml");
    let before = shapes(&form(&kind, &document));
    document["identification"]["title"] = "Another".into();
    assert_eq!(shapes(&form(&kind, &document)), before);
    document["parent_metals"].as_array_mut().unwrap().push(serde_json::json!({"specification": "304L"}));
    assert_ne!(shapes(&form(&kind, &document)), before);
}
