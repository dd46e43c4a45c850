//! Procedures that leave a choice: every condition, filler and size is checked by itself.

mod common;

use common::{edit, example, procedure, starter_with};
use seamwright_check::cover::{Verdict, Wanted, cover};
use seamwright_check::{Outcome, check, completeness};
use seamwright_weld::{View, consumption};

fn of<'o>(outcome: &'o Outcome, check: &str) -> Vec<(&'o str, &'o str)> {
    let own = outcome.findings.iter().filter(|finding| finding.check == check);
    own.map(|finding| (finding.pointer.as_str(), finding.message.as_str())).collect()
}

#[test]
fn the_example_with_conditions_is_clean_and_complete() {
    let own = procedure(&example("codes/procedure-conditions"));
    let outcome = check(&own);
    let worse: Vec<_> =
        outcome.findings.iter().filter(|own| own.severity > seamwright_model::finding::Severity::Note).collect();
    assert!(worse.is_empty(), "{worse:#?}");
    let missing: Vec<_> = completeness::matrix(&View::new(&own))
        .into_iter()
        .filter(|entry| entry.keys.iter().any(|key| key.contains("preheating") || key.contains("current")))
        .filter(|entry| entry.state == completeness::State::Missing)
        .collect();
    assert!(missing.is_empty(), "{missing:#?}");
}

#[test]
fn a_fault_of_one_condition_says_which_and_stands_where_it_is_written() {
    let mut document = example("codes/procedure-conditions");
    edit(&mut document, "/conditions/thick/temperatures/interpass", "60 °C maximum");
    let outcome = check(&procedure(&document));
    let found = of(&outcome, "interpass-below-preheat");
    let [(pointer, message)] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!(*pointer, "/conditions/thick/temperatures/interpass");
    assert!(message.starts_with("thick"), "{message}");
    // The run of a condition is told by its place in the document.
    let mut document = example("codes/procedure-conditions");
    edit(&mut document, "/runs/2/current", "20-30 A");
    let outcome = check(&procedure(&document));
    assert!(outcome.findings.iter().any(|own| own.pointer == "/runs/2/current"), "{:#?}", outcome.findings);
    assert!(!outcome.findings.iter().any(|own| own.pointer == "/runs/1/current"));
}

#[test]
fn a_fault_of_every_condition_is_told_once_and_for_all() {
    let mut document = example("codes/procedure-conditions");
    edit(&mut document, "/processes/111/polarity", "DCEN");
    let outcome = check(&procedure(&document));
    let found = of(&outcome, "electrode-polarity-not-permitted");
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(!found[0].1.starts_with("thin") && !found[0].1.starts_with("thick"), "{found:?}");
}

#[test]
fn each_filler_that_may_be_taken_is_checked() {
    let good = [("/fillers/electrode/designation", "E7018 or E7016")];
    assert!(of(&check(&starter_with("tee-fillet-10-s355-111", &good)), "filler-unsuited-to-metal").is_empty());
    let bad = [("/fillers/electrode/designation", "E7018 or E308L-16")];
    let outcome = check(&starter_with("tee-fillet-10-s355-111", &bad));
    let told: Vec<_> = outcome.findings.iter().filter(|own| own.message.contains("E308L-16")).collect();
    assert!(!told.is_empty() && told.iter().all(|own| own.message.starts_with("with E308L-16")), "{told:#?}");
    let unknown = [("/fillers/electrode/designation", "E7018 or Unobtainium")];
    assert_eq!(of(&check(&starter_with("tee-fillet-10-s355-111", &unknown)), "filler-unknown").len(), 1);
}

#[test]
fn each_size_that_may_be_taken_is_checked() {
    let sizes = |text: &str| check(&starter_with("tee-fillet-10-s355-111", &[("/fillers/electrode/diameter", text)]));
    let own = sizes("3.2 mm");
    let both = sizes("3.2 or 5.0 mm");
    assert!(both.findings.len() > own.findings.len());
    assert!(both.findings.iter().any(|own| own.message.starts_with("with 5.0 mm")), "{:#?}", both.findings);
    let inches = sizes("1/8 or 3/16 in");
    assert!(inches.findings.iter().any(|own| own.message.starts_with("with 3/16 in")), "{:#?}", inches.findings);
}

