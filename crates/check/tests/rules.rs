//! Every check finds its faulty cases, stays quiet on its sound ones and explains itself.

use std::fs;
use std::path::Path;

use seamwright_check::rule::Case;
use seamwright_check::{Outcome, check, rules::RULES};
use seamwright_model::{Document, load};
use serde_json::Value;

fn starter(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../procedures/{name}.yaml"));
    let text = fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    match load(name, &text) {
        Ok(loaded) => loaded.tree.to_value(),
        Err((_, faults)) => panic!("{name}: {faults:#?}"),
    }
}

/// Puts a value at a pointer of a document; an empty text takes it out.
fn edit(document: &mut Value, pointer: &str, yaml: &str) {
    let mut at = document;
    let steps: Vec<String> = seamwright_model::source::steps(pointer).collect();
    let (last, sections) = steps.split_last().expect("a pointer");
    for step in sections {
        at = match at {
            Value::Array(items) => &mut items[step.parse::<usize>().expect("an index")],
            other => {
                other.as_object_mut().expect("a section").entry(step.clone()).or_insert_with(|| serde_json::json!({}))
            }
        };
    }
    match at {
        Value::Array(items) => items[last.parse::<usize>().expect("an index")] = value(yaml),
        other if yaml.is_empty() => {
            other.as_object_mut().expect("a section").remove(last);
        }
        other => {
            other.as_object_mut().expect("a section").insert(last.clone(), value(yaml));
        }
    }
}

fn value(yaml: &str) -> Value {
    let text = format!("format: 1\ndocument: procedure\nvalue: {yaml}\n");
    serde_yaml::from_str::<Value>(&text).unwrap_or_else(|error| panic!("{yaml}: {error}"))["value"].clone()
}

fn outcome(case: &Case) -> Outcome {
    let mut document = starter(case.base);
    for (pointer, yaml) in case.edits {
        edit(&mut document, pointer, yaml);
    }
    let Document::Procedure(procedure) = seamwright_model::load::from_value(&document)
        .unwrap_or_else(|reason| panic!("{} with {:?}: {reason}", case.base, case.edits));
    check(&procedure)
}

#[test]
fn each_check_finds_its_fault_and_stays_quiet_on_good_practice() {
    for rule in RULES {
        assert!(
            !rule.faulty.is_empty() && !rule.sound.is_empty() || rule.name.starts_with("deviation"),
            "{}",
            rule.name
        );
        for case in rule.faulty {
            let outcome = outcome(case);
            assert!(
                outcome.findings.iter().any(|finding| finding.check == rule.name),
                "{} does not find {} {:?}: {:#?}",
                rule.name,
                case.base,
                case.edits,
                outcome.findings
            );
        }
        for case in rule.sound {
            let outcome = outcome(case);
            let found: Vec<_> = outcome.findings.iter().filter(|finding| finding.check == rule.name).collect();
            assert!(found.is_empty(), "{} cries wolf on {} {:?}: {found:#?}", rule.name, case.base, case.edits);
        }
    }
}

#[test]
fn names_are_sorted_unique_and_documented() {
    assert!(RULES.len() >= 26, "{}", RULES.len());
    assert!(RULES.windows(2).all(|pair| pair[0].name < pair[1].name));
    for rule in RULES {
        assert!(rule.name.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-'), "{}", rule.name);
        for part in [rule.finds, rule.matters, rule.remedy, rule.limit] {
            assert!(part.ends_with('.') && part.len() > 15, "{}: {part}", rule.name);
        }
        for table in rule.tables {
            assert!(seamwright_handbook::table(table).is_ok(), "{}: {table}", rule.name);
        }
    }
}

#[test]
fn the_starter_library_has_no_error_and_no_caution() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures");
    let mut count = 0;
    for entry in fs::read_dir(folder).expect("the starter library") {
        let path = entry.expect("an entry").path();
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        if path.extension().is_some_and(|ending| ending == "yaml") {
            count += 1;
            let outcome = outcome(&Case { base: Box::leak(name.clone().into_boxed_str()), edits: &[] });
            let loud: Vec<_> = outcome.findings.iter().filter(|f| f.severity.as_str() != "note").collect();
            assert!(loud.is_empty(), "{name}: {loud:#?}");
        }
    }
    assert!(count >= 6);
}
