//! The prequalified route of AWS D1.1 held against the code's own tables, on both sides of their bounds in both units.

mod common;

use common::{edit, starter};
use seamwright_check::{Outcome, check_document};
use seamwright_handbook::aws_d1_1::{self, JointRow, PrequalifiedRow, Printed};
use seamwright_handbook::measure::length_text;
use seamwright_model::finding::Severity;
use serde_json::Value;

const GROOVE: &str = "butt-3-8-in-a36-111-3g";
const FILLET: &str = "tee-fillet-3-8-in-a992-136";

fn outcome(document: &Value) -> Outcome {
    check_document(&seamwright_model::load::from_value(document).expect("a procedure"))
}

fn edited(base: &str, edits: &[(&str, &str)]) -> Value {
    let mut document = starter(base);
    for (pointer, yaml) in edits {
        edit(&mut document, pointer, yaml);
    }
    document
}

/// Errors of a check.
fn errors(document: &Value, check: &str) -> Vec<String> {
    let found = outcome(document).findings.into_iter();
    found.filter(|own| own.check == check && own.severity == Severity::Error).map(|own| own.message).collect()
}

// An overhead 1/2 in fillet in one pass with 1/4 in E7018, a gap of 1/2 in and metal at 32 °F, of 1 in plate.
#[test]
fn a_fillet_that_breaks_every_table_of_the_code_is_refused_by_each() {
    let document = edited(
        FILLET,
        &[
            ("/parent_metals", "[{specification: A36, thickness: 1 in}]"),
            ("/joint/root_gap", "1/2 in"),
            ("/weld_size/leg", "1/2 in"),
            ("/positions", "[4F]"),
            ("/fillers", "{electrode: {designation: E7018, diameter: 1/4 in}}"),
            ("/processes", "{SMAW: {polarity: DCEP, filler: electrode, current: 300 A}}"),
            ("/temperatures/preheating", "32 °F minimum"),
            ("/runs", "[{run: 1, layer: single, process: SMAW}]"),
        ],
    );
    let found = outcome(&document).findings;
    for check in [
        "prequalified-electrode-too-large",
        "prequalified-fillet-pass-too-large",
        "fillet-gap-too-wide",
        "preheat-below-needed",
    ] {
        let own = found.iter().find(|own| own.check == check).unwrap_or_else(|| panic!("{check}: {found:#?}"));
        assert_eq!(own.severity, Severity::Error, "{own:?}");
        let source = own.source.as_ref().expect("a source");
        assert!(source.title.contains("D1.1"), "{own:?}");
    }
}

/// UFC 3-320-01A after AWS D1.1 (published): A36 with low-hydrogen electrodes, 12, 25, 50 and 75 mm ask for 32, 50, 150 and
/// 225 °F.
#[test]
fn preheat_of_a36_follows_a_published_table() {
    for (thickness, fahrenheit) in [("1/2 in", 32), ("1 in", 50), ("2 in", 150), ("3 in", 225)] {
        let found = |stated: String| {
            let document = edited(
                FILLET,
                &[
                    ("/parent_metals", &*format!("[{{specification: A36, thickness: {thickness}}}]")),
                    ("/weld_size/leg", "5/16 in"),
                    ("/fillers", "{electrode: {designation: E7018, diameter: 1/8 in}}"),
                    ("/processes", "{SMAW: {polarity: DCEP, filler: electrode, current: 120 A}}"),
                    ("/temperatures/preheating", &*stated),
                    ("/runs", "[{run: 1-3, layer: fill, process: SMAW}]"),
                ],
            );
            errors(&document, "preheat-below-needed")
        };
        assert!(found(format!("{fahrenheit} °F minimum")).is_empty(), "{thickness}");
        if fahrenheit > 50 {
            assert!(!found(format!("{} °F minimum", fahrenheit - 10)).is_empty(), "{thickness}");
        }
    }
}

