//! The factor by which arc energy becomes heat input, what was measured, and which codes use it.

use crate::find;
use crate::processes;
use crate::table::{Origin, table};

table!(INFO, rows, "thermal-efficiency", Row);
table!(MEASURED, measured, "thermal-efficiency-measured", MeasuredRow);
table!(CODES, codes, "heat-input-codes", CodeRow);

/// Factor of the standard.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// The process in words.
    pub name: &'static str,
    /// Share of the arc energy that enters the metal.
    pub k: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Figure measured in a calorimeter.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredRow {
    /// The process in words.
    pub process: &'static str,
    /// Share of the arc energy that enters the metal.
    pub efficiency: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Whether a code reckons with the factor.
#[derive(Debug, Clone, PartialEq)]
pub struct CodeRow {
    /// The code.
    pub code: &'static str,
    /// Whether the factor is applied; nothing where either way is allowed.
    pub k_used: Option<bool>,
    /// The quantity that the code limits.
    pub quantity: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The factor of a process, by number, letters or trade name.
pub fn get(process: &str) -> Option<&'static Row> {
    let number = processes::get(process).map_or(process, |row| row.number);
    rows().iter().find(|row| row.processes.contains(&number))
}

/// Whether and how a code reckons heat input.
pub fn code(name: &str) -> Option<&'static CodeRow> {
    find::by_name(codes(), name, |row| [row.code])
}

#[cfg(test)]
mod tests {
    use super::*;

    // EN 1011-1, table 1: 121 has 1.0, 111 and gas-shielded wire 0.8, 141 and 15 have 0.6.
    #[test]
    fn every_process_has_the_factor_of_the_standard() {
        for process in processes::rows() {
            let k = get(process.number).unwrap_or_else(|| panic!("{}", process.number)).k;
            let expected = if process.uses_flux {
                1.0
            } else if process.uses_tungsten {
                0.6
            } else {
                0.8
            };
            assert!((k - expected).abs() < 1e-9, "{} {k}", process.number);
        }
    }

    #[test]
    fn codes_differ_in_the_factor() {
        assert_eq!(code("ASME IX").unwrap().k_used, Some(false));
        assert_eq!(code("EN 1011-1").unwrap().k_used, Some(true));
    }
}
