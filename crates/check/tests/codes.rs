//! Qualified ranges: both sides of every thickness boundary of the codes' tables, records that combine, records that give
//! nothing, and procedures held against their records.
//!
//! Sources: ASME BPVC IX (2021, 2023) QW-451.1, QW-403.6, QW-403.10, QW-406.1, QW-424.1; ISO 15614-1:2004 Table 5 and
//! :2017 Table 7; AWS D1.1:2020 Table 6.2. All rows but QW-406 and QW-424 are remembered, as the tables say.

mod common;

use common::{edit, example};
use seamwright_check::codes::compare::{AgainstRecords, RULES};
use seamwright_check::codes::{Bounds, Effect, Qualification, classify, combine, welders};
use seamwright_check::qualified as qualify;
use seamwright_check::{Context, Records, Rule, check_with};
use seamwright_model::Document;
use seamwright_model::document::Document::{Shop, TestRecord};
use seamwright_model::finding::Finding;
use seamwright_model::procedure::CodeName;
use seamwright_model::shop::WelderCode;
use serde_json::Value;

fn record(value: &Value) -> Box<seamwright_model::test_record::TestRecord> {
    match seamwright_model::load::from_value(value) {
        Ok(TestRecord(record)) => record,
        other => panic!("{other:?}"),
    }
}

fn base(code: CodeName) -> Value {
    example(if code == CodeName::AsmeIx { "inspection/record-asme" } else { "inspection/record-iso" })
}

/// A plate coupon of one process and this thickness, of so many runs.
fn plate(code: CodeName, thickness: f64, runs: &str) -> Value {
    let mut value = base(code);
    for (pointer, yaml) in [
        ("/code", code.as_str()),
        ("/parent_metals/0/outside_diameter", ""),
        ("/parent_metals/0/thickness", &format!("{thickness} mm")),
        ("/positions", "[PF]"),
        ("/processes", "{111: {polarity: DCEP, filler: fill-electrode}}"),
        ("/runs", &format!("[{{run: {runs}, process: 111, current: 80 A, voltage: 22 V, travel_speed: 110 mm/min}}]")),
    ] {
        edit(&mut value, pointer, yaml);
    }
    value
}

fn qualified(value: &Value) -> Qualification {
    qualify(&record(value), None).unwrap_or_else(|refusals| panic!("{refusals:#?}"))
}

/// Low and high of the first range of a variable, and of a process where one is named.
fn span(found: &Qualification, variable: &str, process: Option<&str>) -> (Option<f64>, Option<f64>) {
    let range = found
        .ranges
        .iter()
        .filter(|range| range.variable == variable)
        .find(|range| process.is_none_or(|process| range.process.as_deref() == Some(process)))
        .unwrap_or_else(|| panic!("no {variable}: {found:#?}"));
    match range.bounds {
        Bounds::Span { span, .. } => (span.band.low_end(), span.band.high_end()),
        ref other => panic!("{other:?}"),
    }
}

fn near(found: (Option<f64>, Option<f64>), low: f64, high: f64) -> bool {
    let same = |found: Option<f64>, meant: f64| {
        if meant.is_finite() { found.is_some_and(|found| (found - meant).abs() < 1e-6) } else { found.is_none() }
    };
    same(found.0, low) && same(found.1, high)
}

const NONE: f64 = f64::INFINITY;

/// ASME IX QW-451.1: both sides of 1.5, 10, 19, 38 and 150 mm; the deposit of one process in the whole coupon.
#[test]
fn asme_thickness_follows_qw_451_1_row_by_row() {
    for (tested, low, high, deposit) in [
        (1.0, 1.0, 2.0, 2.0),
        (1.49, 1.49, 2.98, 2.98),
        (1.5, 1.5, 3.0, 3.0),
        (9.99, 1.5, 19.98, 19.98),
        (10.0, 1.5, 20.0, 20.0),
        (10.01, 5.0, 20.02, 20.02),
        (18.99, 5.0, 37.98, 37.98),
        (19.0, 5.0, 38.0, 38.0),
        (26.2, 5.0, 52.4, 52.4),
        (37.99, 5.0, 75.98, 75.98),
        (38.0, 5.0, 200.0, 200.0),
        (150.0, 5.0, 200.0, 200.0),
        (150.01, 5.0, 199.5133, 199.5133),
        (160.0, 5.0, 212.8, 212.8),
    ] {
        let found = qualified(&plate(CodeName::AsmeIx, tested, "1-9"));
        let base = span(&found, "base_metal_thickness", None);
        assert!(near(base, low, high), "{tested}: {base:?}");
        let own = span(&found, "deposit_thickness", Some("111"));
        assert!(near(own, NONE, deposit), "{tested}: {own:?}");
        let range = found.ranges.iter().find(|range| range.variable == "base_metal_thickness").unwrap();
        assert_eq!(range.reference, "QW-451.1");
    }
}

/// QW-451.1 Note 3 of 2017 lists GMAW and not flux cored wire: from 38 mm its range says that this is a doubt.
#[test]
fn asme_thick_coupons_of_cored_wire_tell_the_doubt() {
    for (process, thickness, doubtful) in [("136", 40.0, true), ("136", 30.0, false), ("111", 40.0, false)] {
        let mut value = plate(CodeName::AsmeIx, thickness, "1-9");
        edit(&mut value, "/processes", &format!("{{{process}: {{polarity: DCEP, filler: fill-electrode}}}}"));
        edit(&mut value, "/runs/0/process", process);
        let found = qualified(&value);
        let range = found.ranges.iter().find(|range| range.variable == "base_metal_thickness").unwrap();
        let told = range.note.as_deref().is_some_and(|note| note.contains("flux cored"));
        assert_eq!(told, doubtful, "{process} {thickness}: {:?}", range.note);
    }
}

/// QW-451.1 note: a deposit under 19 mm covers twice itself in any coupon; from 19 mm on the coupon counts.
#[test]
fn asme_deposits_count_by_process() {
    for (coupon, root, fill, root_high, fill_high) in
        [(40.0, 18.99, 21.1, 37.98, 200.0), (40.0, 19.0, 21.0, 200.0, 200.0), (30.0, 4.0, 26.0, 8.0, 60.0)]
    {
        let mut value = base(CodeName::AsmeIx);
        edit(&mut value, "/parent_metals/0/thickness", &format!("{coupon} mm"));
        edit(&mut value, "/processes/GTAW/deposit_thickness", &format!("{root} mm"));
        edit(&mut value, "/processes/SMAW/deposit_thickness", &format!("{fill} mm"));
        let found = qualified(&value);
        assert!(near(span(&found, "deposit_thickness", Some("GTAW")), NONE, root_high), "{coupon} {root}");
        assert!(near(span(&found, "deposit_thickness", Some("SMAW")), NONE, fill_high), "{coupon} {fill}");
    }
}