#[test]
fn nozzles_are_checked_at_both_ends_of_their_range() {
    let with = |text: &str| {
        let own = starter_with("tee-fillet-3-304l-141", &[("/processes/141/torch/nozzle", text)]);
        check(&own).findings.into_iter().map(|own| (own.check, own.message)).collect::<Vec<_>>()
    };
    let own = with("No. 7");
    let several = with("No. 3 to No. 7");
    assert!(several.iter().any(|(_, message)| !own.iter().any(|(_, other)| other == message)), "{several:#?}");
    assert_eq!(with("No. 7 to No. 7"), own);
}

#[test]
fn a_joint_is_covered_where_one_condition_covers_it() {
    let mut document = example("codes/procedure-conditions");
    let wanted = |mm: f64| Wanted { thickness_mm: Some(mm), ..Wanted::default() };
    for (mm, verdict) in [(10.0, true), (20.0, true), (40.0, true), (60.0, false)] {
        assert_eq!(cover(&View::new(&procedure(&document)), &wanted(mm)).0 == Verdict::Covered, verdict, "{mm} mm");
    }
    edit(&mut document, "/conditions/thick/thickness", "25-40 mm");
    assert_ne!(cover(&View::new(&procedure(&document)), &wanted(22.0)).0, Verdict::Covered);
}

#[test]
fn an_open_run_counts_by_the_weld_metal_that_the_joint_needs() {
    let runs = |text: &str, leg: &str| {
        let own = starter_with("tee-fillet-20-s355-135", &[("/weld_size/leg", leg), ("/runs/0/run", text)]);
        let view = View::new(&own);
        consumption::counted(&view).map(|(_, count)| count).sum::<u32>()
    };
    assert_eq!(runs("1", "5 mm"), runs("1", "15 mm"));
    let (small, large) = (runs("1-n", "5 mm"), runs("1-n", "20 mm"));
    assert!(small >= 1 && large > small, "{small}, {large}");
}

/// A metal by its P-Number or its group alone has the checks that hang on the group.
#[test]
fn a_metal_by_its_number_alone_is_checked_as_far_as_that_says() {
    let with = |metal: &str, edits: &[(&str, &str)]| {
        let mut all = vec![("/parent_metals", metal)];
        all.extend_from_slice(edits);
        check(&starter_with("tee-fillet-10-s355-111", &all))
    };
    for metal in ["P-8", "group 8.1"] {
        let outcome = with(&format!("[{{specification: {metal}, thickness: 10 mm}}]"), &[]);
        assert!(!of(&outcome, "filler-unsuited-to-metal").is_empty(), "{metal}: {:#?}", outcome.findings);
        assert!(!of(&outcome, "interpass-above-usual").is_empty(), "{metal}: {:#?}", outcome.findings);
    }
    for metal in ["P-5B", "group 5.3"] {
        let outcome = with(&format!("[{{specification: {metal}, thickness: 20 mm}}]"), &[]);
        assert!(!of(&outcome, "preheat-below-needed").is_empty(), "{metal}: {:#?}", outcome.findings);
        assert!(!of(&outcome, "heat-treatment-missing").is_empty(), "{metal}: {:#?}", outcome.findings);
    }
    let unnamed = with("[{specification: Works steel 9, thickness: 10 mm, group: '8.1'}]", &[]);
    assert!(!of(&unnamed, "filler-unsuited-to-metal").is_empty(), "{:#?}", unnamed.findings);
    let sound = with("[{specification: P-1, thickness: 10 mm}]", &[]);
    assert!(of(&sound, "filler-unsuited-to-metal").is_empty() && of(&sound, "preheat-below-needed").is_empty());
}