/// Process, position and base of a case for a row of the table.
fn places(row: &PrequalifiedRow) -> Option<(String, &'static str, &'static str)> {
    let process = row.processes.iter().copied().find(|own| matches!(*own, "111" | "136" | "121"))?;
    let fillet = row.weld == Some("fillet") || row.quantity == "single-pass-fillet";
    let position = match (row.position, fillet) {
        (Some("flat") | None, true) => "1F",
        (Some("horizontal"), true) => "2F",
        (Some("vertical"), true) => "3F",
        (Some(_), true) => "4F",
        (Some("flat") | None, false) => "1G",
        (Some("horizontal"), false) => "2G",
        (Some("vertical"), false) => "3G",
        (Some(_), false) => "4G",
    };
    Some((process.to_owned(), position, if fillet { FILLET } else { GROOVE }))
}

// Each limit of Table 5.1 that is a length: met it is silent, a little over it is an error, in inches and in millimetres.
#[test]
fn lengths_of_table_5_1_bound_on_both_sides_in_both_units() {
    let mut tried = 0;
    for row in aws_d1_1::prequalified() {
        let (Some(mm), Some(inches), Some((process, position, base))) = (row.maximum, row.maximum_in, places(row))
        else {
            continue;
        };
        if row.electrodes.is_some_and(|own| own != "single") {
            continue;
        }
        let (check, pointer) = match row.quantity {
            "electrode-diameter" => ("prequalified-electrode-too-large", "/fillers/own/diameter"),
            "single-pass-fillet" => ("prequalified-fillet-pass-too-large", "/weld_size/leg"),
            "root-pass-thickness" | "fill-pass-thickness" => ("prequalified-run-too-thick", "/runs/0/run_thickness"),
            other => panic!("{other}"),
        };
        let root = row.quantity == "root-pass-thickness" || row.weld == Some("root");
        // The run over the root where the row is not of the root.
        let number = if root || base == FILLET { "1" } else { "2" };
        let runs = format!("[{{run: {number}, process: '{process}', filler: own}}]");
        for (figure, unit, step) in [(mm, "mm", 0.8_f64.min(0.25 * mm)), (inches.0, "in", 1.0 / 32.0)] {
            for (length, wrong) in [(figure, false), (figure + step, true)] {
                let text = length_text(length, unit);
                let document = edited(
                    base,
                    &[
                        ("/parent_metals", "[{specification: A36, thickness: 3/8 in}]"),
                        ("/positions", &format!("[{position}]")),
                        ("/progression", ""),
                        ("/fillers", "{own: {designation: E7018, diameter: 1/16 in}}"),
                        ("/processes", "{}"),
                        ("/runs", &runs),
                        (pointer, &text),
                    ],
                );
                let found = errors(&document, check);
                assert_eq!(!found.is_empty(), wrong, "{row:?} {text}: {found:?}");
                tried += 1;
            }
        }
    }
    assert!(tried > 100, "{tried}");
}

