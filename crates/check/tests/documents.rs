//! The checks of test records, shops and lessons find their faulty cases, stay quiet on their sound ones and explain
//! themselves; and the examples of these documents are clean.

mod common;

use std::fs;
use std::path::Path;

use common::{edited, example, starter};
use seamwright_check::rule::Case;
use seamwright_check::subject::Subject;
use seamwright_check::{Context, Rule, check_document, check_with, explanations, kit, lessons, records, shops};
use seamwright_model::Document;
use seamwright_weld::View;

const NO_EDITS: &Case = &Case { base: "", edits: &[] };

/// Runs the cases of a list of rules over documents of `examples/`.
fn cases<S: Subject>(rules: &[&Rule<S>]) {
    assert!(rules.windows(2).all(|pair| pair[0].name < pair[1].name));
    for rule in rules {
        assert!(!rule.faulty.is_empty() && !rule.sound.is_empty(), "{}", rule.name);
        for (case, faulty) in rule.faulty.iter().map(|case| (case, true)).chain(rule.sound.iter().map(|c| (c, false))) {
            let document = edited(&example(case.base), case);
            // A lesson is seen beside the procedure and the shop that it names.
            let beside =
                (edited(&starter("lap-fillet-2-carbon-141"), NO_EDITS), edited(&example("shop/shop"), NO_EDITS));
            let context = match (&document, &beside) {
                (Document::Lesson(_), (Document::Procedure(procedure), Document::Shop(shop))) => {
                    Context { procedure: Some(procedure), shop: Some(shop), ..Context::default() }
                }
                _ => Context::default(),
            };
            let outcome = check_with(&document, &context);
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

/// Twelve learners, two welds of each exercise with an arc, 20 % lost in practice: 12 x 2 x 1.2 = 28.8 welds of each.
///
/// Worked by hand. Coupons: 12 x 1.2 = 14.4, so 15 plates to practise on with the arc off, and 29 of the beads without filler,
/// whose other side takes the beads with filler, are 44; 28.8 x 2 pieces are 58. Filler: a leg of 2 mm is
/// 2 mm2; 2 exercises x 28.8 x 150 mm x 2 mm2 x 7850 kg/m3 = 0.1356 kg, over an efficiency of 97.5 % (95 to 100, table
/// deposition-efficiency) 0.1391 kg; a rod of 1.6 x 1000 mm is 15.8 g: 9 rods. Gas: 7 L/min for 150/165 min and 2 starts of
/// 0.5 + 9 s: 8.58 L a weld, 86.4 welds are 741 L: one cylinder of 10.7 m3. Time: 3 + 2 x (8 + 10 + 12) min, in two turns.
/// Cost at 11.50 a kilogram and 8.20 a cubic metre: 1.60 and 6.08.
#[test]
fn the_kit_of_the_example_is_what_a_hand_reckons() {
    let (Document::Lesson(lesson), Document::Procedure(procedure), Document::Shop(shop)) = (
        edited(&example("lesson/lesson"), NO_EDITS),
        edited(&starter("lap-fillet-2-carbon-141"), NO_EDITS),
        edited(&example("shop/shop"), NO_EDITS),
    ) else {
        panic!("a lesson, a procedure and a shop")
    };
    let view = View::new(&procedure);
    let kit = kit::of(&lesson, &view, Some(&shop));
    assert_eq!(kit.coupons.iter().map(|own| own.pieces).collect::<Vec<_>>(), [44, 58]);
    assert_eq!(kit.fillers.len(), 1);
    assert!((kit.fillers[0].mass_kg - 0.1391).abs() < 5e-4, "{:?}", kit.fillers);
    assert_eq!(kit.fillers[0].rods, Some(9));
    let gas = &kit.gases[0];
    assert!((gas.litres - 741.3).abs() < 1.0, "{gas:?}");
    assert_eq!(gas.cylinders, Some(1));
    assert_eq!(kit.tungstens, Some(("WLa15 1.6 mm".to_owned(), 24)));
    assert!((kit.minutes_each - 63.0).abs() < 1e-9 && kit.turns == 2 && (kit.minutes_in_booths - 126.0).abs() < 1e-9);
    let costs: Vec<f64> = kit.costs().into_iter().map(|(_, cost)| cost).collect();
    assert!((costs[0] - 1.60).abs() < 0.01 && (costs[1] - 6.08).abs() < 0.01, "{costs:?}");
    assert!(kit.not_stated.is_empty(), "{:?}", kit.not_stated);
    // Twice the learners are twice the gas.
    let mut twice = lesson.clone();
    twice.learners *= 2;
    let double = kit::of(&twice, &view, None).gases[0].litres;
    assert!((double / gas.litres - 2.0).abs() < 1e-9);
}

/// What the sources of a limit disagree on is told with the finding: the preheat of 9Cr-1Mo and 1.25Cr-0.5Mo pipe.
#[test]
fn a_doubt_of_a_row_is_told_with_the_finding() {
    let base = "pipe-butt-p91-141";
    for edits in [
        &[("/parent_metals/0/specification", "A335-P9"), ("/temperatures/preheating", "60 °C minimum")],
        &[("/parent_metals/0/specification", "A335-P11"), ("/temperatures/preheating", "60 °C minimum")],
    ] {
        let outcome = check_document(&edited(&starter(base), &Case { base, edits }));
        let found = outcome.findings.iter().find(|finding| finding.check == "preheat-below-needed");
        let doubt = found.and_then(|found| found.source.as_ref()?.doubt.as_deref()).unwrap_or_default();
        assert!(doubt.contains("NAVSEA S9074"), "{edits:?}: {found:#?}");
    }
}

/// What cannot have been welded is found in a record as in a procedure, and so are days that lie ahead.
#[test]
fn a_record_of_what_cannot_be_is_found() {
    const ISO: &str = "inspection/record-iso";
    const TEST: &str = "/welders/0/tests/0/date";
    let today = Some("2026-12-31".parse().expect("a day"));
    let checks = |base: &'static str, pointer: &'static str, yaml: &'static str| -> Vec<&'static str> {
        let edits: &'static [(&str, &str)] = Box::leak(Box::new([(pointer, yaml)]));
        let document = edited(&example(base), &Case { base, edits });
        check_with(&document, &Context { today, ..Context::default() }).findings.iter().map(|own| own.check).collect()
    };
    for (pointer, yaml, check) in [
        ("/runs/1/current", "820 A", "electrode-current-above-range"),
        ("/processes/111/polarity", "DCEN", "electrode-polarity-not-permitted"),
        ("/processes/141/shielding_gas", "{designation: M21}", "shielding-gas-not-inert"),
        ("/processes/141/polarity", "DCEP", "polarity-wrong-for-metal"),
        ("/welded", "2027-01-01", "date-in-future"),
        ("/identification/date", "2027-01-01", "date-in-future"),
    ] {
        let found = checks(ISO, pointer, yaml);
        assert!(found.contains(&check), "{pointer} {yaml}: {found:?}");
    }
    assert!(checks("shop/shop", TEST, "2027-01-01").contains(&"date-in-future"));
    for base in [ISO, "inspection/record-asme", "codes/record-aws-d1-1", "codes/record-api-1104", "shop/shop"] {
        let found = checks(base, "/identification/revision", "1");
        assert!(!found.contains(&"date-in-future") && !found.contains(&"last-use-before-test"), "{base}: {found:?}");
    }
}