/// QW-451.1 with QW-404.30: each F-Number qualifies by its own deposit, 2 t under 19 mm.
#[test]
fn asme_deposits_count_by_f_number() {
    let mut value = plate(CodeName::AsmeIx, 12.0, "1");
    edit(
        &mut value,
        "/fillers",
        "{root: {designation: E6010, diameter: 3.2 mm}, fill: {designation: E7018, diameter: 3.2 mm}}",
    );
    edit(&mut value, "/processes", "{111: {polarity: DCEP}}");
    edit(
        &mut value,
        "/runs",
        "[{run: 1, process: 111, filler: root, deposit_thickness: 3 mm, current: 80 A}, {run: 2-4, process: 111, filler: fill, deposit_thickness: 3 mm, current: 110 A}]",
    );
    let found = qualified(&value);
    assert_eq!(span(&found, "deposit_thickness", Some("111 with F-3")).1, Some(6.0));
    assert_eq!(span(&found, "deposit_thickness", Some("111 with F-4")).1, Some(18.0));
    // A run that does not say what it deposits leaves the shares open.
    edit(&mut value, "/runs/0/deposit_thickness", "");
    let open = qualified(&value);
    assert!(open.ranges.iter().all(|range| !range.process.as_deref().unwrap_or("").contains("with F-")));
}

/// QW-403.6 with impact tests: half the coupon under 6 mm, the coupon up to 16 mm, then 16 mm.
#[test]
fn asme_impact_tests_raise_the_lower_limit() {
    for (tested, low) in [(5.99, 2.995), (6.0, 6.0), (15.99, 15.99), (16.0, 16.0), (30.0, 16.0)] {
        let mut value = plate(CodeName::AsmeIx, tested, "1-9");
        edit(&mut value, "/toughness", "27 J at -20 °C");
        let found = qualified(&value);
        let own = found.ranges.iter().filter(|range| range.variable == "base_metal_thickness");
        let floor = own.filter_map(|range| match range.bounds {
            Bounds::Span { span, .. } => Some(span.band.low),
            _ => None,
        });
        assert!((floor.fold(0.0, f64::max) - low).abs() < 1e-6, "{tested}");
        assert!(
            found.ranges.iter().any(|range| range.reference == "QW-409.1" && range.effect == Effect::Supplementary)
        );
        assert!(found.ranges.iter().any(|range| range.reference == "QW-406.3"));
    }
}

/// QW-451.2, longitudinal bends: both sides of 1.5 and 10 mm.
#[test]
fn asme_longitudinal_bends_follow_qw_451_2() {
    for (tested, low, high) in
        [(1.49, 1.49, 2.98), (1.5, 1.5, 3.0), (10.0, 1.5, 20.0), (10.01, 5.0, 20.02), (40.0, 5.0, 80.0)]
    {
        let mut value = plate(CodeName::AsmeIx, tested, "1-9");
        edit(&mut value, "/tests/3/type", "longitudinal face");
        let found = qualified(&value);
        let own = span(&found, "base_metal_thickness", None);
        assert!(near(own, low, high), "{tested}: {own:?}");
        let range = found.ranges.iter().find(|range| range.variable == "base_metal_thickness").unwrap();
        assert_eq!(range.reference, "QW-451.2");
    }
}

/// QW-407.4: a treatment above the upper transformation caps ferrous metals but P-7, P-8 and P-45 at 1.1 times the coupon; one
/// below the lower transformation, and a solution treatment of P-8, cap nothing.
#[test]
fn asme_heat_treatment_above_the_transformation_caps_thickness() {
    for (metal, held, high, reference) in [
        ("A106-B", "920 °C", 13.2, "QW-407.4"),
        ("A106-B", "850 °C", 13.2, "QW-407.4"),
        ("A106-B", "610 °C", 24.0, "QW-451.1"),
        ("P91", "1050 °C", 13.2, "QW-407.4"),
        ("P91", "760 °C", 24.0, "QW-451.1"),
        ("304L", "1050 °C", 24.0, "QW-451.1"),
    ] {
        let mut value = plate(CodeName::AsmeIx, 12.0, "1-9");
        edit(&mut value, "/parent_metals/0/specification", metal);
        let treatment = format!("{{temperature: {held}, time: 30 min}}");
        edit(&mut value, "/temperatures/post_weld_heat_treatment", &treatment);
        let found = qualified(&value);
        assert!(near(span(&found, "base_metal_thickness", None), 5.0, high), "{metal} {held}: {found:#?}");
        let range = found.ranges.iter().find(|range| range.variable == "base_metal_thickness").unwrap();
        assert_eq!(range.reference, reference, "{metal} {held}");
    }
}

/// QW-202.4: from 38 mm on, or 6 mm of P-8 and others, the thicker member has no limit; ISO 15614-1 8.3.2: from 30 mm on.
#[test]
fn the_thicker_of_two_members_may_have_no_limit() {
    for (code, metal, tested, reference) in [
        (CodeName::AsmeIx, "A106-B", 37.99, None),
        (CodeName::AsmeIx, "A106-B", 38.0, Some("QW-202.4")),
        (CodeName::AsmeIx, "304L", 5.99, None),
        (CodeName::AsmeIx, "304L", 6.0, Some("QW-202.4")),
        (CodeName::Iso15614, "P235GH", 29.99, None),
        (CodeName::Iso15614, "P235GH", 30.0, Some("8.3.2")),
    ] {
        let mut value = plate(code, tested, "1-30");
        edit(&mut value, "/parent_metals/0/specification", metal);
        let found = qualified(&value);
        let own = found.ranges.iter().find(|range| range.variable == "thicker_member_thickness");
        assert_eq!(own.map(|range| range.reference.as_str()), reference, "{metal} {tested}");
    }
    // Members of 20 and 80-260 mm: within for a coupon of 40 mm (5 to 200 mm, thicker one without limit), outside for 30 mm.
    let mut procedure = example("inspection/procedure-asme");
    for (pointer, yaml) in [
        (
            "/parent_metals",
            "[{specification: A106-B, thickness: 20 mm}, {specification: A106-B, thickness: 80-260 mm}]",
        ),
        ("/processes/GTAW", ""),
        (
            "/runs",
            "[{run: 1-30, layer: fill, process: SMAW, current: 70-95 A, voltage: 21-25 V, travel_speed: 90-150 mm/min}]",
        ),
        ("/positions", "[3G]"),
    ] {
        edit(&mut procedure, pointer, yaml);
    }
    let thickness = |tested: f64, thinner: &str| -> Vec<String> {
        let mut value = plate(CodeName::AsmeIx, tested, "1-30");
        edit(&mut value, "/processes", "{SMAW: {polarity: DCEP, filler: fill-electrode}}");
        edit(&mut value, "/runs/0/process", "SMAW");
        let mut own = procedure.clone();
        edit(&mut own, "/parent_metals/0/thickness", thinner);
        let all = findings(&own, &[record(&value)]);
        let outside = all.into_iter().filter(|own| own.check == "outside-qualified-range");
        outside.map(|own| own.pointer).filter(|pointer| pointer.ends_with("thickness")).collect()
    };
    assert_eq!(thickness(40.0, "20 mm"), Vec::<String>::new());
    assert_eq!(thickness(30.0, "20 mm"), ["/parent_metals/1/thickness"]);
    assert_eq!(thickness(40.0, "3 mm"), ["/parent_metals/0/thickness"]);
}