/// A procedure made to a choice of a detail, in one unit.
fn made_to(row: &JointRow, customary: bool) -> Value {
    let preparation = match row.groove() {
        1 => "square",
        2 => "single-v",
        3 => "double-v",
        4 => "single-bevel",
        5 => "double-bevel",
        6 => "single-u",
        7 => "double-u",
        8 => "single-j",
        9 => "double-j",
        _ => "",
    };
    let kind = if row.joins('B') {
        "butt"
    } else if row.joins('C') {
        "corner"
    } else {
        "tee"
    };
    // A thickness inside the row.
    let inside = |over: Option<f64>, least: Option<f64>, most: Option<f64>, other: f64| {
        let low = over.or(least);
        most.unwrap_or_else(|| low.map_or(other, |low| low * 1.25))
    };
    let inches = |own: Option<seamwright_handbook::Inches>| own.map(|own| own.0);
    let thickness = if customary {
        let of = inside(inches(row.thickness_over_in), inches(row.thickness_min_in), inches(row.thickness_max_in), 0.5);
        length_text(of, "in")
    } else {
        length_text(inside(row.thickness_over_mm, row.thickness_min_mm, row.thickness_max_mm, 12.0), "mm")
    };
    let position = match row.positions.first().copied() {
        Some("vertical") => "3G",
        _ => "1G",
    };
    let size =
        if customary { seamwright_handbook::Size::from_inches(0.25) } else { seamwright_handbook::Size::from_mm(6.0) };
    let _ = size;
    let text = |printed: Printed| printed.text(customary).replace(" to ", "-");
    let process = row.processes.iter().find(|own| matches!(**own, "111" | "136" | "121")).expect("a process");
    let mut document = edited(
        GROOVE,
        &[
            ("/parent_metals", &format!("[{{specification: A36, thickness: {thickness}}}]")),
            (
                "/joint",
                &format!(
                    "{{type: {kind}, weld: groove, detail: {}, penetration: {}}}",
                    row.designation,
                    if row.partial() { "partial" } else { "full" }
                ),
            ),
            ("/positions", &format!("[{position}]")),
            ("/runs", &format!("[{{run: 1, process: '{process}'}}, {{run: 2, process: '{process}'}}]")),
        ],
    );
    let stated = seamwright_model::load::from_value(&document).expect("a procedure");
    let seamwright_model::Document::Procedure(procedure) = &stated else { panic!("a procedure") };
    let prepared = seamwright_weld::View::new(procedure).thickness();
    let mut put = |pointer: &str, yaml: &str| edit(&mut document, pointer, yaml);
    if !preparation.is_empty() {
        put("/joint/preparation", preparation);
    }
    if let Some(opening) = row.root_opening(prepared) {
        put("/joint/root_gap", &text(opening));
    }
    if let Some(face) = row.root_face() {
        put("/joint/root_face", &text(face));
    }
    if let Some(angle) = row.angle_deg {
        put("/joint/included_angle", &format!("{angle} deg"));
    }
    if let (Some(mm), Some(inches)) = (row.root_radius_mm, row.root_radius_in) {
        put("/joint/root_radius", &if customary { length_text(inches.0, "in") } else { length_text(mm, "mm") });
    }
    put("/joint/backing", if row.backing && row.spacer.is_none() { "{type: strip}" } else { "none" });
    put("/joint/back_gouging", if row.back_gouged { "to sound metal" } else { "none" });
    document
}

const DETAIL: &str = "prequalified-detail-contradicted";

// Every choice of every detail of Figures 5.1 and 5.2, made as it is printed, in inches and in millimetres.
#[test]
fn each_detail_made_as_printed_is_that_detail_and_a_listed_one() {
    let mut wrong = Vec::new();
    for row in aws_d1_1::joints() {
        for customary in [true, false] {
            let mut document = made_to(row, customary);
            let found = outcome(&document).findings;
            wrong.extend(found.iter().filter(|own| own.check == DETAIL).map(|own| format!("{row:?}: {own:?}")));
            edit(&mut document, "/joint/detail", "");
            let unnamed = errors(&document, "prequalified-groove-unlisted");
            wrong.extend(unnamed.into_iter().map(|own| format!("{row:?}: {own}")));
        }
    }
    assert!(wrong.is_empty(), "{} wrong: {}", wrong.len(), wrong.join("\n"));
}

