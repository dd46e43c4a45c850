//! Designations of tungsten electrodes by ISO 6848 and AWS A5.12.

use crate::find;
use crate::tungsten_types::{self, Row};

/// Which standard a designation of a tungsten electrode follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum System {
    /// ISO 6848: `WLa15`.
    Iso6848,
    /// AWS A5.12: `EWLa-1.5`.
    Aws,
    /// The letters used before ISO 6848:2004: `WL15`.
    Former,
}

/// What the designation of an electrode says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Electrode {
    /// The row of `tungsten-types`.
    pub row: &'static Row,
    /// The standard that the text follows.
    pub system: System,
}

impl Electrode {
    /// The designation in ISO 6848.
    pub fn iso(&self) -> &'static str {
        self.row.iso6848
    }

    /// The class in AWS A5.12, where there is one.
    pub fn aws(&self) -> Option<&'static str> {
        self.row.aws.first().copied()
    }
}

/// Reads the designation of a tungsten electrode, with the standard or without; the diameter may follow after a break.
///
/// Source: ISO 6848:2015, table 1, and AWS A5.12, as the table `tungsten-types` gives them.
pub fn parse(text: &str) -> Option<Electrode> {
    const INTRODUCE: [&str; 8] = ["ISO", "EN", "AWS", "DIN", "BS", "-", "6848", "A5.12"];
    let words: Vec<&str> = text.split_whitespace().collect();
    let start = words.iter().position(|word| !INTRODUCE.iter().any(|own| word.eq_ignore_ascii_case(own)))?;
    let words = words.get(start..)?;
    let (name, row) = (1..=words.len()).rev().find_map(|end| {
        // What follows the designation is a diameter.
        let (name, after) = words.split_at_checked(end)?;
        let diameter = after.first().is_none_or(|word| word.starts_with(|c: char| c.is_ascii_digit()));
        let name = name.concat();
        let name =
            name.strip_prefix("6848").map_or(name.clone(), |rest| rest.trim_start_matches(['-', ':']).to_owned());
        let row = tungsten_types::by_name(&name).filter(|_| diameter)?;
        Some((name, row))
    })?;
    let same = |own: &str| find::same(own, &name);
    let system = if same(row.iso6848) {
        System::Iso6848
    } else if row.aws.iter().any(|own| same(own)) {
        System::Aws
    } else {
        System::Former
    };
    Some(Electrode { row, system })
}

/// The electrode with this designation: ISO 6848, AWS A5.12 or the former letters, with the standard or without, or a name of
/// the trade: `2% lanthanated`, `gold`.
pub fn get(designation: &str) -> Option<&'static Row> {
    let designation = find::first(designation);
    let called = || find::by_name(tungsten_types::rows(), designation, |row| row.also.iter().copied());
    tungsten_types::by_name(designation).or_else(|| parse(designation).map(|electrode| electrode.row)).or_else(called)
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 6848:2015, table 1, beside AWS A5.12M/A5.12:2009.
    #[test]
    fn iso_and_aws_names_go_together() {
        for (iso, aws) in [
            ("WP", "EWP"),
            ("WCe20", "EWCe-2"),
            ("WLa10", "EWLa-1"),
            ("WLa15", "EWLa-1.5"),
            ("WLa20", "EWLa-2"),
            ("WTh20", "EWTh-2"),
            ("WZr8", "EWZr-8"),
        ] {
            let (by_iso, by_aws) = (parse(iso).unwrap(), parse(aws).unwrap());
            assert_eq!((by_iso.system, by_aws.system), (System::Iso6848, System::Aws), "{iso}");
            assert_eq!(by_iso.row, by_aws.row, "{iso}");
            assert_eq!((by_iso.iso(), by_iso.aws()), (iso, Some(aws)));
        }
        assert_eq!(parse("WL 15").unwrap().system, System::Former);
        assert_eq!(parse("ISO 6848 - WLa 15").unwrap().iso(), "WLa15");
        assert_eq!(parse("ISO 6848-WLa15").unwrap().iso(), "WLa15");
        assert_eq!(parse("AWS A5.12 EWLa-1.5").unwrap().iso(), "WLa15");
        assert!(parse("").is_none() && parse("WX9").is_none() && parse("ISO 6848").is_none());
    }
}
