//! How the build reads the rows of a table: each form of a figure, and what it refuses.

#[path = "../build/rows.rs"]
mod rows;

use rows::Modules;
use serde_json::{Value, json};

const MODULE: &str = r#"
use crate::band::Band;
table!("lens", Row);
pub enum Joint { Butt, TeeJoint, #[serde(rename = "by hand")] Manual }
pub struct Bounds { pub over_mm: Option<f64>, pub over_in: Option<Inches> }
pub struct Part { pub name: &'static str }
pub struct Row {
    pub joint: Option<Joint>,
    pub current_a: Option<Band>,
    pub over_in: Option<Inches>,
    pub limits: Option<Composition>,
    pub parts: &'static [Part],
    #[cfg_attr(false, optional)]
    pub metals: &'static [&'static str],
    #[cfg_attr(false, key = "class")]
    pub classification: Option<&'static str>,
    #[cfg_attr(false, optional)]
    pub pairs: &'static [(&'static str, u32)],
    #[cfg_attr(false, optional)]
    pub hollow: bool,
    #[cfg_attr(false, prefix = "pipe_")]
    pub pipe: Bounds,
}
"#;

fn read(row: Value) -> Result<String, String> {
    read_beside(row, &[])
}

/// A row of the module above as Rust, with `parts` where it has none, beside columns that are only printed.
fn read_beside(mut row: Value, printed: &[&str]) -> Result<String, String> {
    let folder = tempfile::tempdir().unwrap();
    let source = folder.path().join("src");
    std::fs::create_dir(&source).unwrap();
    std::fs::write(source.join("lens.rs"), MODULE).unwrap();
    let (modules, declared) = Modules::read(&source).unwrap();
    let [own] = &declared[..] else { panic!("one table") };
    assert_eq!((own.table.as_str(), own.row.as_str(), own.info.as_str()), ("lens", "Row", "INFO"));
    assert_eq!(own.rows, "rows");
    row.as_object_mut().unwrap().entry("parts").or_insert_with(|| json!([]));
    modules.rows(own, &[row], &printed.iter().map(ToString::to_string).collect()).map_err(|faults| faults.join("; "))
}

#[track_caller]
fn holds(row: Value, expected: &str) {
    let text = read(row).unwrap();
    assert!(text.contains(expected), "{expected} in {text}");
}

#[track_caller]
fn refused(row: Value, expected: &str) {
    let reason = read(row).unwrap_err();
    assert!(reason.contains(expected), "{expected} in {reason}");
}

#[test]
fn a_single_figure_is_a_range_of_no_width() {
    holds(json!({"current_a": 7}), "current_a: Some(crate::band::Band::new(7.0, 7.0))");
    holds(json!({"current_a": [5, 7.5]}), "Band::new(5.0, 7.5)");
    holds(json!({"current_a": -20}), "Band::new(-20.0, -20.0)");
    for wrong in [json!([5]), json!([5, 6, 7]), json!("5")] {
        refused(json!({"current_a": wrong}), "is no figure or pair of figures");
    }
}

#[test]
fn inches_are_read_as_they_are_printed() {
    holds(json!({"over_in": "1-1/2"}), "crate::measure::Inches(1.5)");
    holds(json!({"over_in": "3/16"}), "Inches(0.1875)");
    holds(json!({"over_in": 0.75}), "Inches(0.75)");
    for wrong in ["1-", "a", "1/2/3", "1/0", "1-1-1/2", "-1/2"] {
        refused(json!({"over_in": wrong}), "is no figure in inches");
    }
}

#[test]
fn every_way_of_writing_a_limit_is_read() {
    let limits = json!({"C": 0.03, "Cr": [17.5, 19.5], "Si": {"min": 0.1}, "Cu": "balance"});
    for (element, bounds) in [
        ("C", "min: None, max: Some(0.03)"),
        ("Cr", "min: Some(17.5), max: Some(19.5)"),
        ("Si", "min: Some(0.1), max: None"),
        ("Cu", "min: None, max: None"),
    ] {
        let expected = format!("({element:?}, crate::composition::Content {{ {bounds} }})");
        holds(json!({"limits": limits}), &expected);
    }
    for wrong in [json!("some"), json!([1]), json!({"max": 1})] {
        refused(json!({"limits": {"C": wrong}}), "is no limits by element");
    }
}

#[test]
fn words_stand_for_variants() {
    holds(json!({"joint": "butt"}), "Some(crate::lens::Joint::Butt)");
    holds(json!({"joint": "tee-joint"}), "Joint::TeeJoint");
    holds(json!({"joint": "by hand"}), "Joint::Manual");
    refused(json!({"joint": "lap"}), "\"lap\" is none of Butt, TeeJoint, by hand");
}

#[test]
fn what_may_be_left_out_is_marked() {
    let text = read(json!({})).unwrap();
    for own in ["joint: None", "metals: &[]", "classification: None", "pairs: &[]", "hollow: false"] {
        assert!(text.contains(own), "{own} in {text}");
    }
    refused(json!({"parts": [{}]}), "`name` is missing");
    refused(json!({"colour": "red"}), "no field for `colour`");
    holds(json!({"class": "E71T-1"}), "classification: Some(\"E71T-1\")");
    holds(json!({"pairs": {"a": 1}}), "pairs: &[(\"a\", 1)]");
    holds(json!({"parts": [{"name": "cup"}]}), "parts: &[crate::lens::Part { name: \"cup\" }]");
    refused(json!({"metals": "steel"}), "is no list");
}

#[test]
fn keys_behind_a_prefix_are_those_of_a_type() {
    holds(
        json!({"pipe_over_mm": 60, "over_in": 1}),
        "pipe: crate::lens::Bounds { over_mm: Some(60.0), over_in: None }",
    );
    holds(json!({}), "pipe: crate::lens::Bounds { over_mm: None, over_in: None }");
    refused(json!({"pipe_under_mm": 60}), "no field for `pipe_under_mm`");
    refused(json!({"pipe_over_mm": "60"}), "is no number");
}

// The build takes the values of such a column from the rows before they are read: a field would be empty in silence.
#[test]
fn a_column_that_is_only_printed_has_no_field() {
    assert!(read_beside(json!({}), &["colour"]).is_ok());
    assert_eq!(read_beside(json!({}), &["class"]).unwrap_err(), "`class` is printed and has a field");
}