// The opening and the angle of each choice at the ends that fit-up may have, and a little past them.
#[test]
fn the_fit_up_of_each_detail_bounds_on_both_sides_in_both_units() {
    let mut tried = 0;
    for row in aws_d1_1::joints() {
        // One choice of a designation may begin where another ends.
        if aws_d1_1::joint(row.designation).len() > 1 {
            continue;
        }
        for customary in [true, false] {
            let document = made_to(row, customary);
            let unit = if customary { "in" } else { "mm" };
            let step = if customary { 1.0 / 64.0 } else { 0.5 };
            let prepared = {
                let stated = seamwright_model::load::from_value(&document).expect("a procedure");
                let seamwright_model::Document::Procedure(procedure) = &stated else { panic!("a procedure") };
                seamwright_weld::View::new(procedure).thickness()
            };
            if let Some(opening) = row.root_opening(prepared) {
                let of = |own: Printed| if customary { own.inches } else { own.mm };
                let (own, wide) = (of(opening), of(opening.widened(row.tolerance("as-fit-up", "root opening"))));
                for (low, high, faulty) in
                    [(wide.low, wide.high, false), (own.low, wide.high + step, true), (wide.low - step, own.high, true)]
                {
                    if low < 0.0 {
                        continue;
                    }
                    let end = |figure| length_text(figure, unit);
                    let text = format!("{}-{}", end(low).trim_end_matches(unit).trim_end(), end(high));
                    let mut changed = document.clone();
                    edit(&mut changed, "/joint/root_gap", &text);
                    let found = errors(&changed, DETAIL);
                    assert_eq!(!found.is_empty(), faulty, "{} {text}: {found:?}", row.designation);
                    tried += 1;
                }
            }
            if let (Some(angle), Some(by)) = (row.angle_deg, row.tolerance("as-fit-up", "groove angle"))
                && row.angle_2_deg.is_none()
            {
                for (low, high, faulty) in [
                    (angle - by.minus, angle + by.plus, false),
                    (angle - by.minus - 1.0, angle, true),
                    (angle, angle + by.plus + 1.0, true),
                ] {
                    let mut changed = document.clone();
                    edit(&mut changed, "/joint/included_angle", &format!("{low}-{high} deg"));
                    let found = errors(&changed, DETAIL);
                    assert_eq!(!found.is_empty(), faulty, "{} {low}-{high}: {found:?}", row.designation);
                    tried += 1;
                }
            }
        }
    }
    assert!(tried > 500, "{tried}");
}

// AWS D1.1, 7.3.2.4 (2020, from memory): A5.1 at 500 to 800 °F [260 to 430 °C] for two hours at least, A5.5 at 700 to 800 °F
// [370 to 430 °C] for one; 7.3.2.1: ovens that hold at 250 °F [120 °C] at least.
#[test]
fn drying_is_by_specification() {
    for (class, celsius, fahrenheit, hours) in
        [("E7018", (260.0, 430.0), (500.0, 800.0), 2.0), ("E8018-C3", (370.0, 430.0), (700.0, 800.0), 1.0)]
    {
        let row = aws_d1_1::exposure(class).unwrap();
        assert_eq!((row.drying_c.low, row.drying_c.high), celsius, "{class}");
        assert_eq!((row.drying_f.low, row.drying_f.high), fahrenheit, "{class}");
        assert_eq!((row.drying_h, row.holding_c, row.holding_f), (hours, 120.0, 250.0), "{class}");
    }
}

// AWS D1.1 Table 7.1 by class: E7018 4 h, with the mark R 9 h, E8018-C3 2 h, E9018-B3 1 h, E11018-M 30 min.
#[test]
fn exposure_is_by_class() {
    let hours = |class: &str| aws_d1_1::exposure(class).map(|row| row.exposure_h);
    for (class, own) in [
        ("E7018", Some(4.0)),
        ("E7018 H4R", Some(9.0)),
        ("E7018-1H4R", Some(9.0)),
        ("E7018M", Some(9.0)),
        ("E7016-1", Some(4.0)),
        ("E7018-A1", Some(4.0)),
        ("E8018-C3", Some(2.0)),
        ("E9018-B3", Some(1.0)),
        ("E11018-M", Some(0.5)),
        ("E6010", None),
        ("E71T-1", None),
        ("ER70S-6", None),
    ] {
        assert_eq!(hours(class), own, "{class}");
    }
}
