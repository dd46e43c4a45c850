//! Welding positions of ISO 6947 and of the AWS and ASME codes.

use crate::find;
use crate::table::{Origin, table};
use crate::trade_words::{self, Kind};

table!("positions", Row);
table!(OF_PROCESS, of_processes, "process-positions", ProcessRow);

/// What positions processes cannot be welded in.
#[derive(Debug, Clone, PartialEq)]
pub struct ProcessRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Whether they can be welded vertically.
    pub vertical: bool,
    /// Whether they can be welded overhead.
    pub overhead: bool,
    /// Why not.
    pub why: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// What positions a process (ISO 4063 number) cannot be welded in; nothing where it can in all.
pub fn barred(process: &str) -> Option<&'static ProcessRow> {
    of_processes().iter().find(|row| row.processes.contains(&process))
}

/// The kind of weld that a position is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Weld {
    /// Groove (butt) welds.
    Groove,
    /// Fillet welds.
    Fillet,
    /// Both.
    Both,
}

/// The product that a position is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Product {
    /// Plate.
    Plate,
    /// Pipe.
    Pipe,
    /// Both.
    Both,
}

/// The progression that a position implies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Progression {
    /// Welded upwards.
    Upward,
    /// Welded downwards.
    Downward,
    /// Upwards or downwards: must be stated.
    Either,
    /// Neither.
    None,
}

/// One position.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Code as written in a procedure.
    pub code: &'static str,
    /// `iso` or `aws`.
    pub system: &'static str,
    /// The position in words.
    pub name: &'static str,
    /// Groove, fillet or both.
    pub weld: Weld,
    /// Plate, pipe or both.
    pub product: Product,
    /// Whether the weld, or part of it, runs vertically.
    pub vertical: bool,
    /// Whether the weld, or part of it, is overhead.
    pub overhead: bool,
    /// The progression that the code implies.
    pub progression: Progression,
    /// Codes of the other system for the same position.
    pub equivalent: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// Its parts in the words of AWS: flat, horizontal, vertical, overhead.
    pub fn parts(&self) -> Vec<&'static str> {
        match (self.vertical, self.overhead) {
            (true, true) if self.code.contains("L045") || self.code.starts_with('6') => {
                vec!["flat", "horizontal", "vertical", "overhead"]
            }
            (true, true) => vec!["flat", "vertical", "overhead"],
            (true, false) => vec!["vertical"],
            (false, true) => vec!["overhead"],
            (false, false) if self.code == "PA" || self.equivalent.contains(&"PA") => vec!["flat"],
            (false, false) => vec!["horizontal"],
        }
    }
}

/// The position with this code, of either system.
pub fn get(code: &str) -> Option<&'static Row> {
    find::by_name(rows(), code, |row| [row.code])
}

/// Codes, and words of the trade for positions, that are spelt most like this one.
pub fn nearest(code: &str) -> Vec<&'static str> {
    let words = trade_words::rows()
        .iter()
        .filter(|row| matches!(row.kind, Kind::GroovePosition | Kind::FilletPosition))
        .flat_map(|row| row.words);
    find::nearest(code, rows().iter().map(|row| row.code).chain(words.copied()))
}

/// Whether two codes mean the same position, in one system or across both.
pub fn same(a: &str, b: &str) -> bool {
    match (get(a), get(b)) {
        (Some(one), Some(other)) => one == other || one.equivalent.contains(&other.code),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equivalents_are_codes_of_the_other_system_and_point_back() {
        for row in rows() {
            for code in row.equivalent {
                let other = get(code).unwrap_or_else(|| panic!("{code}"));
                assert_ne!(row.system, other.system, "{} {code}", row.code);
                assert!(other.equivalent.contains(&row.code), "{code} does not name {}", row.code);
            }
        }
    }

    // ISO 6947: PF is vertical upwards; ASME IX QW-461.3: 3G is the vertical plate groove.
    #[test]
    fn codes_of_both_systems_meet() {
        assert!(same("PF", "3g") && same("h-l045", "6G") && !same("PA", "2G"));
        assert_eq!(get("hl045").unwrap().progression, Progression::Upward);
    }
}
