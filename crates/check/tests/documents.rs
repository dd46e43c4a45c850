//! The checks of test records, shops and lessons find their faulty cases, stay quiet on their sound ones and explain
//! themselves; and the examples of these documents are clean.

mod common;

use std::fs;
use std::path::Path;

use common::{edited, example};
use seamwright_check::subject::Subject;
use seamwright_check::{Rule, check_document, explanations, lessons, records, shops};

/// Runs the cases of a list of rules over documents of `examples/`.
fn cases<S: Subject>(rules: &[&Rule<S>]) {
    assert!(rules.windows(2).all(|pair| pair[0].name < pair[1].name));
    for rule in rules {
        assert!(!rule.faulty.is_empty() && !rule.sound.is_empty(), "{}", rule.name);
        for (case, faulty) in rule.faulty.iter().map(|case| (case, true)).chain(rule.sound.iter().map(|c| (c, false))) {
            let outcome = check_document(&edited(&example(case.base), case));
            let found: Vec<_> = outcome.findings.iter().filter(|finding| finding.check == rule.name).collect();
            assert_eq!(
                !found.is_empty(),
                faulty,
                "{} on {} {:?}: {:#?}",
                rule.name,
                case.base,
                case.edits,
                outcome.findings
            );
        }
    }
}

#[test]
fn checks_of_test_records_find_their_faults() {
    cases(records::RULES);
}

#[test]
fn checks_of_shops_find_their_faults() {
    cases(shops::RULES);
}

#[test]
fn checks_of_lessons_find_their_faults() {
    cases(lessons::RULES);
}

#[test]
fn every_check_is_explained_under_a_name_of_its_own() {
    let all = explanations();
    assert!(all.windows(2).all(|pair| pair[0].name < pair[1].name));
    for rule in all {
        for part in [rule.finds, rule.matters, rule.remedy, rule.limit] {
            assert!(part.ends_with('.') && part.len() > 15, "{}: {part}", rule.name);
        }
        for table in rule.tables {
            assert!(seamwright_handbook::table(table).is_ok(), "{}: {table}", rule.name);
        }
    }
}

#[test]
fn the_examples_have_no_error_and_no_caution() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    for folder in ["inspection", "shop", "lesson"] {
        for entry in fs::read_dir(root.join(folder)).expect("the examples") {
            let path = entry.expect("an entry").path();
            if path.extension().is_some_and(|ending| ending == "yaml") && !path.to_string_lossy().contains("faulty") {
                let name = path.display().to_string();
                let loaded = seamwright_model::load(&name, &fs::read(&path).expect("a file"))
                    .unwrap_or_else(|(_, faults)| panic!("{name}: {faults:#?}"));
                let findings = check_document(&loaded.document).findings;
                let loud: Vec<_> = findings.iter().filter(|f| f.severity.as_str() != "note").collect();
                assert!(loud.is_empty(), "{name}: {loud:#?}");
            }
        }
    }
}
