//! What a joint holds and what a run lays down, against figures worked out by hand.

use seamwright_model::procedure::Procedure;
use seamwright_model::{Document, load};
use seamwright_weld::deposit::{self, By};
use seamwright_weld::{View, section};

/// A procedure with these keys beside those that every document has.
fn procedure(keys: &str) -> Procedure {
    let text =
        format!("format: 1\ndocument: procedure\nidentification: {{number: P-1, revision: 1, title: Trial}}\n{keys}\n");
    let loaded = load("trial.yaml", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:?}\n{text}"));
    let Document::Procedure(procedure) = loaded.document else { panic!("a procedure") };
    *procedure
}

/// The cross-section of a joint between members, mm².
fn area(members: &str, joint: &str) -> Result<f64, String> {
    let own = procedure(&format!("parent_metals: [{members}]\njoint: {joint}"));
    section::of(&View::new(&own), None).map(|section| section.area_mm2.middle)
}

#[test]
fn a_cavity_narrows_with_depth() {
    let of = |width: &str| {
        let joint = format!(
            "{{type: cavity, weld: groove, penetration: partial, penetration_depth: 8 mm, cavity_width: {width}, included_angle: 60 deg}}"
        );
        area("{specification: S355J2, thickness: 12 mm}", &joint)
    };
    // 8 mm deep, sides of 30 degrees each: 8 x (20 - 8 x tan 30).
    let wide = of("20 mm").unwrap();
    assert!((wide - 8.0 * (20.0 - 8.0 * 30.0_f64.to_radians().tan())).abs() < 1e-9, "{wide}");
    assert!(of("8 mm").unwrap_err().contains("wider than 8 mm"));
}

#[test]
fn a_flare_has_the_cross_section_that_its_round_leaves() {
    let area = |joint: &str| area("{specification: S235JR, form: round bar, thickness: 20 mm}", joint);
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
    let plates = procedure(
        "parent_metals: [{specification: S235JR, thickness: 2 mm}]\njoint: {type: lap, weld: groove, preparation: flare-bevel}",
    );
    let why = section::of(&View::new(&plates), None).unwrap_err();
    assert!(why.contains("root_radius"), "{why}");
}

/// 0.007 to 0.012 kg an hour for each ampere, common practice: E309L of 6 mm has no rate of its size.
#[test]
fn a_covered_electrode_without_a_rate_of_its_size_lays_what_its_current_melts() {
    let laid = |designation: &str, diameter: &str| {
        let own = procedure(&format!(
            "parent_metals: [{{specification: 304L, thickness: 12 mm}}]\nfillers: {{rod: {{designation: {designation}, diameter: {diameter}}}}}\n\
             processes: {{111: {{filler: rod}}}}\nruns: [{{run: 1, process: 111, current: 70-90 A, travel_speed: 60-80 mm/min}}]"
        ));
        let view = View::new(&own);
        deposit::of(&view, &view.runs[0]).cloned().unwrap()
    };
    let own = laid("E309L-16", "6 mm");
    assert_eq!(own.by, By::Melted);
    assert!((own.rate_kg_h.low - 0.49).abs() < 1e-9 && (own.rate_kg_h.high - 1.08).abs() < 1e-9, "{own:?}");
    assert!(own.sources.iter().any(|source| source.table.as_deref() == Some("fusion-rules")), "{own:?}");
    assert_eq!(laid("E7018", "2.5 mm").by, By::Size);
}
