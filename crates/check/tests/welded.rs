//! Two revisions are compared by what is welded: how runs are grouped, where settings stand, in which unit and order values
//! are written is no change, in any procedure of the library.

mod common;

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use seamwright_check::revision::{Comparison, compare};
use seamwright_model::document::Document;
use seamwright_model::load;
use seamwright_model::procedure::{CodeName, run_numbers};
use serde_json::{Map, Value, json};

/// Every procedure of the starter library and of the examples, as plain values.
fn library() -> Vec<(String, Value)> {
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut folders: Vec<PathBuf> = vec![top.join("procedures"), top.join("examples")];
    let mut found = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "yaml") {
                let bytes = std::fs::read(&path).unwrap();
                if let Ok(loaded) = load::load(&path.to_string_lossy(), &bytes)
                    && matches!(loaded.document, Document::Procedure(_))
                {
                    found.push((path.display().to_string(), loaded.tree.to_value()));
                }
            }
        }
    }
    assert!(found.len() > 15, "{}", found.len());
    found
}

fn compared(old: &Value, new: &Value, code: CodeName) -> Comparison {
    // JSON is YAML, so the changed document reads as a file does.
    let read = |value: &Value| {
        let text = serde_json::to_string(value).unwrap();
        load::load("trial.yaml", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:#?}"))
    };
    let (old, new) = (read(old), read(new));
    let (Document::Procedure(first), Document::Procedure(second)) = (&old.document, &new.document) else {
        panic!("two procedures")
    };
    compare((&old, first), (&new, second), Some(code))
}

/// Neither direction finds a change.
fn alike(name: &str, how: &str, old: &Value, new: &Value) {
    for (old, new) in [(old, new), (new, old)] {
        let comparison = compared(old, new, CodeName::AsmeIx);
        assert!(comparison.changes.is_empty(), "{name}, {how}: {:#?}", comparison.changes);
    }
}

fn runs(document: &mut Value) -> Option<&mut Vec<Value>> {
    document.get_mut("runs").and_then(Value::as_array_mut)
}

#[test]
fn runs_written_one_by_one_are_the_same_runs() {
    let mut split = 0;
    for (name, document) in library() {
        let mut single = document.clone();
        let Some(list) = runs(&mut single) else { continue };
        let rows = std::mem::take(list);
        for row in rows {
            let text = row["run"].as_str().map_or_else(|| row["run"].to_string(), str::to_owned);
            let (first, last) = run_numbers(&text).unwrap();
            split += usize::from(first < last);
            for number in first..=last {
                let mut own = row.clone();
                own["run"] = json!(number);
                list.push(own);
            }
        }
        alike(&name, "runs one by one", &document, &single);
        let Some(list) = runs(&mut single) else { continue };
        // Where a number stands twice, as one example is faulty on purpose, the order says which is which.
        let numbers: Vec<String> = list.iter().map(|row| format!("{} {}", row["run"], row["positions"])).collect();
        if numbers.iter().enumerate().any(|(at, own)| numbers[..at].contains(own)) {
            continue;
        }
        list.reverse();
        alike(&name, "runs from the last on", &document, &single);
    }
    assert!(split > 3, "{split} rows of several runs");
}

#[test]
fn settings_of_a_process_written_in_its_runs_are_the_same_settings() {
    fn fill(own: &mut Map<String, Value>, block: &Map<String, Value>) {
        for (key, value) in block {
            match (own.get_mut(key), value) {
                (None, _) => _ = own.insert(key.clone(), value.clone()),
                (Some(Value::Object(own)), Value::Object(block)) if key != "composition" => fill(own, block),
                _ => {}
            }
        }
    }
    let mut moved = 0;
    for (name, document) in library() {
        let mut other = document.clone();
        let blocks = document["processes"].as_object().cloned().unwrap_or_default();
        let Some(list) = runs(&mut other) else { continue };
        let mut used = Vec::new();
        for row in list {
            let key = row.get("process").map(|own| own.as_str().map_or_else(|| own.to_string(), str::to_owned));
            let key = key.or_else(|| blocks.keys().next().filter(|_| blocks.len() == 1).cloned());
            if let (Some(block), Some(own)) =
                (key.as_ref().and_then(|key| blocks.get(key)).and_then(Value::as_object), row.as_object_mut())
            {
                fill(own, block);
                used.extend(key);
            }
        }
        for key in used {
            other["processes"][key] = json!({});
            moved += 1;
        }
        alike(&name, "settings in the runs", &document, &other);
    }
    assert!(moved > 15, "{moved} blocks");
}

#[test]
fn values_in_other_units_and_another_order_are_the_same_values() {
    fn other_units(value: &mut Value, count: &mut usize) {
        match value {
            Value::String(text) => {
                for (unit, other, by) in [("mm/min", "cm/min", 10.0), ("mm", "cm", 10.0), ("L/min", "L/h", 1.0 / 60.0)]
                {
                    let Some(number) = text.strip_suffix(&format!(" {unit}")) else { continue };
                    let each: Option<Vec<f64>> = number.split('-').map(|one| one.parse().ok()).collect();
                    // Where the other unit is known and the figures are exact.
                    let Some(each) = each.filter(|_| unit != "L/min") else { continue };
                    let each: Vec<String> = each.iter().map(|one| format!("{:.4}", one / by)).collect();
                    *text = format!("{} {other}", each.join("-"));
                    *count += 1;
                    break;
                }
            }
            Value::Array(items) => items.iter_mut().for_each(|item| other_units(item, count)),
            Value::Object(entries) => entries.values_mut().for_each(|entry| other_units(entry, count)),
            _ => {}
        }
    }
    let mut converted = 0;
    for (name, document) in library() {
        let mut other = document.clone();
        for key in ["runs", "joint", "parent_metals", "weld_size", "fillers"] {
            if let Some(part) = other.get_mut(key) {
                other_units(part, &mut converted);
            }
        }
        for list in ["positions", "parent_metals", "inspection"] {
            if let Some(Value::Array(items)) = other.get_mut(list) {
                items.reverse();
            }
        }
        if let Some(Value::Object(fillers)) = other.get_mut("fillers") {
            let reversed: Map<String, Value> = std::mem::take(fillers).into_iter().rev().collect();
            *fillers = reversed;
        }
        alike(&name, "other units and order", &document, &other);
    }
    assert!(converted > 100, "{converted} values");
}

#[test]
fn a_change_of_one_of_several_runs_is_found_with_its_number() {
    let base = |runs: Value| {
        json!({
            "format": 1, "document": "procedure", "identification": {"number": "P", "revision": 1, "title": "t"},
            "parent_metals": [{"specification": "S355J2", "thickness": "10 mm"}],
            "joint": {"type": "butt"}, "positions": ["PC", "PF"],
            "processes": {"135": {"polarity": "DCEP", "current": "150-200 A", "travel_speed": "90-130 mm/min"}}, "runs": runs,
        })
    };
    let old = base(json!([{"run": "1-4", "process": "135"}]));
    let new = base(json!([
        {"run": 1, "process": "135"}, {"run": "2-3", "process": "MAG", "current": "160-210 A"}, {"run": 4, "process": "135"}
    ]));
    let comparison = compared(&old, &new, CodeName::Iso15614);
    let [change] = comparison.changes.as_slice() else { panic!("{:#?}", comparison.changes) };
    assert_eq!((&*change.pointer, change.runs.as_deref()), ("/runs/1/current", Some("2-3")));
    assert_eq!((change.old.as_deref(), change.new.as_deref()), (Some("150-200 A"), Some("160-210 A")));

    let mut all = old.clone();
    all["processes"]["135"]["travel_speed"] = json!("9-13 cm/min");
    all["positions"] = json!(["PF", "PC"]);
    alike("invented", "cm/min, PF before PC", &old, &all);
    all["processes"]["135"]["travel_speed"] = json!("9-14 cm/min");
    let comparison = compared(&old, &all, CodeName::Iso15614);
    let [change] = comparison.changes.as_slice() else { panic!("{:#?}", comparison.changes) };
    assert_eq!((&*change.pointer, change.runs.as_deref()), ("/processes/135/travel_speed", Some("1-4")));

    let fewer = base(json!([{"run": "1-3", "process": "135"}]));
    let comparison = compared(&old, &fewer, CodeName::Iso15614);
    let [change] = comparison.changes.as_slice() else { panic!("{:#?}", comparison.changes) };
    assert_eq!((change.runs.as_deref(), change.new.as_deref()), (Some("4"), None));
}

#[test]
fn a_filler_of_another_name_is_the_same_filler() {
    let base = |fillers: Value, used: &str| {
        json!({
            "format": 1, "document": "procedure", "identification": {"number": "P", "revision": 1, "title": "t"},
            "parent_metals": [{"specification": "S355J2", "thickness": "10 mm"}], "joint": {"type": "butt"},
            "fillers": fillers, "processes": {"135": {"filler": used}}, "runs": [{"run": 1, "process": "135"}],
        })
    };
    let old =
        base(json!({"a": {"designation": "ER70S-6", "diameter": "1.2 mm"}, "b": {"designation": "ER70S-3"}}), "a");
    let new =
        base(json!({"b": {"designation": "ER70S-6", "diameter": "0.12 cm"}, "a": {"designation": "ER70S-3"}}), "b");
    alike("invented", "names of fillers exchanged", &old, &new);
    let other =
        base(json!({"a": {"designation": "ER70S-6", "diameter": "1.2 mm"}, "b": {"designation": "ER70S-3"}}), "b");
    let comparison = compared(&old, &other, CodeName::Iso15614);
    assert_eq!(comparison.changes.len(), 1, "{:#?}", comparison.changes);
    assert!(comparison.changes[0].pointer.ends_with("/filler"));
}

#[test]
fn nine_thousand_runs_are_compared_in_good_time() {
    let base = |off: u32, step: u32| {
        let runs: Vec<Value> = (1..=9000)
            .map(|run| json!({"run": run, "process": "135", "current": format!("{}-{} A", 100 + off + run * step, 190 + off + run * step)}))
            .collect();
        json!({
            "format": 1, "document": "procedure", "identification": {"number": "P", "revision": 1, "title": "t"},
            "parent_metals": [{"specification": "S355J2", "thickness": "10 mm"}],
            "joint": {"type": "butt"}, "processes": {"135": {"polarity": "DCEP"}}, "runs": runs,
        })
    };
    let (one, other, all_other) = (base(0, 0), base(5, 0), base(7, 1));
    for (old, new, changes) in [(&one, &one, 0), (&one, &other, 1), (&one, &all_other, 9000)] {
        let start = Instant::now();
        let comparison = compared(old, new, CodeName::AsmeIx);
        assert_eq!(comparison.changes.len(), changes);
        // Built without optimisation; the program itself has 2 s.
        assert!(start.elapsed() < Duration::from_secs(20), "{changes} changes: {:?}", start.elapsed());
    }
    // Ranges that lie over each other are cut, not written out.
    let wide: Vec<Value> = (1..=3000).map(|run| json!({"run": format!("{run}-100000"), "process": "135"})).collect();
    let mut wide_document = one.clone();
    wide_document["runs"] = json!(wide);
    let start = Instant::now();
    assert!(compared(&wide_document, &wide_document, CodeName::AsmeIx).changes.is_empty());
    assert!(start.elapsed() < Duration::from_secs(20), "{:?}", start.elapsed());
}
