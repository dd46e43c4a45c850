//! What a code of qualification covers: metals, thickness, processes that may be prequalified.

use serde::Deserialize;

use crate::find;
use crate::metal_families;
use crate::table::{Origin, table};

table!("code-scope", Row);
table!(REACH, reaches, "code-reach", ReachRow);
table!(NAMES, names, "codes", NameRow);

/// How a code is called.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct NameRow {
    /// Its word in documents.
    pub code: String,
    /// In messages: `ASME IX`.
    pub title: String,
    /// On sheets: `ASME BPVC IX`.
    pub full: String,
    /// Which of two parts' thickness its rules of heat treatment count by, where the handbook has these.
    pub heat_treatment: Option<Counts>,
    /// The code of qualification under which work that names no code of construction may be built to it.
    pub implied_by: Option<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The part whose thickness counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Counts {
    /// The thinner one.
    Thinner,
    /// The thicker one.
    Thicker,
}

fn name(code: &str) -> Option<&'static NameRow> {
    names().iter().find(|row| row.code == code)
}

/// A code by its word, as messages call it.
pub fn title(code: &str) -> &'static str {
    name(code).map_or("the code", |row| row.title.as_str())
}

/// A code by its word, as sheets call it.
pub fn full_title(code: &str) -> &'static str {
    name(code).map_or("none", |row| row.full.as_str())
}

/// What is held of a part of a code.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct ReachRow {
    /// The code.
    pub code: String,
    /// `enforced`, `user` or `out-of-reach`.
    pub reach: String,
    /// Part of the code.
    pub what: String,
    /// What is held of it, or why it is not.
    pub why: String,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The scope of a code.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// Name of the code in a procedure.
    pub code: String,
    /// Families of metal that it covers.
    pub families: Vec<String>,
    /// Families inside these that it leaves out.
    pub excluded: Vec<String>,
    /// Least thickness of the base metal, in millimetres.
    pub thickness_least_mm: Option<f64>,
    /// Largest thickness of the thinner base metal, in millimetres.
    pub thickness_most_mm: Option<f64>,
    /// ISO 4063 numbers of processes that may be prequalified; empty where the code has no such route.
    #[serde(default)]
    pub prequalified: Vec<String>,
    /// Metal transfer that may not be prequalified.
    #[serde(default)]
    pub not_prequalified_mode: Vec<String>,
    /// Progression of vertical plate welds that may not be prequalified.
    pub not_prequalified_progression: Option<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// Whether the code covers a family of metal.
    pub fn covers(&self, family: &str) -> bool {
        let inside = |list: &[String]| list.iter().any(|wider| metal_families::is_in(family, wider));
        inside(&self.families) && !inside(&self.excluded)
    }
}

/// The scope of a code, where it has bounds.
pub fn get(code: &str) -> Option<&'static Row> {
    find::by_name(rows(), code, |row| [row.code.as_str()])
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 15614-1: arc and gas welding of steels and arc welding of nickel and nickel alloys (title of the standard).
    #[test]
    fn iso_15614_1_is_for_steel_and_nickel() {
        let scope = get("iso-15614-1").unwrap();
        assert!(
            scope.covers("austenitic-stainless") && scope.covers("nickel-chromium") && scope.covers("carbon-steel")
        );
        assert!(!scope.covers("aluminium-magnesium") && !scope.covers("titanium"));
    }

    // AWS D1.1, 1.4: not for base metal thinner than 3 mm, nor for stainless steel.
    #[test]
    fn aws_d1_1_starts_at_three_millimetres() {
        let scope = get("aws-d1.1").unwrap();
        assert_eq!(scope.thickness_least_mm, Some(3.0));
        assert!(!scope.covers("duplex-stainless"));
    }
}
