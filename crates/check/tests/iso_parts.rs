//! The parts of ISO 15614 and ISO 9606: level 1 of part 1, and aluminium. All figures are from memory, as the tables say.

mod common;

use common::{edit, example, starter};
use seamwright_check::codes::{Bounds, Qualification, qualify, welders};
use seamwright_model::Document;
use seamwright_model::document::Document::{Shop, TestRecord};
use seamwright_model::shop::WelderCode;
use serde_json::Value;

fn qualified(value: &Value) -> Result<Qualification, String> {
    let Ok(TestRecord(record)) = seamwright_model::load::from_value(value) else { panic!("a record") };
    qualify(&record, None)
        .map_err(|all| all.into_iter().map(|own| format!("{}: {:?}", own.message, own.hint)).collect())
}

fn text(found: &Qualification, variable: &str) -> Option<String> {
    found.ranges.iter().find(|range| range.variable == variable).map(|range| range.bounds.text())
}

/// ISO 15614-1:2017 level 1: thickness and deposit as ASME IX, fillets and diameters without limit, preheat and interpass by 50 °C.
#[test]
fn level_1_has_ranges_of_its_own() {
    let plate = |thickness: &str| {
        let mut value = example("inspection/record-iso");
        for (pointer, yaml) in [
            ("/level", "1"),
            ("/parent_metals/0/outside_diameter", ""),
            ("/parent_metals/0/thickness", thickness),
            ("/positions", "[PG]"),
            ("/temperatures/preheating", "100 °C"),
            ("/temperatures/interpass", "200 °C"),
            ("/processes", "{111: {polarity: DCEP, filler: fill-electrode}}"),
            ("/runs", "[{run: 1-3, process: 111, current: 80 A, voltage: 22 V, travel_speed: 110 mm/min}]"),
        ] {
            edit(&mut value, pointer, yaml);
        }
        value
    };
    for (thickness, base, deposit) in [
        ("10 mm", "1.5-20 mm", "1.5-20 mm"),
        ("10.5 mm", "5-21 mm", "5-21 mm"),
        ("19 mm", "5-38 mm", "5-38 mm"),
        ("39 mm", "5-78 mm", "5-78 mm"),
        ("40 mm", "5-200 mm", "5-200 mm"),
        ("150 mm", "5-199.5 mm", "5-199.5 mm"),
    ] {
        let found = qualified(&plate(thickness)).unwrap();
        assert_eq!(found.edition, "2017, level 1");
        assert_eq!(text(&found, "base_metal_thickness").as_deref(), Some(base), "{thickness}");
        assert_eq!(text(&found, "deposit_thickness").as_deref(), Some(deposit), "{thickness}");
    }
    let mut two = plate("60 mm");
    edit(
        &mut two,
        "/processes",
        "{141: {polarity: DCEN, filler: root-rod, deposit_thickness: 19 mm}, 111: {polarity: DCEP, filler: fill-electrode, deposit_thickness: 41 mm}}",
    );
    edit(
        &mut two,
        "/runs",
        "[{run: 1, process: 141, current: 80 A, voltage: 12 V, travel_speed: 90 mm/min}, {run: 2-40, process: 111, current: 80 A, voltage: 22 V, travel_speed: 110 mm/min}]",
    );
    let found = qualified(&two).unwrap();
    let deposits: Vec<String> = found
        .ranges
        .iter()
        .filter(|range| range.variable == "deposit_thickness")
        .map(|range| range.bounds.text())
        .collect();
    // Under 20 mm twice the deposit, from it on as the parent metal.
    assert_eq!(deposits, ["38 mm maximum", "200 mm maximum"]);
    let found = qualified(&plate("10 mm")).unwrap();
    assert_eq!(text(&found, "position").as_deref(), Some("all"));
    assert_eq!(text(&found, "outside_diameter"), None);
    assert_eq!(text(&found, "preheating").as_deref(), Some("50 °C minimum"));
    assert_eq!(text(&found, "interpass").as_deref(), Some("250 °C maximum"));
    let mut fillet = plate("10 mm");
    edit(&mut fillet, "/joint", "{type: tee, weld: fillet}");
    edit(&mut fillet, "/weld_size", "{throat: 4 mm}");
    let found = qualified(&fillet).unwrap();
    assert_eq!(text(&found, "base_metal_thickness").as_deref(), Some("0 mm minimum"));
    // Level 2 of the same coupon.
    let mut second = plate("10 mm");
    edit(&mut second, "/level", "2");
    let found = qualified(&second).unwrap();
    assert_eq!(found.edition, "2017, level 2");
    assert_eq!(text(&found, "base_metal_thickness").as_deref(), Some("3-20 mm"));
    assert_eq!(text(&found, "position").as_deref(), Some("vertical downward"));
}

