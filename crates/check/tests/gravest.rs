//! Of several findings the gravest stands first.

mod common;

use common::{edited, starter};
use seamwright_check::rule::Case;
use seamwright_check::{check_document, rules};

/// The checks and values of what is found, in their order.
fn found(base: &'static str, edits: &'static [(&'static str, &'static str)]) -> Vec<(&'static str, Option<String>)> {
    let outcome = check_document(&edited(&starter(base), &Case { base, edits }));
    outcome.findings.into_iter().map(|own| (own.check, own.stated)).collect()
}

/// A joint that cracks or does not fuse comes before what is not approved or not stated, whichever check found it first.
#[test]
fn of_one_severity_the_gravest_harm_comes_first() {
    let harm = |check: &str| seamwright_check::explain(check).unwrap().harm;
    let (mut kinds, mut mixed) = (std::collections::BTreeSet::new(), 0);
    for rule in rules::RULES {
        for case in rule.faulty {
            let outcome = check_document(&edited(&starter(case.base), case));
            let order: Vec<_> = outcome.findings.iter().map(|own| (own.severity, harm(own.check))).collect();
            assert!(
                order.is_sorted_by(|a, b| a.0 > b.0 || a.0 == b.0 && a.1 <= b.1),
                "{} {:?}: {order:?}",
                case.base,
                case.edits
            );
            mixed += usize::from(order.windows(2).any(|two| two[0].0 == two[1].0 && two[0].1 != two[1].1));
            kinds.extend(order.into_iter().map(|(_, harm)| harm));
        }
    }
    // Tried on findings of every harm that a procedure can have, and on many documents with more than one.
    assert!(kinds.len() >= 9 && mixed > 50, "{kinds:?}, {mixed}");
}

/// Electrodes may be dried anew; a leaner alloy creeps in service.
#[test]
fn a_wrong_alloy_comes_before_other_cautions() {
    let found = found(
        "pipe-butt-13crmo4-5-141-111",
        &[("/fillers/fill-electrode/designation", "E7018"), ("/fillers/fill-electrode/drying", "100 °C for 1 h")],
    );
    let checks: Vec<&str> = found.iter().map(|(check, _)| *check).collect();
    assert_eq!(checks.first(), Some(&"filler-leaner-than-metal"), "{checks:?}");
    assert!(checks.iter().any(|check| check.starts_with("electrode-drying")), "{checks:?}");
}

/// Carbon steel on 1.25Cr-0.5Mo stands less heat than 0.5Mo does.
#[test]
fn the_leanest_of_two_wrong_alloys_comes_first() {
    let found = found(
        "pipe-butt-13crmo4-5-141-111",
        &[("/fillers/root-rod/designation", "ER70S-A1"), ("/fillers/fill-electrode/designation", "E7018")],
    );
    let leaner: Vec<_> = found.iter().filter(|(check, _)| *check == "filler-leaner-than-metal").collect();
    let stated: Vec<_> = leaner.iter().filter_map(|(_, stated)| stated.as_deref()).collect();
    assert_eq!(stated, ["E7018", "ER70S-A1"], "{found:?}");
}