/// Supplementary limits of a coupon with impact tests bind a procedure that asks for toughness, and no other.
#[test]
fn supplementary_limits_bind_where_toughness_is_asked_for() {
    let mut tested = base(CodeName::AsmeIx);
    edit(&mut tested, "/toughness", "27 J at -20 °C");
    let mut procedure = example("inspection/procedure-asme");
    edit(&mut procedure, "/temperatures/interpass", "280 °C maximum");
    let outside = |procedure: &Value| -> Vec<String> {
        let all = findings(procedure, &[record(&tested)]).into_iter();
        all.filter(|own| own.check == "outside-qualified-range").map(|own| own.message).collect()
    };
    assert_eq!(outside(&procedure), Vec::<String>::new());
    edit(&mut procedure, "/qualification/toughness", "27 J at -20 °C");
    let found = outside(&procedure);
    let names = |text: &str| found.iter().any(|own| own.contains(text));
    assert!(names("QW-406.3") && names("QW-409.1") && names("QW-403.6"), "{found:#?}");
}

/// A record with impact tests limits what hangs on them, whether or not it states that toughness was asked for.
#[test]
fn impact_tests_of_a_record_count_without_its_key() {
    let mut tested = base(CodeName::Iso15614);
    edit(
        &mut tested,
        "/tests/2",
        "{method: impact, temperature: -20 °C, values: [60 J, 58 J, 61 J], result: acceptable}",
    );
    let mut procedure = example("inspection/procedure");
    edit(&mut procedure, "/qualification/toughness", "KV 27 J @ -20 °C");
    for stated in ["not required", "27 J at -20 °C", ""] {
        edit(&mut tested, "/toughness", stated);
        let found = findings(&procedure, &[record(&tested)]);
        let own =
            found.iter().filter(|own| own.check == "outside-qualified-range" && own.message.contains("heat input"));
        assert_eq!(own.count(), 3, "{stated}: {found:#?}");
    }
}

/// QW-403.10: short-circuit transfer under 13 mm covers 1.1 times the coupon.
#[test]
fn asme_short_circuit_caps_thin_coupons() {
    for (tested, high) in [(12.99, 14.289), (13.0, 26.0)] {
        let mut value = plate(CodeName::AsmeIx, tested, "1-9");
        edit(&mut value, "/processes", "{135: {polarity: DCEP, filler: root-rod, transfer_mode: short-circuit}}");
        edit(&mut value, "/runs/0/process", "135");
        let found = qualified(&value);
        assert!(near(span(&found, "base_metal_thickness", None), 5.0, high), "{tested}: {found:#?}");
    }
}

/// ISO 15614-1:2004 Table 5 and :2017 Table 7, several runs and one: both sides of every row, 3, 12, 20, 40, 100 and 150 mm.
#[test]
fn iso_thickness_follows_the_table_row_by_row() {
    const T5: &str = "2004";
    const T7: &str = "2017";
    const ONE: &str = "1";
    const MANY: &str = "1-90";
    for (edition, tested, runs, low, high) in [
        // Table 5: up to 3 mm 0.7 t to 1.3 t, several runs to 2 t.
        (T5, 3.0, ONE, 2.1, 3.9),
        (T5, 3.0, MANY, 2.1, 6.0),
        // Over 3 up to 12 mm: 0.5 t, 3 mm at least, to 1.3 t; several runs 3 mm to 2 t.
        (T5, 3.01, ONE, 3.0, 3.913),
        (T5, 12.0, ONE, 6.0, 15.6),
        (T5, 3.01, MANY, 3.0, 6.02),
        (T5, 12.0, MANY, 3.0, 24.0),
        // Over 12 up to 100 mm: 0.5 t to 1.1 t; several runs to 2 t.
        (T5, 12.01, ONE, 6.005, 13.211),
        (T5, 100.0, ONE, 50.0, 110.0),
        (T5, 12.01, MANY, 6.005, 24.02),
        (T5, 100.0, MANY, 50.0, 200.0),
        // Over 100 mm: 50 mm to 2 t.
        (T5, 100.01, MANY, 50.0, 200.02),
        // Table 7, level 2.
        (T7, 3.0, ONE, 2.1, 3.9),
        (T7, 3.0, MANY, 2.1, 6.0),
        (T7, 3.01, ONE, 3.0, 3.913),
        (T7, 12.0, ONE, 6.0, 15.6),
        (T7, 3.01, MANY, 3.0, 6.02),
        (T7, 5.5, MANY, 3.0, 11.0),
        (T7, 12.0, MANY, 3.0, 24.0),
        (T7, 12.01, ONE, 6.005, 13.211),
        (T7, 20.0, ONE, 10.0, 22.0),
        (T7, 12.01, MANY, 6.005, 24.02),
        (T7, 20.0, MANY, 10.0, 40.0),
        (T7, 20.01, ONE, 10.005, 22.011),
        (T7, 40.0, ONE, 20.0, 44.0),
        (T7, 20.01, MANY, 10.005, 40.02),
        (T7, 40.0, MANY, 20.0, 80.0),
        (T7, 40.01, MANY, 20.005, 80.02),
        (T7, 100.0, MANY, 50.0, 200.0),
        (T7, 100.01, MANY, 50.0, 200.02),
        (T7, 150.0, MANY, 50.0, 300.0),
        (T7, 150.01, MANY, 50.0, 300.02),
    ] {
        let mut value = plate(CodeName::Iso15614, tested, runs);
        edit(&mut value, "/edition", edition);
        let found = qualified(&value);
        let own = span(&found, "base_metal_thickness", None);
        assert!(near(own, low, high), "{edition} {tested} {runs}: {own:?}");
        let range = found.ranges.iter().find(|range| range.variable == "base_metal_thickness").unwrap();
        assert_eq!(range.reference, if edition == T5 { "Table 5" } else { "Table 7" });
        // One process makes the whole joint: its deposit has the range of the table too.
        let deposit = span(&found, "deposit_thickness", Some("111"));
        assert!(near(deposit, low, high), "{edition} {tested} {runs}: {deposit:?}");
    }
    // One run in thicker metal has no row: over 100 mm in 2004, over 40 mm in 2017.
    for (edition, tested) in [(T5, 100.01), (T7, 40.01)] {
        let mut value = plate(CodeName::Iso15614, tested, ONE);
        edit(&mut value, "/edition", edition);
        let found = qualified(&value);
        assert!(found.ranges.iter().all(|range| range.variable != "base_metal_thickness"), "{edition} {tested}");
    }
}

/// ISO 15614-1:2004 Table 6 and :2017 Table 8 (fillets): both sides of 3 and 30 mm; Table 7 and 9 (diameter): both of 25 mm.
#[test]
fn iso_fillets_and_diameters_follow_their_tables() {
    for (edition, tested, low, high) in [
        ("2004", 3.0, 2.1, 6.0),
        ("2004", 3.01, 3.0, 3.612),
        ("2004", 29.99, 14.995, 35.988),
        ("2004", 30.0, 5.0, NONE),
        ("2017", 3.01, 3.0, 6.02),
        ("2017", 29.99, 3.0, 59.98),
        // No row of 2017 from 30 mm on: that of 2004 stands in, and its note says so.
        ("2017", 30.0, 5.0, NONE),
    ] {
        let mut value = plate(CodeName::Iso15614, tested, "1-3");
        for (pointer, yaml) in
            [("/edition", edition), ("/joint", "{type: tee, weld: fillet}"), ("/weld_size", "{throat: 4 mm}")]
        {
            edit(&mut value, pointer, yaml);
        }
        let found = qualified(&value);
        let own = span(&found, "base_metal_thickness", None);
        assert!(near(own, low, high), "{edition} {tested}: {own:?}");
    }
    for (edition, tested, low, high) in [
        ("2004", 25.0, 12.5, 50.0),
        ("2004", 25.01, 25.0, NONE),
        ("2004", 60.0, 30.0, NONE),
        ("2017", 25.0, 12.5, NONE),
        ("2017", 60.0, 30.0, NONE),
    ] {
        let mut value = base(CodeName::Iso15614);
        edit(&mut value, "/edition", edition);
        edit(&mut value, "/parent_metals/0/outside_diameter", &format!("{tested} mm"));
        let own = span(&qualified(&value), "outside_diameter", None);
        assert!(near(own, low, high), "{edition} {tested}: {own:?}");
    }
}

