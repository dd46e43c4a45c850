//! What a code of qualification covers: metals, thickness, processes that may be prequalified.

use crate::find;
use crate::metal_families;
use crate::table::{Origin, table};

table!("code-scope", Row);
table!(REACH, reaches, "code-reach", ReachRow);
table!(NAMES, names, "codes", NameRow);

/// How a code is called.
#[derive(Debug, Clone, PartialEq)]
pub struct NameRow {
    /// Its word in documents.
    pub code: &'static str,
    /// In messages: `ASME IX`.
    pub title: &'static str,
    /// On sheets: `ASME BPVC IX`.
    pub full: &'static str,
    /// Which of two parts' thickness its rules of heat treatment count by, where the handbook has these.
    pub heat_treatment: Option<Counts>,
    /// The code of qualification under which work that names no code of construction may be built to it.
    pub implied_by: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The part whose thickness counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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
    name(code).map_or("the code", |row| row.title)
}

/// A code by its word, as sheets call it.
pub fn full_title(code: &str) -> &'static str {
    name(code).map_or("none", |row| row.full)
}

/// What is held of a part of a code.
#[derive(Debug, Clone, PartialEq)]
pub struct ReachRow {
    /// The code.
    pub code: &'static str,
    /// `enforced`, `user` or `out-of-reach`.
    pub reach: &'static str,
    /// Part of the code.
    pub what: &'static str,
    /// What is held of it, or why it is not.
    pub why: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The scope of a code.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Name of the code in a procedure.
    pub code: &'static str,
    /// Families of metal that it covers.
    pub families: &'static [&'static str],
    /// Families inside these that it leaves out.
    pub excluded: &'static [&'static str],
    /// Least thickness of the base metal, in millimetres.
    pub thickness_least_mm: Option<f64>,
    /// Largest thickness of the thinner base metal, in millimetres.
    pub thickness_most_mm: Option<f64>,
    /// ISO 4063 numbers of processes that may be prequalified; empty where the code has no such route.
    #[cfg_attr(false, optional)]
    pub prequalified: &'static [&'static str],
    /// Metal transfer that may not be prequalified.
    #[cfg_attr(false, optional)]
    pub not_prequalified_mode: &'static [&'static str],
    /// Progression of vertical plate welds that may not be prequalified.
    pub not_prequalified_progression: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// Whether the code covers a family of metal.
    pub fn covers(&self, family: &str) -> bool {
        let inside = |list: &[&str]| list.iter().any(|wider| metal_families::is_in(family, wider));
        inside(self.families) && !inside(self.excluded)
    }
}

/// The scope of a code, where it has bounds.
pub fn get(code: &str) -> Option<&'static Row> {
    find::by_name(rows(), code, |row| [row.code])
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
