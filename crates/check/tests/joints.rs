//! What a joint asks and what its runs lay down: cross-sections by geometry, preheat by method A, covered electrodes by current.

mod common;

use common::starter_with;
use seamwright_check::deposit::{self, By};
use seamwright_check::{Outcome, View, check, weld};

fn has(outcome: &Outcome, check: &str) -> bool {
    outcome.findings.iter().any(|finding| finding.check == check)
}

#[test]
fn the_cavity_of_a_repair_has_its_cross_section_and_no_faults_of_a_butt() {
    let joint = |width: &str| {
        format!(
            "{{type: cavity, weld: groove, penetration: partial, penetration_depth: 8 mm, cavity_width: {width}, included_angle: 60 deg}}"
        )
    };
    let own = starter_with("butt-12-s355-111", &[("/joint", &joint("20 mm"))]);
    let area = weld::section(&View::new(&own), None).unwrap().area_mm2.middle;
    // 8 mm deep, sides of 30 degrees each: 8 x (20 - 8 x tan 30).
    assert!((area - 8.0 * (20.0 - 8.0 * 30.0_f64.to_radians().tan())).abs() < 1e-9, "{area}");
    for check_name in ["backing-contradiction", "root-run-missing", "preparation-not-of-weld", "back-gouging-missing"] {
        assert!(!has(&check(&own), check_name), "{check_name}: {:#?}", check(&own).findings);
    }
    let narrow = starter_with("butt-12-s355-111", &[("/joint", &joint("8 mm"))]);
    assert!(weld::section(&View::new(&narrow), None).unwrap_err().contains("wider than 8 mm"));
}

#[test]
fn a_flare_has_the_cross_section_that_its_round_leaves() {
    let bars = |joint: &str| {
        starter_with(
            "lap-fillet-2-carbon-141",
            &[("/parent_metals/0/form", "round bar"), ("/parent_metals/0/thickness", "20 mm"), ("/joint", joint)],
        )
    };
    let area = |joint: &str| {
        let own = bars(joint);
        weld::section(&View::new(&own), None).map(|section| section.area_mm2.middle)
    };
    // Filled flush: what a quarter of a circle of 10 mm leaves of its square, once beside a plate and twice between bars.
    let quarter = 100.0 * (1.0 - std::f64::consts::FRAC_PI_4);
    let bevel = area("{type: lap, weld: groove, preparation: flare-bevel, root_gap: 0 mm}").unwrap();
    assert!((bevel - quarter).abs() < 1e-9, "{bevel}");
    let both = area("{type: butt, weld: groove, preparation: flare-v, root_gap: 1 mm}").unwrap();
    assert!((both - 2.0 * quarter - 10.0).abs() < 1e-9, "{both}");
    // The radius of a hollow section's corner goes before the diameter; a depth that is stated, before that of the round.
    let corner = area("{type: lap, weld: groove, preparation: flare-bevel, root_radius: 6 mm}").unwrap();
    assert!((corner - 36.0 * (1.0 - std::f64::consts::FRAC_PI_4)).abs() < 1e-9, "{corner}");
    let part = "{type: lap, weld: groove, preparation: flare-bevel, penetration_depth: 5 mm, root_gap: 0 mm}";
    // A half segment of 60 degrees: 10 x 5 less 50 pi / 3 - 25 sin 60.
    let half = 50.0 - (50.0 * std::f64::consts::FRAC_PI_3 - 25.0 * 60.0_f64.to_radians().sin());
    assert!((area(part).unwrap() - half).abs() < 1e-9, "{:?}", area(part));
    let plates =
        starter_with("lap-fillet-2-carbon-141", &[("/joint", "{type: lap, weld: groove, preparation: flare-bevel}")]);
    let why = weld::section(&View::new(&plates), None).unwrap_err();
    assert!(why.contains("root_radius"), "{why}");
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

/// 0.007 to 0.012 kg an hour for each ampere, common practice: E309L of 6 mm has no rate of its size.
#[test]
fn a_covered_electrode_without_a_rate_of_its_size_lays_what_its_current_melts() {
    let laid = |designation: &str, diameter: &str| {
        let own = starter_with(
            "butt-12-s355-111",
            &[
                ("/parent_metals/0/specification", "304L"),
                ("/fillers/root-electrode/designation", designation),
                ("/fillers/root-electrode/diameter", diameter),
                ("/runs/0/current", "70-90 A"),
            ],
        );
        let view = View::new(&own);
        deposit::of(&view, &view.runs[0]).cloned().unwrap()
    };
    let own = laid("E309L-16", "6 mm");
    assert_eq!(own.by, By::Melted);
    assert!((own.rate_kg_h.low - 0.49).abs() < 1e-9 && (own.rate_kg_h.high - 1.08).abs() < 1e-9, "{own:?}");
    assert!(own.sources.iter().any(|source| source.table.as_deref() == Some("fusion-rules")), "{own:?}");
    assert_eq!(laid("E7018", "2.5 mm").by, By::Size);
}
