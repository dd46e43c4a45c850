//! Usual and widest settings by process: speed, angles, widths, pulse, diameters, thicknesses.

use serde::Deserialize;

use crate::find;
use crate::range::{Limits, Range};
use crate::table::{Origin, table};

table!("setting-limits", Row);

/// The two ranges of a setting.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// Name that a check asks for.
    pub quantity: String,
    /// ISO 4063 numbers; all where empty.
    #[serde(default)]
    pub processes: Vec<String>,
    /// Usual range, in `unit`.
    pub usual: Range,
    /// Widest range, in `unit`.
    pub widest: Range,
    /// Unit of both, or what they are a ratio to.
    pub unit: String,
    /// Where the row comes from.
    #[serde(flatten)]
    pub origin: Origin,
}

impl Row {
    /// The two ranges as limits.
    pub fn limits(&self) -> Limits {
        Limits {
            envelope: self.widest,
            usual: Some(self.usual),
            source: self.origin.source_ref(),
            doubt: self.origin.doubt.clone(),
        }
    }
}

/// The row of a quantity for a process (ISO 4063 number); a row without processes holds for all.
pub fn get(quantity: &str, process: &str) -> Option<&'static Row> {
    rows().iter().find(|row| {
        find::same(&row.quantity, quantity)
            && (row.processes.is_empty() || row.processes.iter().any(|own| own == process))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_range_lies_in_the_widest() {
        for row in rows() {
            assert!(row.widest.covers(row.usual), "{} {:?}", row.quantity, row.processes);
        }
    }

    #[test]
    fn a_process_has_one_row_for_a_quantity() {
        for (index, row) in rows().iter().enumerate() {
            for other in rows().iter().skip(index + 1).filter(|other| other.quantity == row.quantity) {
                assert!(!row.processes.is_empty() && !other.processes.is_empty(), "{}", row.quantity);
                assert!(row.processes.iter().all(|own| !other.processes.contains(own)), "{}", row.quantity);
            }
        }
    }
}