/// AWS D1.1:2020 Table 6.2: plate on both sides of 3, 10 and 25 mm.
#[test]
fn aws_plate_thickness_follows_table_6_2() {
    for (tested, low, high) in [
        (3.0, 3.0, 6.0),
        (10.0, 3.0, 20.0),
        (10.01, 3.0, 20.02),
        (24.99, 3.0, 49.98),
        (25.0, 3.0, NONE),
        (40.0, 3.0, NONE),
    ] {
        let found = qualified(&plate(CodeName::AwsD11, tested, "1-9"));
        let own = span(&found, "base_metal_thickness", None);
        assert!(near(own, low, high), "{tested}: {own:?}");
    }
    let refusals = qualify(&record(&plate(CodeName::AwsD11, 2.99, "1-9")), None).unwrap_err();
    assert!(refusals[0].message.contains("2.99 mm qualifies no thickness"), "{refusals:?}");
}

/// AWS D1.1:2020 Table 6.2, pipe under and from 600 mm; Table 6.5: 111 may preheat 15 °C lower, 141 55 °C.
#[test]
fn aws_pipe_and_temperatures_follow_their_tables() {
    for (thickness, diameter, low, high, across) in [
        // Under 600 mm: 3 up to 10 mm, over 10 under 20 mm, from 20 mm on.
        (3.0, 273.0, 3.0, 6.0, 273.0),
        (10.0, 599.0, 3.0, 20.0, 599.0),
        (10.01, 599.0, 5.005, 20.02, 599.0),
        (12.0, 273.0, 6.0, 24.0, 273.0),
        (19.99, 599.99, 9.995, 39.98, 599.99),
        (20.0, 599.99, 10.0, NONE, 599.99),
        // From 600 mm on the same thicknesses, and any diameter from 600 mm.
        (3.0, 600.0, 3.0, 6.0, 600.0),
        (10.0, 600.0, 3.0, 20.0, 600.0),
        (10.01, 600.0, 5.005, 20.02, 600.0),
        (19.99, 600.0, 9.995, 39.98, 600.0),
        (20.0, 700.0, 10.0, NONE, 600.0),
    ] {
        let mut value = plate(CodeName::AwsD11, thickness, "1-9");
        edit(&mut value, "/parent_metals/0/outside_diameter", &format!("{diameter} mm"));
        edit(&mut value, "/temperatures/preheating", "120 °C");
        let found = qualified(&value);
        assert!(near(span(&found, "base_metal_thickness", None), low, high), "{thickness} {diameter}");
        assert!(near(span(&found, "outside_diameter", None), across, NONE), "{thickness} {diameter}");
        assert!(near(span(&found, "preheating", None), 105.0, NONE));
        // The highest interpass temperature of the coupon says nothing of the lowest.
        assert!(found.ranges.iter().all(|range| range.variable != "interpass"));
    }
}

/// A members' forum of the AWS, answer on the essential variables of D1.1 (published): GMAW, 10 percent, a mean of 234.8 A
/// allows 211.3 to 258.3 A.
#[test]
fn aws_current_follows_a_published_answer() {
    let mut value = plate(CodeName::AwsD11, 12.0, "1-9");
    edit(&mut value, "/fillers", "{wire: {designation: ER70S-6, diameter: 1.2 mm}}");
    edit(&mut value, "/processes", "{135: {polarity: DCEP, filler: wire, transfer_mode: spray}}");
    edit(
        &mut value,
        "/runs",
        "[{run: 1-9, process: 135, current: 234.8 A, voltage: 26 V, travel_speed: 300 mm/min, wire_feed_speed: 8 m/min}]",
    );
    let (low, high) = span(&qualified(&value), "current", Some("135"));
    assert!(low.is_some_and(|own| (own - 211.3).abs() < 0.05), "{low:?}");
    assert!(high.is_some_and(|own| (own - 258.3).abs() < 0.05), "{high:?}");
}

/// A coupon at 10 °C or 35 °F, less the step of its code, is no warmer than frost, under which no metal is welded.
#[test]
fn no_preheat_range_begins_below_frost() {
    for code in [CodeName::AsmeIx, CodeName::AwsD11] {
        for (stated, least) in [("10 °C", 0.0), ("35 °F", 32.0)] {
            let mut value = plate(code, 20.0, "1-9");
            edit(&mut value, "/temperatures/preheating", stated);
            let found = qualified(&value);
            let own = span(&found, "preheating", None);
            assert!(near(own, least, NONE), "{code:?} {stated}: {own:?}");
        }
    }
}

/// QW-406.1 and QW-406.3: preheat 55 °C lower; QW-424.1: P-1 to P-1; QW-404.4: the tested F-Number.
#[test]
fn asme_variables_carry_their_paragraphs() {
    let mut value = base(CodeName::AsmeIx);
    edit(&mut value, "/temperatures/preheating", "120 °C");
    let found = qualified(&value);
    assert!(near(span(&found, "preheating", None), 65.0, NONE));
    let set = |variable: &str, process: Option<&str>| {
        let range = found
            .ranges
            .iter()
            .find(|range| range.variable == variable && (process.is_none() || range.process.as_deref() == process))
            .unwrap();
        (range.bounds.text(), range.reference.clone())
    };
    assert_eq!(set("base_metal_group", None), ("P-1 to P-1".to_owned(), "QW-424.1".to_owned()));
    assert_eq!(set("f_number", Some("SMAW")), ("F-4".to_owned(), "QW-404.4".to_owned()));
    assert_eq!(set("f_number", Some("GTAW")).0, "F-6");
    assert_eq!(set("a_number", Some("GTAW")).0, "A-1, A-2");
}

/// ISO 15614-1 8.3.1: group 1 covers equal or lower yield; 8.3.3: half the diameter; a heat input of k U I / v.
#[test]
fn iso_variables_carry_their_clauses() {
    let mut value = base(CodeName::Iso15614);
    edit(&mut value, "/parent_metals/0/specification", "S355J2+N");
    edit(&mut value, "/toughness", "27 J at -20 °C");
    let found = qualified(&value);
    assert!(near(span(&found, "yield_strength", None), NONE, 355.0));
    assert!(near(span(&found, "outside_diameter", None), 30.15, NONE));
    // 141: 0.6 x 10.5 V x 105 A / 72 mm/min = 0.55125 kJ/mm (ISO/TR 17671-1), times 1.25.
    assert!(near(span(&found, "heat_input", Some("141")), NONE, 1.25 * 0.551_25));
    let group = found.ranges.iter().find(|range| range.variable == "base_metal_group").unwrap();
    assert_eq!((group.bounds.text().as_str(), group.reference.as_str()), ("1.1, 1.2", "8.3.1"));
}

