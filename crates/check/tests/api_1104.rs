//! API 1104: what a record and a welder's test qualify, procedures on both sides of it, and what a change means.

mod common;

use common::{edit, example, starter};
use seamwright_check::codes::{Bounds, Effect, Qualification, classify, compare, qualify, welders};
use seamwright_check::{Context, Records, check_with};
use seamwright_model::Document;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::CodeName;
use serde_json::Value;

fn qualified(value: &Value) -> (Box<seamwright_model::test_record::TestRecord>, Qualification) {
    let Ok(Document::TestRecord(record)) = seamwright_model::load::from_value(value) else { panic!("a record") };
    let found = qualify(&record, None).unwrap_or_else(|refusals| panic!("{refusals:#?}"));
    (record, found)
}

fn text(found: &Qualification, variable: &str) -> String {
    let range = found.ranges.iter().find(|range| range.variable == variable);
    range.unwrap_or_else(|| panic!("no {variable}: {found:#?}")).bounds.text()
}

/// A record of line pipe with some values changed.
fn record(edits: &[(&str, &str)]) -> Value {
    let mut value = example("codes/record-api-1104");
    for (pointer, yaml) in edits {
        edit(&mut value, pointer, yaml);
    }
    value
}

// X52 of 7.1 mm, 5G downward with E6010 and E7010-P1: group over 42 ksi, fillers of group 1, the middle wall.
#[test]
fn the_record_of_the_examples_gives_its_ranges() {
    let (_, found) = qualified(&record(&[]));
    for (variable, range) in [
        ("base_metal_group", "yield over 42, under 65 ksi"),
        ("base_metal_thickness", "4.8-19.1 mm"),
        ("joint_design", "V"),
        ("pipe_position", "fixed"),
        ("progression", "downward"),
        ("preheating", "80 °C minimum"),
        ("time_between_runs", "5 min maximum"),
        ("pipeline_filler_group", "group 1"),
        ("polarity", "DCEP"),
        ("post_weld_heat_treatment", "none"),
    ] {
        assert_eq!(text(&found, variable), range, "{variable}");
    }
    let wall = found.ranges.iter().find(|range| range.variable == "base_metal_thickness").unwrap();
    assert_eq!(wall.other.as_ref().map(Bounds::text).as_deref(), Some("0.188 to 3/4 in"));
}

// Walls under 0.188 in (4.8 mm), to 0.750 in (19.1 mm), over; grades from 65 ksi each by itself.
#[test]
fn walls_and_strengths_fall_into_their_groups() {
    for (wall, range) in [
        ("4.7 mm", "under 4.8 mm"),
        ("4.8 mm", "4.8-19.1 mm"),
        ("19.1 mm", "4.8-19.1 mm"),
        ("19.2 mm", "over 19.1 mm"),
        ("0.187 in", "under 0.188 in"),
        ("0.188 in", "0.188 to 3/4 in"),
        ("3/4 in", "0.188 to 3/4 in"),
        ("0.76 in", "over 3/4 in"),
    ] {
        let (_, found) = qualified(&record(&[("/parent_metals/0/thickness", wall)]));
        assert_eq!(text(&found, "base_metal_thickness"), range, "{wall}");
    }
    for (grade, group) in
        [("API 5L B", "yield 42 ksi maximum"), ("API 5L X42", "yield 42 ksi maximum"), ("API 5L X65", "API 5L X65")]
    {
        let (_, found) = qualified(&record(&[("/parent_metals/0/specification", grade)]));
        assert_eq!(text(&found, "base_metal_group"), group, "{grade}");
    }
}

/// Errors against the record that a changed procedure of the library has.
fn outside(edits: &[(&str, &str)]) -> Vec<String> {
    outside_of(&[], edits)
}

/// The same of a changed record.
fn outside_of(tested: &[(&str, &str)], edits: &[(&str, &str)]) -> Vec<String> {
    let (own, found) = qualified(&record(tested));
    let mut value = starter("pipe-butt-x52-111-pj");
    for (pointer, yaml) in edits {
        edit(&mut value, pointer, yaml);
    }
    let document = seamwright_model::load::from_value(&value).unwrap();
    let records = Records { code: CodeName::Api1104, records: &[&own], qualifications: &[&found] };
    let outcome = check_with(&document, &Context { records: Some(records), ..Context::default() });
    let ours = |name: &str| compare::RULES.iter().any(|rule| rule.name == name);
    outcome
        .findings
        .into_iter()
        .filter(|own| own.severity == Severity::Error && ours(own.check))
        .map(|own| own.message)
        .collect()
}