/// ISO 15614-2:2005 Tables 3 to 6: both sides of 3 and 20 mm, of a throat of 10 mm, of 25 mm diameter; groups of aluminium.
#[test]
fn tests_of_aluminium_cover_what_the_tables_say() {
    let with = |edits: &[(&str, &str)]| {
        let mut value = example("codes/record-iso-15614-2");
        for (pointer, yaml) in edits {
            edit(&mut value, pointer, yaml);
        }
        value
    };
    for (thickness, range) in [
        ("3 mm", "1.5-6 mm"),
        ("3.1 mm", "3-6.2 mm"),
        ("20 mm", "3-40 mm"),
        ("20.1 mm", "16.08 mm minimum"),
        ("1/4 in", "3-12.7 mm"),
    ] {
        let found = qualified(&with(&[("/parent_metals/0/thickness", thickness)])).unwrap();
        assert_eq!(text(&found, "base_metal_thickness").as_deref(), Some(range), "{thickness}");
    }
    for (throat, range) in [("9.96 mm", "7.47-14.94 mm"), ("10 mm", "7.5 mm minimum")] {
        let fillet = [("/joint", "{type: tee, weld: fillet}"), ("/weld_size", &format!("{{throat: {throat}}}"))];
        let found = qualified(&with(&fillet)).unwrap();
        assert_eq!(text(&found, "throat_thickness").as_deref(), Some(range), "{throat}");
    }
    for (diameter, range) in [("25 mm", "12.5-50 mm"), ("26 mm", "25 mm minimum")] {
        let found = qualified(&with(&[("/parent_metals/0/outside_diameter", diameter)])).unwrap();
        assert_eq!(text(&found, "outside_diameter").as_deref(), Some(range), "{diameter}");
    }
    let found = qualified(&with(&[])).unwrap();
    assert_eq!(found.edition, "2005");
    assert_eq!(text(&found, "base_metal_group").as_deref(), Some("22.1, 22.2, 22.3, 22.4"));
    assert_eq!(text(&found, "polarity").as_deref(), Some("AC"));
    assert_eq!(text(&found, "outside_diameter").as_deref(), Some("150 mm minimum"));
    let refused = qualified(&with(&[("/parent_metals/0/specification", "S355J2+N")])).unwrap_err();
    assert!(refused.contains("iso-15614-1"), "{refused}");
    let mut steel = example("inspection/record-iso");
    edit(&mut steel, "/parent_metals/0/specification", "5083-O");
    let refused = qualified(&steel).unwrap_err();
    assert!(refused.contains("iso-15614-2"), "{refused}");
}

/// ISO 9606-2:2004: both sides of 6 mm and of 25 mm diameter; groups; positions; two years; a butt covers fillets.
#[test]
fn welders_of_aluminium_are_covered_as_the_tables_say() {
    let covers = |edits: &[(&str, &str)]| {
        let mut value = example("codes/welders");
        for (key, yaml) in edits {
            edit(&mut value, &format!("/welders/4/tests/0/{key}"), yaml);
        }
        let Ok(Shop(shop)) = seamwright_model::load::from_value(&value) else { panic!("a shop") };
        let found = welders::covers(&shop, Some(WelderCode::Iso9606Aluminium));
        let ranges = found[0].ranges.clone();
        (ranges, found[0].lapses.map(|date| date.to_string()), shop)
    };
    let said = |edits: &[(&str, &str)], variable: &str| {
        covers(edits).0.into_iter().find(|range| range.variable == variable).map(|range| range.bounds.text())
    };
    for (thickness, range) in [("6 mm", "3-12 mm"), ("6.1 mm", "6 mm minimum"), ("1/4 in", "6 mm minimum")] {
        assert_eq!(said(&[("thickness", thickness)], "deposit_thickness").as_deref(), Some(range), "{thickness}");
    }
    for (across, range) in [("25 mm", "25-50 mm"), ("25.1 mm", "25 mm minimum"), ("60 mm", "30 mm minimum")] {
        let pipe = [("product", "pipe"), ("outside_diameter", across)];
        assert_eq!(said(&pipe, "outside_diameter").as_deref(), Some(range), "{across}");
    }
    assert_eq!(said(&[], "metal_group").as_deref(), Some("21, 22"));
    assert_eq!(said(&[("metal", "6082-T6")], "metal_group").as_deref(), Some("21, 22, 23"));
    assert_eq!(said(&[("positions", "[PF]")], "position").as_deref(), Some("PA, PB, PF"));
    // Six months from the last use; two years from the test where it is used on.
    assert_eq!(covers(&[]).1.as_deref(), Some("2026-08-25"));
    assert_eq!(covers(&[("date", "2024-06-01")]).1.as_deref(), Some("2026-06-01"));
    let gaps = |base: &str, edits: &[(&str, &str)]| {
        let (_, _, shop) = covers(edits);
        let Ok(Document::Procedure(own)) = seamwright_model::load::from_value(&starter(base)) else { panic!() };
        let view = seamwright_weld::View::new(&own);
        let fits = welders::fits(&view, &shop);
        fits.into_iter()
            .filter(|fit| &*fit.cover.welder.name == "A. Nakamura")
            .flat_map(|fit| fit.gaps)
            .collect::<Vec<_>>()
    };
    assert_eq!(gaps("butt-6-5083-141", &[]), Vec::<String>::new());
    let fillet = gaps("tee-fillet-3-6061-141", &[]);
    assert!(fillet.iter().any(|gap| gap.contains("of group 23")), "{fillet:?}");
    assert!(!fillet.iter().any(|gap| gap.contains("the test is a")), "{fillet:?}");
    let small = covers(&[]).0.into_iter().find(|range| range.variable == "weld_type").unwrap();
    assert!(matches!(small.bounds, Bounds::Set(words) if words == ["groove", "fillet"]));
}