/// Two coupons of one metal and filler: 6 mm covers 3 to 12 mm, 14 mm covers 7 to 28 mm; together 3 to 28 mm.
#[test]
fn records_combine_where_their_ranges_touch() {
    let number = |value: &mut Value, number: &str| edit(value, "/identification/number", number);
    let mut thin = plate(CodeName::Iso15614, 6.0, "1-4");
    number(&mut thin, "T-1");
    let mut thick = plate(CodeName::Iso15614, 14.0, "1-9");
    number(&mut thick, "T-2");
    let both = Qualification { ranges: combine(&[qualified(&thin), qualified(&thick)]), ..qualified(&thin) };
    assert!(near(span(&both, "base_metal_thickness", None), 3.0, 28.0));
    // A gap stays a gap, and so do coupons of other metals.
    let mut far = plate(CodeName::Iso15614, 60.0, "1-40");
    number(&mut far, "T-3");
    let apart = combine(&[qualified(&thin), qualified(&far)]);
    assert_eq!(apart.iter().filter(|range| range.variable == "base_metal_thickness").count(), 2);
    edit(&mut thick, "/parent_metals/0/specification", "304L");
    let others = combine(&[qualified(&thin), qualified(&thick)]);
    assert_eq!(others.iter().filter(|range| range.variable == "base_metal_thickness").count(), 2);
}

/// Heat treatment and impact tests keep records apart: no range of the one widens the other (QW-407.1, QW-401; ISO 15614-1
/// 8.4.11), and a procedure rests on those of its own condition.
#[test]
fn records_in_another_condition_do_not_combine() {
    const TREATED: &str = "{temperature: 600 °C, time: 30 min}";
    for code in [CodeName::Iso15614, CodeName::AsmeIx, CodeName::AwsD11] {
        let mut thin = plate(code, 6.0, "1-4");
        edit(&mut thin, "/identification/number", "T-1");
        let mut thick = plate(code, 14.0, "1-9");
        edit(&mut thick, "/identification/number", "T-2");
        let together = |thick: &Value| combine(&[qualified(&thin), qualified(thick)]);
        let of_both =
            |ranges: &[seamwright_check::codes::Qualified]| ranges.iter().any(|range| range.records.len() > 1);
        assert!(of_both(&together(&thick)), "{code:?}");
        let mut treated = thick.clone();
        edit(&mut treated, "/temperatures/post_weld_heat_treatment", TREATED);
        assert!(!of_both(&together(&treated)), "{code:?}: {:#?}", together(&treated));
        let mut tough = thick.clone();
        edit(&mut tough, "/toughness", "27 J at -20 °C");
        assert!(!of_both(&together(&tough)), "{code:?}");
    }
    // Two treated coupons of ISO 15614-1 join where their temperatures are one.
    let treated = |number: &str, thickness: f64, held: &str| {
        let mut value = plate(CodeName::Iso15614, thickness, "1-9");
        edit(&mut value, "/identification/number", number);
        let treatment = format!("{{temperature: {held}, time: 30 min}}");
        edit(&mut value, "/temperatures/post_weld_heat_treatment", &treatment);
        qualified(&value)
    };
    let count = |one: &str, other: &str| {
        let ranges = combine(&[treated("T-1", 6.0, one), treated("T-2", 12.0, other)]);
        ranges.iter().filter(|range| range.variable == "base_metal_thickness").count()
    };
    assert_eq!((count("600 °C", "600 °C"), count("600 °C", "700 °C")), (1, 2));
    // A procedure of 14 mm as welded does not rest on the treated coupon of 14 mm.
    let mut second = base(CodeName::Iso15614);
    for (pointer, yaml) in [
        ("/identification/number", "T-2"),
        ("/parent_metals/0/thickness", "9 mm"),
        ("/processes/141/deposit_thickness", "2.5 mm"),
        ("/processes/111/deposit_thickness", "6.5 mm"),
        ("/temperatures/post_weld_heat_treatment", TREATED),
    ] {
        edit(&mut second, pointer, yaml);
    }
    let mut procedure = example("inspection/procedure");
    edit(&mut procedure, "/parent_metals/0/thickness", "3-14 mm");
    let checks = |second: &Value| -> Vec<&'static str> {
        let all = findings(&procedure, &[record(&base(CodeName::Iso15614)), record(second)]);
        let own = all.into_iter().map(|own| own.check);
        own.filter(|check| matches!(*check, "outside-qualified-range" | "record-of-another-condition")).collect()
    };
    assert_eq!(checks(&second), ["outside-qualified-range", "record-of-another-condition"]);
    edit(&mut second, "/temperatures/post_weld_heat_treatment", "none");
    assert_eq!(checks(&second), Vec::<&str>::new());
}

#[test]
fn a_record_that_gives_nothing_says_why() {
    for (pointer, yaml, message) in [
        ("/parent_metals/0/thickness", "", "thickness of P235GH is missing"),
        ("/parent_metals/0/thickness", "3-11 mm", "no single value"),
        ("/processes/141/deposit_thickness", "", "deposited with 141 is missing"),
        ("/processes/141/deposit_thickness", "9 mm", "contradicts itself"),
        ("/processes/141/filler", "", "filler of 141 is missing"),
        ("/code", "", "names no code"),
        ("/code", "aws-d1.6", "no ranges of AWS D1.6"),
        ("/parent_metals/0/specification", "6061-T6", "no steel"),
    ] {
        let mut value = base(CodeName::Iso15614);
        edit(&mut value, pointer, yaml);
        let refusals = qualify(&record(&value), None).unwrap_err();
        assert!(refusals.iter().any(|refusal| refusal.message.contains(message)), "{pointer} {yaml}: {refusals:#?}");
    }
    let refusals = qualify(&record(&base(CodeName::Iso15614)), Some(CodeName::AsmeIx)).unwrap_err();
    assert!(refusals[0].message.contains("is a record of ISO 15614-1, not of ASME IX"));
}

/// The records of a code, as the cases edit them.
fn against(case: &seamwright_check::rule::Case) -> Vec<Finding> {
    let asme = case.base.ends_with("asme");
    let mut procedure = example(case.base);
    let mut tested = example(if asme { "inspection/record-asme" } else { "inspection/record-iso" });
    for (pointer, yaml) in case.edits.iter().filter(|(pointer, _)| !pointer.starts_with("second:")) {
        match pointer.strip_prefix("record:") {
            Some(pointer) => edit(&mut tested, pointer, yaml),
            None => edit(&mut procedure, pointer, yaml),
        }
    }
    let mut records = vec![record(&tested)];
    let second: Vec<_> =
        case.edits.iter().filter_map(|(pointer, yaml)| Some((pointer.strip_prefix("second:")?, yaml))).collect();
    if !second.is_empty() {
        for (pointer, yaml) in second {
            edit(&mut tested, pointer, yaml);
        }
        edit(&mut tested, "/identification/number", "T-2");
        records.push(record(&tested));
    }
    findings(&procedure, &records)
}