#[test]
fn a_procedure_is_held_against_its_record() {
    let warm = ("/temperatures/preheating", "80 °C minimum");
    assert!(outside(&[warm]).is_empty(), "{:?}", outside(&[warm]));
    for (edits, word) in [
        (&[warm, ("/parent_metals/0/thickness", "19.2 mm")][..], "thickness"),
        (&[warm, ("/parent_metals/0/specification", "API 5L X65")][..], "base metal group"),
        (&[warm, ("/positions", "[1G]"), ("/progression", "")][..], "pipe position"),
        (&[warm, ("/joint/preparation", "single-u")][..], "joint design"),
        (&[warm, ("/temperatures/time_between_runs", "6 min maximum")][..], "time between runs"),
        (&[("/temperatures/preheating", "75 °C minimum")][..], "preheating"),
        (&[warm, ("/fillers/fill-electrode/designation", "E8018-C3")][..], "filler group"),
        (&[warm, ("/processes/111/polarity", "DCEN")][..], "polarity"),
    ] {
        let found = outside(edits);
        assert!(found.iter().any(|own| own.contains(word)), "{edits:?}: {found:?}");
    }
}

#[test]
fn changes_are_classified_by_5_4_2() {
    for (key, process, reference) in [
        ("parent_metals.specification", "111", "5.4.2.3"),
        ("joint.preparation", "111", "5.4.2.4"),
        ("temperatures.time_between_runs", "111", "5.4.2.9"),
        ("settings.shielding_gas.designation", "135", "5.4.2.11"),
        ("temperatures.preheating", "111", "5.4.2.14"),
    ] {
        let found = classify(key, CodeName::Api1104, process, false);
        let first = found.first().unwrap_or_else(|| panic!("{key}"));
        assert_eq!((first.effect, first.reference.as_str()), (Effect::Essential, reference), "{key}");
    }
    assert!(classify("settings.shielding_gas.designation", CodeName::Api1104, "111", false).is_empty());
    assert!(classify("identification.title", CodeName::Api1104, "111", false).is_empty());
}

// A test in 6G on 168.3 mm by 7.1 mm with a group 1 electrode, downward.
#[test]
fn a_welder_is_covered_as_the_code_says() {
    let Ok(Document::Shop(shop)) = seamwright_model::load::from_value(&example("codes/welders")) else {
        panic!("a shop")
    };
    let covers = welders::covers(&shop, None);
    let api = covers.iter().find(|own| own.test.number.as_deref() == Some("A-31")).unwrap();
    let text = |variable: &str| {
        let range = api.ranges.iter().find(|range| range.variable == variable);
        range.unwrap_or_else(|| panic!("no {variable}")).bounds.text()
    };
    assert_eq!(text("outside_diameter"), "60.3-323.9 mm");
    assert_eq!(text("base_metal_thickness"), "4.8-19.1 mm");
    assert_eq!(text("position"), "flat, horizontal, vertical, overhead");
    assert_eq!(text("pipe_position"), "fixed, rolled");
    assert_eq!(text("progression"), "downward");
    assert_eq!(text("pipeline_filler_group"), "group 1, group 2");
    assert_eq!(text("backing"), "with backing, without backing");
    // One welder for each code, each with ranges.
    assert_eq!(covers.len(), 5);
    assert!(covers.iter().all(|own| own.ranges.len() > 3));
}

/// Gaps of the pipeline welder of the examples for a changed procedure of the library.
fn gaps(edits: &[(&str, &str)]) -> Vec<String> {
    let Ok(Document::Shop(shop)) = seamwright_model::load::from_value(&example("codes/welders")) else {
        panic!("a shop")
    };
    let mut value = starter("pipe-butt-x52-111-pj");
    for (pointer, yaml) in edits {
        edit(&mut value, pointer, yaml);
    }
    let document = seamwright_model::load::from_value(&value).unwrap();
    let Document::Procedure(procedure) = &document else { panic!("a procedure") };
    let fits = welders::fits(&seamwright_weld::View::new(procedure), &shop);
    fits.into_iter()
        .find(|own| own.cover.test.number.as_deref() == Some("A-31"))
        .map(|own| own.gaps)
        .unwrap_or_default()
}

#[test]
fn what_the_test_does_not_cover_is_told() {
    assert!(gaps(&[]).is_empty(), "{:?}", gaps(&[]));
    for (edits, word) in [
        (&[("/parent_metals/0/outside_diameter", "355.6 mm")][..], "diameter"),
        (&[("/parent_metals/0/thickness", "4.5 mm")][..], "thickness"),
        (&[("/progression", "upward"), ("/positions", "[5G]")][..], "progression"),
        (&[("/fillers/fill-electrode/designation", "E7018")][..], "filler"),
    ] {
        let found = gaps(edits);
        assert!(found.iter().any(|own| own.contains(word)), "{edits:?}: {found:?}");
    }
}

/// The size at which a group begins or ends with "over" and "under" lies in the next one.
#[test]
fn a_wall_at_the_end_of_a_group_lies_in_the_next() {
    const WALL: &str = "/parent_metals/0/thickness";
    for (tested, wall, fits) in [
        ("4.7 mm", "4.79 mm", true),
        ("4.7 mm", "4.8 mm", false),
        ("19.2 mm", "19.1 mm", false),
        ("19.2 mm", "19.11 mm", true),
    ] {
        let found = outside_of(&[(WALL, tested)], &[(WALL, wall)]);
        assert_eq!(
            !found.iter().any(|own| own.starts_with("base metal thickness")),
            fits,
            "{tested} {wall}: {found:#?}"
        );
    }
}
