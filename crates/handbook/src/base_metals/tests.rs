//! Names find their metals, and nothing else does.

use super::*;
use crate::metal_families;

fn name(text: &str) -> Option<&'static str> {
    find(text).map(|metal| metal.specification)
}

// How the specifications themselves write these names: ASTM A516, ASME SA-516, EN 10025-2, EN 10088-1 (number and
// name), EN 573 (EN AW-), ASTM B265.
#[test]
fn a_name_is_found_however_it_is_introduced() {
    for (written, specification) in [
        ("ASTM A516 Gr. 70", "A516-70"),
        ("SA-516 Grade 70", "A516-70"),
        ("A/SA-516 Gr 70", "A516-70"),
        ("A516/A516M Gr.70", "A516-70"),
        ("a516-70", "A516-70"),
        ("ASTM A106 Gr. B", "A106-B"),
        ("ASTM A572 Grade 50", "A572-50"),
        ("SA-387 Gr 11 Class 2", "A387-11 Cl2"),
        ("ASTM A335 P91", "A335-P91"),
        ("API 5L Gr. B", "API 5L B"),
        ("API 5L X52", "API 5L X52"),
        ("S355J2", "S355J2"),
        ("S355J2+N", "S355J2"),
        ("EN 10025-2 S355J2+N", "S355J2"),
        ("EN 10025-2:2019 S355J2", "S355J2"),
        ("BS EN 10028-2 P265GH", "P265GH"),
        ("S355", "S355JR"),
        ("p235gh", "P235GH"),
        ("16 Mo 3", "16Mo3"),
        ("13CrMo4-5", "13CrMo4-5"),
        ("304L", "304L"),
        ("AISI 304L", "304L"),
        ("ASTM A240 Type 304L", "304L"),
        ("SA-312 TP304L", "304L"),
        ("A182 F316L", "316L"),
        ("304/304L", "304L"),
        ("X5CrNi18-10", "1.4301"),
        ("EN 1.4301", "1.4301"),
        ("EN 10088-2 1.4404", "1.4404"),
        ("X5CrNi18-10 (1.4301)", "1.4301"),
        ("1.4462 / 2205", "1.4462"),
        ("UNS S32205", "S32205"),
        ("6061-T6", "6061-T6"),
        ("EN AW-6082 T6", "6082-T6"),
        ("ENAW 6082-T6", "6082-T6"),
        ("EN AW-5754 H111", "5754-H111"),
        ("AlMg4.5Mn0.7", "5083-O"),
        ("alloy 6061-T6", "6061-T6"),
        ("Grade 2 titanium", "Titanium grade 2"),
        ("ASTM B265 Gr. 2", "Titanium grade 2"),
        ("3.7035", "Titanium grade 2"),
        ("Ti-6Al-4V", "Titanium grade 5"),
        ("Cu-ETP", "Cu-ETP"),
        ("CW004A", "Cu-ETP"),
        ("alloy 625", "N06625"),
        ("UNS N10276", "N10276"),
        ("304L stainless steel", "304L"),
        ("S235JR galvanized sheet", "S235JR"),
    ] {
        assert_eq!(name(written), Some(specification), "{written}");
    }
}

#[test]
fn what_is_no_metal_is_not_found() {
    for written in ["", " ", "2", "70", "Gr", "Unobtainium 9", "A516 304L", "EN", "EN 10025-2", "+", "A", "()", "T6"] {
        assert_eq!(name(written), None, "{written}");
    }
    assert_eq!(nearest("S355J3").first().map(|name| name.starts_with("S355")), Some(true));
}

#[test]
fn condition_and_coating_in_the_name_are_told() {
    let found = lookup("S355J2+N").unwrap();
    assert_eq!((found.condition.as_deref(), found.coating), (Some("N"), None));
    let found = lookup("6082-T4").unwrap();
    assert_eq!((found.metal.specification, found.condition.as_deref()), ("6082-T6", Some("T4")));
    assert_eq!(lookup("DX51D+Z275").unwrap().coating, Some("zinc"));
    assert_eq!(lookup("S235JR, hot-dip galvanised").unwrap().coating, Some("zinc"));
    assert_eq!(lookup("S235JR").unwrap().coating, None);
}