/// What is found of a procedure against records.
fn findings(procedure: &Value, records: &[Box<seamwright_model::test_record::TestRecord>]) -> Vec<Finding> {
    let found: Vec<Qualification> = records.iter().map(|tested| qualify(tested, None).unwrap()).collect();
    let document = seamwright_model::load::from_value(procedure).unwrap();
    let records: Vec<_> = records.iter().map(|tested| &**tested).collect();
    let qualifications: Vec<&Qualification> = found.iter().collect();
    let records = Records { code: found[0].code, records: &records, qualifications: &qualifications };
    check_with(&document, &Context { records: Some(records), ..Context::default() }).findings
}

#[test]
fn procedures_outside_their_records_are_found() {
    let rules: &[&Rule<AgainstRecords>] = RULES;
    for rule in rules {
        for (case, faulty) in rule.faulty.iter().map(|c| (c, true)).chain(rule.sound.iter().map(|c| (c, false))) {
            let findings = against(case);
            let found = findings.iter().any(|finding| finding.check == rule.name);
            assert_eq!(found, faulty, "{} on {} {:?}: {findings:#?}", rule.name, case.base, case.edits);
        }
    }
}

/// ASME IX QW-253 and QW-256, AWS D1.1 Table 6.5, ISO 15614-1:2017 8.3 and 8.4 (as the tables say).
#[test]
fn changes_are_classified() {
    use CodeName::{AsmeIx, AwsD11, Iso15614};
    use Effect::{Essential, Nonessential, Supplementary};
    for (key, code, process, toughness, effect, reference) in [
        ("parent_metals.thickness", AsmeIx, "SMAW", false, Essential, "QW-403.8"),
        ("temperatures.preheating", AsmeIx, "141", false, Essential, "QW-406.1"),
        ("temperatures.interpass", AsmeIx, "141", true, Supplementary, "QW-406.3"),
        ("joint.root_gap", AsmeIx, "141", false, Nonessential, "QW-402.10"),
        ("settings.polarity", AsmeIx, "141", false, Nonessential, "QW-409.4"),
        ("settings.polarity", AsmeIx, "141", true, Supplementary, "QW-409.4"),
        ("parent_metals.thickness", Iso15614, "111", false, Essential, "8.3.2"),
        ("settings.polarity", Iso15614, "111", false, Essential, "8.4.6"),
        ("settings.transfer_mode", AwsD11, "135", false, Essential, "Table 6.5"),
    ] {
        let found = classify(key, code, process, toughness);
        let first = found.first().unwrap_or_else(|| panic!("{key} {code}"));
        assert_eq!((first.effect, first.reference.as_str()), (effect, reference), "{key} {code}: {found:#?}");
    }
    assert!(classify("identification.title", AsmeIx, "141", false).is_empty());
}

/// ISO 9606-1 Tables 3, 6, 7 and 9, ASME IX QW-452.1(b), QW-452.3 and QW-461.9: the welders of the example shop.
#[test]
fn welders_are_covered_as_the_tables_say() {
    let Ok(Shop(shop)) = seamwright_model::load::from_value(&example("shop/shop")) else { panic!("a shop") };
    let covers = welders::covers(&shop, None);
    assert_eq!(covers.len(), 3);
    let text = |number: &str, variable: &str| {
        let cover = covers.iter().find(|cover| cover.test.number.as_deref() == Some(number)).unwrap();
        let range = cover.ranges.iter().find(|range| range.variable == variable).unwrap();
        range.bounds.text()
    };
    // 3 mm of 141 in a pipe of 60.3 mm in H-L045.
    assert_eq!(text("W-201", "deposit_thickness"), "3-6 mm");
    assert_eq!(text("W-201", "outside_diameter"), "30.15 mm minimum");
    assert_eq!(text("W-201", "position"), "PA, PC, PE, PF, PH, H-L045");
    assert_eq!(text("W-201", "filler_group"), "FM1, FM2");
    assert_eq!(text("W-202", "position"), "PA, PF");
    // 5.5 mm of GTAW in a pipe of 60.3 mm in 6G.
    assert_eq!(text("W-305", "deposit_thickness"), "11 mm maximum");
    assert_eq!(text("W-305", "outside_diameter"), "25 mm minimum");
    assert_eq!(text("W-305", "position"), "flat, horizontal, vertical, overhead");
    let lapse = |number: &str| {
        let cover = covers.iter().find(|cover| cover.test.number.as_deref() == Some(number)).unwrap();
        cover.lapses.map(|date| date.to_string())
    };
    assert_eq!(lapse("W-201").as_deref(), Some("2026-07-20"));
    assert_eq!(lapse("W-305").as_deref(), Some("2026-05-18"));
    assert_eq!(welders::covers(&shop, Some(WelderCode::AsmeIx)).len(), 1);
}

/// AWS D1.1 Tables 6.10, 6.11, 6.13, 10.12 and 10.13: two invented welders of an American shop, one in inches.
#[test]
fn welders_of_aws_d1_1_are_covered_in_the_unit_of_their_coupon() {
    let shop = seamwright_model::load(
        "shop.yaml",
        b"format: 1
document: shop
identification: {number: SH-9, revision: 1, date: 2026-02-02, title: Invented}
welders:
  - name: A. Invented
    tests:
      - {code: aws-d1.1, number: T-1, date: 2026-01-05, process: SMAW, weld: groove, product: plate, positions: [3G, 4G],
         progression: upward, thickness: 3/8 in, filler: E7018, backing: yes}
      - {code: aws-d1.1, number: T-2, date: 2026-01-05, process: FCAW-G, weld: fillet, product: plate, positions: [2F],
         thickness: 10 mm, filler: E71T-1C}
      - {code: aws-d1.1, number: T-3, date: 2026-01-05, process: SMAW, weld: groove, product: pipe, positions: [6G],
         progression: upward, thickness: 0.432 in, outside_diameter: 6.625 in, filler: E6010, backing: no}
",
    );
    let Document::Shop(shop) = shop.expect("a shop").document else { panic!("a shop") };
    let covers = welders::covers(&shop, Some(WelderCode::AwsD11));
    let text = |number: &str, variable: &str| {
        let cover = covers.iter().find(|cover| cover.test.number.as_deref() == Some(number)).unwrap();
        cover.ranges.iter().find(|range| range.variable == variable).map(|range| range.bounds.text())
    };
    let is = |number, variable, wanted: &str| {
        assert_eq!(text(number, variable).as_deref(), Some(wanted), "{number} {variable}");
    };
    is("T-1", "base_metal_thickness", "1/8 to 3/4 in");
    is("T-1", "fillet_base_thickness", "1/8 in minimum");
    is("T-1", "outside_diameter", "24 in minimum");
    is("T-1", "position", "flat, horizontal, vertical, overhead");
    is("T-1", "electrode_group", "F1, F2, F3, F4");
    is("T-1", "backing", "with backing");
    is("T-1", "progression", "upward");
    is("T-2", "fillet_base_thickness", "3 mm minimum");
    is("T-2", "position_fillet", "flat, horizontal");
    assert_eq!(text("T-2", "base_metal_thickness"), None);
    assert_eq!(text("T-2", "electrode_group"), None);
    is("T-3", "base_metal_thickness", "3/16 in minimum");
    is("T-3", "outside_diameter", "4-1/2 in minimum");
    is("T-3", "electrode_group", "F1, F2, F3");
    is("T-3", "backing", "with backing, without backing");
    assert_eq!(covers[0].lapses.map(|date| date.to_string()).as_deref(), Some("2026-07-05"));
    // A plate has no diameter: its thickness is none.
    let tested = |number: &str| {
        let cover = covers.iter().find(|cover| cover.test.number.as_deref() == Some(number)).unwrap();
        cover.ranges.iter().find(|range| range.variable == "outside_diameter").unwrap().tested.clone()
    };
    assert_eq!((&*tested("T-1"), &*tested("T-3")), ("plate", "6-5/8 in"));
}

