//! The weld metal of a stainless run on the WRC-1992 diagram, against figures worked out by hand.

use seamwright_model::document::Document;
use seamwright_model::load;
use seamwright_weld::{View, constitution};

fn of(metals: &str, filler: &str) -> Option<constitution::WeldMetal> {
    let text = format!(
        "format: 1\ndocument: procedure\nidentification: {{number: P-1, revision: 1, title: Trial}}\n\
         parent_metals: [{metals}]\nfillers: {{rod: {{{filler}}}}}\nprocesses: {{141: {{polarity: DCEN, filler: rod}}}}\n\
         runs: [{{run: 1, process: 141}}]\n"
    );
    let loaded = load::load("trial.yaml", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:?}"));
    let Document::Procedure(procedure) = &loaded.document else { panic!("no procedure") };
    let view = View::new(procedure);
    constitution::of(&view, &view.runs[0])
}

// Equivalents by Kotecki and Siewert, Welding Journal 71 (1992) 171-s. Dilution of 141 is 20 to 40 % (welding handbook), 30 %
// here: Cr 0.7 x 20 + 0.3 x 18.2 = 19.46 %, Ni 0.7 x 10 + 0.3 x 8.5 + 35 x 0.02 + 20 x 0.05 = 11.25 %. At that nickel the
// lines of FN 0 and 10 (from memory) stand at 16.906 and 19.713 % chromium: FN 9.1.
#[test]
fn stated_compositions_give_the_point_by_hand() {
    let weld = of(
        "{specification: 304L, composition: {C: 0.02, Cr: 18.2, Ni: 8.5, N: 0.05}}",
        "designation: ER308L, composition: {C: 0.02, Cr: 20, Ni: 10, N: 0.05}",
    )
    .expect("a stainless weld");
    assert!((weld.points.weld.chromium_pct - 19.46).abs() < 1e-9);
    assert!((weld.points.weld.nickel_pct - 11.25).abs() < 1e-9);
    assert!((weld.ferrite.value - 9.1).abs() < 0.01, "{}", weld.ferrite.value);
    assert!(!weld.by_specification);
}

// Practice: 309L keeps more ferrite in a joint of 304L and carbon steel than 308L does.
#[test]
fn a_joint_with_carbon_steel_shows_why_it_takes_309l() {
    let metals = "{specification: 304L}, {specification: S355J2}";
    let overalloyed = of(metals, "designation: ER309L").expect("a stainless weld");
    let plain = of(metals, "designation: ER308L").expect("a stainless weld");
    assert!(overalloyed.by_specification);
    assert!(overalloyed.ferrite.value > 3.0, "{}", overalloyed.ferrite.value);
    assert!(plain.ferrite.value < overalloyed.ferrite.value, "{}", plain.ferrite.value);
}

#[test]
fn carbon_steel_and_aluminium_have_no_place_on_the_diagram() {
    assert_eq!(of("{specification: S355J2}", "designation: ER70S-6"), None);
    assert_eq!(of("{specification: 6061-T6}", "designation: ER4043"), None);
}
