//! What a joint asks: nothing of a butt where a cavity is filled, preheat by method A.

mod common;

use common::starter_with;
use seamwright_check::{Outcome, check};

fn has(outcome: &Outcome, check: &str) -> bool {
    outcome.findings.iter().any(|finding| finding.check == check)
}

#[test]
fn the_cavity_of_a_repair_has_no_faults_of_a_butt() {
    let joint = "{type: cavity, weld: groove, penetration: partial, penetration_depth: 8 mm, cavity_width: 20 mm, included_angle: 60 deg}";
    let own = starter_with("butt-12-s355-111", &[("/joint", joint)]);
    for check_name in ["backing-contradiction", "root-run-missing", "preparation-not-of-weld", "back-gouging-missing"] {
        assert!(!has(&check(&own), check_name), "{check_name}: {:#?}", check(&own).findings);
    }
}

/// EN 1011-2, Table C.1: with 4 ml/100 g, 1 kJ/mm and CE 0.49 a combined thickness of 50 mm is welded cold, with CE 0.43
/// or with 2 kJ/mm one of 100 mm. Two plates of 30 mm make 60 mm, a tee of them 90 mm; practice asks 80 °C over 25 mm.
#[test]
fn a_carbon_equivalent_as_delivered_takes_the_preheat_of_practice_away_where_method_a_does() {
    let asked = |ce: &str, kind: &str, current: &str, thickness: &str| {
        let run = format!("[{{run: 1-9, process: 111, current: {current}, voltage: 25 V, travel_speed: 150 mm/min}}]");
        let metal = format!("[{{specification: S460N, thickness: {thickness}, carbon_equivalent: {ce}}}]");
        let own = starter_with(
            "butt-12-s355-111",
            &[
                ("/parent_metals", &metal),
                ("/joint/type", kind),
                ("/runs", &run),
                ("/temperatures/preheating", "10 °C minimum"),
                ("/qualification", ""),
            ],
        );
        has(&check(&own), "preheat-below-needed")
    };
    // 175 A at 25 V and 150 mm/min with 0.8: 1.4 kJ/mm.
    assert!(!asked("0.43 %", "butt", "175 A", "30 mm"));
    assert!(asked("0.44 %", "butt", "175 A", "30 mm"));
    assert!(!asked("0.44 %", "butt", "260 A", "30 mm"), "2.08 kJ/mm");
    assert!(!asked("0.43 %", "tee", "175 A", "30 mm"));
    assert!(asked("0.43 %", "tee", "175 A", "34 mm"), "102 mm together");
    // Beyond the list the method says nothing.
    assert!(asked("0.50 %", "butt", "260 A", "30 mm"));
    assert!(asked("0.43 %", "butt", "120 A", "30 mm"), "0.96 kJ/mm");
}