/// ISO 9606-1 5.2 (from memory): 135 and 138 cover each other, 141 covers 142, 142 itself alone, 121 and 125 each other.
#[test]
fn processes_of_iso_9606_1_cover_their_kin() {
    for (process, covers) in [
        ("135", "135, 138"),
        ("138", "135, 138"),
        ("141", "141, 142, 143, 145"),
        ("142", "142"),
        ("125", "121, 125"),
        ("111", "111"),
        ("136", "136"),
    ] {
        let mut shop = example("codes/welders");
        edit(&mut shop, "/welders/3/tests/0/process", process);
        let Ok(Shop(shop)) = seamwright_model::load::from_value(&shop) else { panic!("a shop") };
        let found = welders::covers(&shop, Some(WelderCode::Iso9606));
        let range = found[0].ranges.iter().find(|range| range.variable == "process").unwrap();
        assert_eq!(range.bounds.text(), covers, "{process}");
    }
}

/// ISO 9606-1 5.2 (from memory): a test with short circuits covers all modes, one with another does not cover short circuits;
/// plate covers rotated pipe from 75 mm and fixed pipe from 500 mm; pipe over 25 mm covers plate.
#[test]
fn a_welder_of_iso_9606_1_is_held_by_transfer_and_product() {
    let gaps = |test: &[(&str, &str)], procedure: &[(&str, &str)], base: &str| {
        let mut shop = example("codes/welders");
        edit(
            &mut shop,
            "/welders",
            "[{name: C. Duarte, tests: [{code: iso-9606-1, date: 2025-09-22, process: 135, weld: fillet, product: plate, positions: [PB], thickness: 12 mm, filler: ER70S-6, layers: multiple}]}]",
        );
        for (key, yaml) in test {
            edit(&mut shop, &format!("/welders/0/tests/0/{key}"), yaml);
        }
        let mut own = common::starter(base);
        for (pointer, yaml) in procedure {
            edit(&mut own, pointer, yaml);
        }
        let Ok(Shop(shop)) = seamwright_model::load::from_value(&shop) else { panic!("a shop") };
        let Ok(Document::Procedure(own)) = seamwright_model::load::from_value(&own) else { panic!("a procedure") };
        let view = seamwright_weld::View::new(&own);
        welders::fits(&view, &shop).into_iter().flat_map(|fit| fit.gaps).collect::<Vec<String>>().join("; ")
    };
    let fillet = "tee-fillet-12-s355-135";
    for (tested, welded, held) in [
        ("short-circuit", "spray", true),
        ("short-circuit", "short-circuit", true),
        ("spray", "short-circuit", false),
        ("spray", "pulsed", true),
        ("pulsed", "globular", true),
    ] {
        let found = gaps(&[("transfer_mode", tested)], &[("/processes/135/transfer_mode", welded)], fillet);
        assert_eq!(!found.contains("transfer"), held, "{tested} for {welded}: {found}");
    }
    let pipe = |size: &str, position: &str| {
        let metal = format!("[{{specification: S355J2+N, thickness: 12 mm, outside_diameter: {size}}}]");
        let positions = format!("[{position}]");
        gaps(&[], &[("/parent_metals", &metal), ("/positions", &positions)], fillet)
    };
    for (size, position, held) in [
        ("75 mm", "PB", true),
        ("74 mm", "PB", false),
        ("499 mm", "PD", true),
        ("499 mm", "PH", false),
        ("500 mm", "PH", true),
    ] {
        assert_eq!(!pipe(size, position).contains("diameter"), held, "{size} in {position}: {}", pipe(size, position));
    }
    for (size, held) in [("25 mm", false), ("26 mm", true)] {
        let found = gaps(&[("product", "pipe"), ("outside_diameter", size)], &[], fillet);
        assert_eq!(!found.contains("plate, the test covers"), held, "{size}: {found}");
    }
}

#[test]
fn procedures_without_welders_are_found() {
    for rule in seamwright_check::codes::in_shop::RULES {
        for (case, faulty) in rule.faulty.iter().map(|c| (c, true)).chain(rule.sound.iter().map(|c| (c, false))) {
            let mut procedure = common::starter(case.base);
            let mut shop = example("shop/shop");
            for (pointer, yaml) in case.edits {
                match pointer.strip_prefix("shop:") {
                    Some(pointer) => edit(&mut shop, pointer, yaml),
                    None => edit(&mut procedure, pointer, yaml),
                }
            }
            let Ok(Shop(shop)) = seamwright_model::load::from_value(&shop) else { panic!("a shop") };
            let document = seamwright_model::load::from_value(&procedure).unwrap();
            let findings = check_with(&document, &Context { shop: Some(&shop), ..Context::default() }).findings;
            let found = findings.iter().any(|finding| finding.check == rule.name);
            assert_eq!(found, faulty, "{} on {} {:?}: {findings:#?}", rule.name, case.base, case.edits);
        }
    }
}

#[test]
fn who_may_weld_a_procedure_is_told_with_the_gaps_of_the_others() {
    let Ok(Shop(shop)) = seamwright_model::load::from_value(&example("shop/shop")) else { panic!("a shop") };
    let Ok(Document::Procedure(procedure)) = seamwright_model::load::from_value(&example("inspection/procedure"))
    else {
        panic!("a procedure")
    };
    let view = seamwright_weld::View::new(&procedure);
    let fits = welders::fits(&view, &shop);
    let root: Vec<_> = fits.iter().filter(|fit| fit.process == "141").collect();
    assert!(root.iter().any(|fit| fit.gaps.is_empty() && &*fit.cover.welder.name == "M. Okafor"), "{root:#?}");
    let fill = fits.iter().find(|fit| fit.process == "111").unwrap();
    assert!(fill.gaps.iter().any(|gap| gap.contains("position PH")), "{fill:#?}");
}