#[test]
fn every_name_finds_its_own_row_only() {
    let mut owner: HashMap<String, &str> = HashMap::new();
    let both = indexed(rows()).map(|(name, at)| (name, &rows()[at]));
    for (name, metal) in both.chain(indexed(more()).map(|(name, at)| (name, &more()[at]))) {
        let first = *owner.entry(name.clone()).or_insert(metal.specification);
        assert_eq!(first, metal.specification, "{name}");
    }
    for metal in all() {
        for name in metal.names() {
            // Bare `P-22` is pipe of A335.
            let name = if metal.generic { name.replace("P-", "P-No. ") } else { name.to_owned() };
            assert_eq!(find(&name), Some(metal), "{name}");
        }
    }
    for row in trade_names() {
        assert!(exact(row.metal).is_some_and(|metal| metal.specification == row.metal), "{}", row.metal);
    }
}

#[test]
fn four_hundred_metals_and_their_numbers_are_known() {
    assert!(all().filter(|metal| !metal.generic).count() >= 400);
    for (written, specification) in [
        ("TP310", "310S"),
        ("TP316L", "316L"),
        ("SS304", "304"),
        ("SS 316L", "316L"),
        ("C12A", "A217-C12A"),
        ("A217 Gr. C12A", "A217-C12A"),
        ("EH36", "A131-AH36"),
        ("Q345R", "Q345R"),
        ("F22", "A182-F22 Cl3"),
        ("A182 F22", "A182-F22 Cl3"),
        ("S31603", "316L"),
        ("UNS S31603", "316L"),
        ("1.4404", "1.4404"),
        ("A513", "A513 1020"),
        ("DOM", "A513 1020 DOM"),
        ("WP22", "A234-WP22"),
        ("A105", "A105"),
        ("P-No. 8", "P-8"),
        ("P-No. 1 Gr 2", "P-1 Gr 2"),
        ("P-1", "P-1"),
        ("P No. 5A", "P-5A"),
        ("P-Number 4", "P-4"),
        ("P-11", "A335-P11"),
        ("group 1.2", "group 1.2"),
        ("ISO 15608 group 8.1", "group 8.1"),
        ("mild steel", "A36"),
        ("stainless", "304L"),
        ("aluminum", "6061-T6"),
        ("Inconel 625", "N06625"),
    ] {
        assert_eq!(name(written), Some(specification), "{written}");
    }
    assert!(lookup("mild steel").unwrap().taken.is_some_and(|taken| taken.contains("A36")));
    assert!(lookup("P-No. 8").unwrap().taken.is_some());
    assert_eq!(lookup("A36").unwrap().taken, None);
    assert_eq!(find("P-No. 8").unwrap().p_no, Some("8"));
}

// ISO/TR 15608 puts 16Mo3 and the half-molybdenum steels with the unalloyed ones; their use is at high temperature.
#[test]
fn family_agrees_with_the_iso_group() {
    for metal in all() {
        assert!(metal_families::get(metal.family).is_some(), "{}: {}", metal.specification, metal.family);
        let Some(group) = &metal.iso_group else { continue };
        let by_group = metal_families::of_group(group).unwrap_or_else(|| panic!("{group}"));
        let near = metal_families::is_in(metal.family, by_group.family)
            || metal_families::is_in(by_group.family, metal.family);
        assert!(near || metal.alloy == Some("half-mo"), "{}: {group}", metal.specification);
    }
}

