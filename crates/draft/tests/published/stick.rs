//! Covered electrodes beside currents by class and diameter, and beside the rule of thumb.

use seamwright_handbook::find;
use seamwright_model::quantity::{Current, Length};
use seamwright_model::stated::Stated;

use crate::values::{currents_a, fillers_mm, procedure, within};

/// Class, diameter in mm, current in A from the lowest to the highest of: AWS A5.1, annex A, typical amperage ranges (2004,
/// 2012); a maker's table for E6013; maker's data sheets of E308L-16, E309L-16 and E316L-16; the AWS pocket handbook for
/// covered electrodes, PHB-7 (1998). E8018 and E2209 stand as PHB-7 has them.
const CURRENTS: &[(&str, f64, (f64, f64))] = &[
    ("E6013", 2.0, (25.0, 60.0)),
    ("E6013", 2.4, (45.0, 100.0)),
    ("E6013", 3.2, (80.0, 150.0)),
    ("E7018", 2.4, (70.0, 110.0)),
    ("E7018", 3.2, (90.0, 165.0)),
    ("E7018", 4.0, (110.0, 230.0)),
    ("E308L-16", 2.4, (30.0, 80.0)),
    ("E308L-16", 3.2, (50.0, 110.0)),
    ("E308L-16", 4.0, (75.0, 140.0)),
    ("E316L-16", 2.0, (40.0, 80.0)),
    ("E316L-16", 2.4, (40.0, 100.0)),
    ("E316L-16", 3.2, (70.0, 130.0)),
    ("E316L-16", 4.0, (100.0, 160.0)),
    ("E8018-B2", 2.4, (65.0, 110.0)),
    ("E8018-B2", 3.2, (90.0, 150.0)),
    ("E8018-B2", 4.0, (130.0, 200.0)),
    ("E2209-16", 2.4, (40.0, 80.0)),
    ("E2209-16", 3.2, (70.0, 110.0)),
    ("E2209-16", 4.0, (100.0, 140.0)),
];

/// Sizes of the two systems of one electrode: 2.4 and 2.5 mm are sold for each other.
const SAME_MM: f64 = 0.11;

#[test]
fn current_lies_within_what_is_published_for_class_and_diameter() {
    let mut held = 0;
    for metal in ["S235JR", "S355J2", "304L", "316L", "A335-P11", "S32205"] {
        for thickness_mm in [3.0, 5.0, 8.0, 12.0] {
            for (joint, position) in [("butt", "PA"), ("butt", "PF"), ("tee", "PB")] {
                let what = format!("{metal} {thickness_mm} mm {joint} {position}");
                let procedure = procedure("111", metal, thickness_mm, joint, position);
                for run in &procedure.runs {
                    let name = run.settings.filler.as_deref();
                    let fillers = &procedure.fillers;
                    let filler = name.and_then(|name| fillers.get(name)).or(fillers.iter().next().map(|(_, own)| own));
                    let filler = filler.expect("a filler");
                    let size = filler.diameter.as_ref().and_then(Stated::value).and_then(|range| range.low());
                    let size = size.map(Length::mm).expect("its size");
                    let line = CURRENTS
                        .iter()
                        .find(|(class, own, _)| find::same(class, &filler.designation) && (own - size).abs() < SAME_MM);
                    let Some((_, _, limits)) = line else { continue };
                    let range = run.settings.current.as_ref().and_then(Stated::value).expect("a current");
                    let ends = range.low().zip(range.high()).expect("both ends");
                    within(&what, (Current::amperes(ends.0), Current::amperes(ends.1)), *limits);
                    held += 1;
                }
            }
        }
    }
    assert!(held > 60, "only {held} runs have a published current");
}

// Trade's rule of thumb: an ampere for each thousandth of an inch of core. It is for steel in the flat.
#[test]
fn current_follows_an_ampere_for_each_thousandth_of_core() {
    for thickness_mm in [3.0, 5.0, 8.0] {
        let procedure = procedure("111", "S235JR", thickness_mm, "tee", "PB");
        let (low, high) = currents_a(&procedure);
        let core = fillers_mm(&procedure)[0];
        let thumb = 1000.0 * core / 25.4;
        assert!(
            (0.6..=1.4).contains(&(f64::midpoint(low, high) / thumb)),
            "{thickness_mm} mm: {low}-{high} A on {core} mm, and the rule gives {thumb:.0} A"
        );
    }
}