/// A code that prints two units qualifies in the one of the coupon, and each procedure is held against its own.
///
/// Sources: ASME IX QW-451.1 (1-1/2 in, 8 in), AWS D1.1 Table 6.2 (3/4 in and more: 3/8 in or 10 mm, no limit), both
/// remembered.
#[test]
fn the_stated_unit_picks_the_bounds() {
    let coupon = |code: CodeName, thickness: &str| {
        let mut value = plate(code, 20.0, "1-9");
        edit(&mut value, "/parent_metals/0/thickness", thickness);
        qualified(&value)
    };
    let asme = coupon(CodeName::AsmeIx, "1-1/2 in");
    assert!(near(span(&asme, "base_metal_thickness", None), 0.1875, 8.0), "{asme:#?}");
    let range = asme.ranges.iter().find(|range| range.variable == "base_metal_thickness").unwrap();
    assert_eq!(range.bounds.text(), "3/16 to 8 in");
    assert_eq!(range.bounds_for(false).text(), "5-200 mm");
    assert_eq!(range.tested, "1-1/2 in");
    // 38 mm and 1-1/2 in reach the row, 1.49 in does not.
    assert!(near(span(&coupon(CodeName::AsmeIx, "1.49 in"), "base_metal_thickness", None), 0.1875, 2.98));

    let mut pipe = base(CodeName::AsmeIx);
    for (pointer, yaml) in [
        ("/code", "aws-d1.1"),
        ("/edition", "2020"),
        ("/parent_metals/0/thickness", "3/4 in"),
        ("/processes/GTAW/deposit_thickness", "1/8 in"),
        ("/processes/SMAW/deposit_thickness", "5/8 in"),
    ] {
        edit(&mut pipe, pointer, yaml);
    }
    let found = qualified(&pipe);
    assert!(near(span(&found, "base_metal_thickness", None), 0.375, NONE), "{found:#?}");
    // Preheat in degrees Fahrenheit moves by the printed 100 °F, not by 55 °C.
    let mut warm = plate(CodeName::AsmeIx, 20.0, "1-9");
    edit(&mut warm, "/temperatures/preheating", "250 °F");
    let found = qualified(&warm);
    assert!(near(span(&found, "preheating", None), 150.0, NONE));
}

/// A procedure with what a record of AWS D1.1 states.
fn as_welded(tested: &Value) -> Value {
    let mut procedure = tested.clone();
    let own = procedure.as_object_mut().unwrap();
    for key in ["code", "edition", "toughness", "welded", "welder", "witnessed_by", "laboratory", "tests"] {
        own.remove(key);
    }
    edit(&mut procedure, "/document", "procedure");
    edit(&mut procedure, "/identification/number", "P-140");
    edit(&mut procedure, "/qualification", "{route: test-record, code: aws-d1.1, edition: 2020, records: [T-140]}");
    procedure
}

/// AWS D1.1 Table 6.5 (2020, from memory): electrode diameter, groove, root, backing and gas of the coupon bind.
#[test]
fn grooves_and_gases_of_aws_d1_1_are_held_against_the_record() {
    let tested = example("codes/record-aws-d1-1");
    let outside = |edits: &[(&str, &str)]| -> Vec<String> {
        let mut procedure = as_welded(&tested);
        for (pointer, yaml) in edits {
            edit(&mut procedure, pointer, yaml);
        }
        let all = findings(&procedure, &[record(&tested)]).into_iter();
        all.filter(|own| own.check == "outside-qualified-range").map(|own| own.message).collect()
    };
    for edits in [
        &[][..],
        &[("/joint/included_angle", "40 deg")],
        &[("/joint/included_angle", "60 deg")],
        &[("/joint/root_gap", "3/16-1/2 in")],
        &[("/joint/root_face", "1/16 in")],
        &[("/joint/penetration", "partial"), ("/joint/preparation", "single-bevel"), ("/joint/backing", "none")],
        &[("/joint/backing", "none"), ("/joint/back_gouging", "grinding to sound metal")],
        // One size under both its names.
        &[("/fillers/wire/diameter", "1.2 mm")],
        &[("/processes/FCAW-G/shielding_gas/composition", "{Ar: 75.2, CO2: 24.8}")],
    ] {
        assert_eq!(outside(edits), Vec::<String>::new(), "{edits:?}");
    }
    for (edits, what) in [
        (&[("/joint/included_angle", "39 deg")][..], "groove angle 39 deg"),
        (&[("/joint/root_gap", "1/8 in")], "root opening 1/8 in"),
        (&[("/joint/root_gap", "9/16 in")], "root opening 9/16 in"),
        (&[("/joint/root_face", "1/8 in")], "root face 1/8 in"),
        (&[("/joint/preparation", "single-bevel")], "groove type single-bevel"),
        (&[("/joint/backing", "none")], "backing or back gouging"),
        (&[("/fillers/wire/diameter", "1/16 in")], "filler diameter of FCAW-G 1/16 in"),
        (&[("/fillers/wire/diameter", "0.052 in")], "filler diameter of FCAW-G 0.052 in"),
        (
            &[("/processes/FCAW-G/shielding_gas/composition", "{Ar: 80, CO2: 20}")],
            "gas mixture of FCAW-G 80 % Ar, 20 % CO2",
        ),
    ] {
        let found = outside(edits);
        assert!(found.len() == 1 && found[0].starts_with(what), "{edits:?}: {found:#?}");
    }
}

/// Each run is held by itself: what is out is named and marked where it stands.
#[test]
fn a_setting_that_is_out_is_named_in_its_run() {
    let tested = example("codes/record-aws-d1-1");
    let mut procedure = as_welded(&tested);
    edit(&mut procedure, "/runs/1/voltage", "26 V");
    let found: Vec<_> = findings(&procedure, &[record(&tested)])
        .into_iter()
        .filter(|own| own.check == "outside-qualified-range")
        .map(|own| (own.pointer, own.stated.unwrap_or_default()))
        .collect();
    assert_eq!(found, [("/runs/1/voltage".to_owned(), "26 V".to_owned())]);
}

/// A progression is asked for where a position is vertical.
#[test]
fn progression_is_asked_for_of_vertical_welds_alone() {
    let tested = example("codes/record-aws-d1-1");
    for (positions, asked) in [("[1G]", false), ("[1G, 4G]", false), ("[3G]", true), ("[1G, 3G]", true)] {
        let mut procedure = as_welded(&tested);
        edit(&mut procedure, "/positions", positions);
        edit(&mut procedure, "/progression", "");
        let found = findings(&procedure, &[record(&tested)]);
        let told = found.iter().any(|own| own.message.contains("progression is not stated"));
        assert_eq!(told, asked, "{positions}");
    }
}

/// A hint is a value of the key, not the name of a group.
#[test]
fn hints_of_groups_can_be_typed() {
    let hint = |code: CodeName, edits: &[(&str, &str)], about: &str| -> String {
        let mut procedure =
            example(if code == CodeName::AsmeIx { "inspection/procedure-asme" } else { "inspection/procedure" });
        for (pointer, yaml) in edits {
            edit(&mut procedure, pointer, yaml);
        }
        let all = findings(&procedure, &[record(&base(code))]).into_iter();
        let own = all.filter(|own| own.check == "outside-qualified-range").find(|own| own.message.starts_with(about));
        own.and_then(|own| own.hint).unwrap_or_default()
    };
    for (code, edits, about, start) in [
        (
            CodeName::Iso15614,
            &[("/parent_metals/0/specification", "S355J2+N")][..],
            "base metal group",
            "write a metal of group 1.1 such as `P235GH`",
        ),
        (
            CodeName::Iso15614,
            &[("/progression", "downward"), ("/positions", "[PJ]")],
            "position",
            "write a position such as `PH`",
        ),
        (
            CodeName::AsmeIx,
            &[("/parent_metals/0/specification", "304L")],
            "base metal group",
            "write a metal of P-1 such as `A106-B`",
        ),
        (
            CodeName::AsmeIx,
            &[("/fillers/fill-electrode/designation", "E6010")],
            "f number",
            "write a filler of F-4 such as `E7018`",
        ),
    ] {
        let found = hint(code, edits, about);
        assert!(found.starts_with(start), "{about}: {found}");
    }
}