// As drawings, certificates and catalogues spell product specifications of ASTM, ASME and API, and their grades.
#[test]
fn product_specifications_are_known_in_every_usual_spelling() {
    for (specification, spellings) in [
        (
            "316L",
            &[
                "A312-TP316L",
                "A312 TP316L",
                "ASTM A312 Grade TP316L",
                "ASME SA-312 TP316L",
                "SA312-TP316L",
                "A312 TP316/316L",
                "A403-WP316L",
                "A182 F316L",
                "A240-316L",
                "A270 316L",
                "A269-316L",
            ][..],
        ),
        ("304L", &["A312-TP304L", "A240-304L", "A240 Type 304L", "A312 Gr. TP304/304L", "SA-240 304L", "A554 MT304L"]),
        ("A335-P22", &["A335-P22", "A335 P22", "ASTM A335 Gr. P22", "SA-335-P22", "SA335 Grade P22", "A335/A335M-P22"]),
        (
            "A106-B",
            &[
                "A106-B",
                "A106 Gr. B",
                "ASTM A106 Grade B",
                "ASTM A106/A106M Gr.B",
                "SA-106-B",
                "SA-106 Gr B",
                "A106-Gr.B",
                "ASTM A106-B",
            ],
        ),
        ("A333-6", &["A333-6", "A333 Gr. 6", "A333 Grade 6", "ASTM A333 Gr.6", "SA-333-6", "A333-Gr.6"]),
        ("A53-B", &["A53-B", "A53 Gr. B", "ASTM A53 Grade B", "A53 Type E Grade B", "SA-53 Gr.B"]),
        (
            "API 5L X52",
            &[
                "API 5L X52",
                "API 5L Gr. X52",
                "API-5L-X52",
                "API 5LX-52",
                "5L X52",
                "X52",
                "API 5L X52N",
                "API 5L X52M PSL2",
                "API 5L X52 PSL2",
            ],
        ),
        ("API 5L X65", &["API 5L X65M", "X65Q", "API 5L L450M PSL2"]),
        ("A500-B", &["A500-B", "A500 Gr. B", "ASTM A500 Grade B", "A500-Gr.B"]),
        ("A572-50", &["A572-50", "A572 Gr. 50", "ASTM A572 GR50", "A572/A572M-50", "A572 Grade 50", "A572-Gr.50"]),
        ("A36", &["A36", "ASTM A36", "ASTM A36/A36M", "SA-36", "SA36"]),
        (
            "A516-70",
            &["A516-70", "A516 Gr. 70", "SA-516 Gr. 70", "SA516-70", "ASTM A516 Grade 70", "SA-516-70", "A516-Gr.70"],
        ),
        ("304", &["A240-304", "A240 Type 304", "SA-240-304"]),
        ("6061-T6", &["B209 6061-T6", "ASTM B221-6061-T6", "SB-209 6061-T6"]),
        ("N10276", &["B575 N10276", "ASTM B575-N10276", "SB-575 N10276"]),
    ] {
        for spelling in spellings {
            assert_eq!(find(spelling).map(|metal| metal.specification), Some(specification), "{spelling}");
        }
    }
    for nothing in ["B575", "A312", "B209", "A270 B", "A516 304L", "A999 Z", "X52Z", "L"] {
        assert!(find(nothing).is_none(), "{nothing}");
    }
}

// EN 10025-2:2004 tables 2 and 7 and ASME IX QW-422, as the facts of the table have them.
#[test]
fn groups_and_strength_are_those_of_the_standards() {
    let s355 = find("S355J2").unwrap();
    assert_eq!((s355.tensile_min_mpa, s355.yield_min_mpa), (Some(470.0), Some(355.0)));
    assert_eq!(s355.composition.max("C"), Some(0.2));
    let a36 = find("A36").unwrap();
    assert_eq!((a36.p_no, a36.group_no), (Some("1"), Some(1)));
    assert_eq!(a36.d1_1_preheat, ["A", "B"]);
    assert_eq!(find("2205").unwrap().p_no, Some("10H"));
    assert_eq!(find("5083-O").unwrap().welded_tensile_min_mpa, Some(270.0));
}

#[test]
fn figures_are_in_order() {
    for metal in all() {
        if let (Some(tensile), Some(least)) = (metal.tensile_min_mpa, metal.yield_min_mpa) {
            assert!(least < tensile, "{}", metal.specification);
        }
        for (element, content) in metal.composition.iter() {
            let share = |figure: Option<f64>| figure.is_none_or(|figure| figure > 0.0 && figure <= 100.0);
            assert!(share(content.min) && share(content.max), "{} {element}", metal.specification);
        }
    }
}
