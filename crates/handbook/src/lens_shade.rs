//! Shade of the filter lens by process and current, in the US and the ISO way.

use crate::band::Band;
use crate::metal_families;
use crate::processes;
use crate::table::{Origin, table};

table!(INFO, rows, "lens-shade", Row);
table!(ISO, iso_rows, "lens-shade-iso", IsoRow);

/// Shades of ANSI Z49.1 and OSHA.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Current in amperes.
    pub current_a: Band,
    /// Least protective shade.
    pub shade_min: u32,
    /// Shade to start from.
    pub shade_suggested: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Shade of ISO 4850 and EN 169.
#[derive(Debug, Clone, PartialEq)]
pub struct IsoRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Families of metal; all where empty.
    #[cfg_attr(false, optional)]
    pub metals: &'static [&'static str],
    /// Current in amperes.
    pub current_a: Band,
    /// Shade number.
    pub shade: u32,
    /// Where the row comes from.
    pub origin: Origin,
}

fn number(process: &str) -> &str {
    processes::get(process).map_or(process, |row| row.number)
}

/// The band that holds a current; where two meet the darker one, and above the last band the last.
fn band<R>(rows: &[&'static R], current_a: f64, of: impl Fn(&R) -> Band) -> Option<&'static R> {
    let held = rows.iter().rev().find(|row| of(row).contains(current_a));
    held.or_else(|| rows.last().filter(|row| of(row).high < current_a)).copied()
}

/// Least and suggested shade for a process (number or letters) and a current in amperes.
pub fn get(process: &str, current_a: f64) -> Option<&'static Row> {
    let number = number(process);
    let of_process: Vec<&Row> = rows().iter().filter(|row| row.processes.contains(&number)).collect();
    band(&of_process, current_a, |row| row.current_a)
}

/// Shade of the ISO table for a process (number or letters), a family of metal and a current in amperes.
pub fn iso(process: &str, family: &str, current_a: f64) -> Option<&'static IsoRow> {
    let number = number(process);
    let suits = |row: &&IsoRow| {
        row.processes.contains(&number)
            && (row.metals.is_empty() || row.metals.iter().any(|metal| metal_families::is_in(family, metal)))
    };
    band(&iso_rows().iter().filter(suits).collect::<Vec<_>>(), current_a, |row| row.current_a)
}

#[cfg(test)]
mod tests {
    use super::*;

    // OSHA 1910.133(a)(5): shielded metal arc 60 to 160 A, shade 8; gas tungsten arc 50 to 150 A, shade 8, 150 to 500 A, 10.
    #[test]
    fn shades_of_the_regulation_are_found() {
        assert_eq!(get("SMAW", 100.0).unwrap().shade_min, 8);
        assert_eq!(get("141", 120.0).unwrap().shade_min, 8);
        assert_eq!(get("141", 150.0).unwrap().shade_min, 10);
        assert_eq!(get("111", 900.0).unwrap().shade_min, 11);
        assert!(get("121", 400.0).is_none());
    }

    #[test]
    fn darker_lenses_go_with_more_current() {
        assert!(
            iso("131", "aluminium-magnesium", 300.0).unwrap().shade >= iso("131", "aluminium", 90.0).unwrap().shade
        );
        assert!(iso("141", "steel", 2.0).is_none());
        for pair in rows().windows(2) {
            if pair[0].processes == pair[1].processes {
                assert!(pair[0].shade_min <= pair[1].shade_min && pair[0].current_a.high <= pair[1].current_a.low);
            }
        }
    }
}
