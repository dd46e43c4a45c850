//! Current limits of covered electrodes, and the single series that they are drawn from.

use serde::Deserialize;

use crate::covered_electrodes;
use crate::find;
use crate::range::{Limits, Range};
use crate::table::{Origin, table};

table!(INFO, rows, "electrode-current", Row);
table!(SERIES, series, "electrode-current-series", SeriesRow);

/// Limits of one class and diameter.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// AWS classification.
    #[serde(rename = "class")]
    pub classification: String,
    /// Diameter of the core wire in millimetres.
    pub diameter_mm: f64,
    /// Widest range over all sources, in amperes.
    pub envelope_a: Range,
    /// Range that most sources share, in amperes.
    pub usual_a: Option<Range>,
    /// Where the row comes from.
    #[serde(flatten)]
    pub origin: Origin,
}

/// The range that one source prints.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct SeriesRow {
    /// AWS classification.
    #[serde(rename = "class")]
    pub classification: String,
    /// Diameter of the core wire in millimetres.
    pub diameter_mm: f64,
    /// Range in amperes.
    pub range_a: Range,
    /// Where the row comes from.
    #[serde(flatten)]
    pub origin: Origin,
}

/// Current limits of a covered electrode in amperes, by class and diameter in millimetres.
///
/// The nearest listed diameter counts if it lies within 5 %: 2.5 mm finds 3/32 in, 5.0 mm finds 3/16 in.
pub fn range(class: &str, diameter_mm: f64) -> Option<Limits> {
    let class = covered_electrodes::get(class).map_or(class, |row| row.classification.as_str());
    let rows = rows().iter().filter(|row| find::same(&row.classification, class));
    let row = find::by_size(rows, diameter_mm, |row| row.diameter_mm)?;
    Some(Limits {
        envelope: row.envelope_a,
        usual: row.usual_a,
        source: row.origin.source_ref(),
        doubt: row.origin.doubt.clone(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_hold_every_series() {
        for row in series() {
            let limits = range(&row.classification, row.diameter_mm).unwrap();
            assert!(limits.envelope.covers(row.range_a), "{row:?}");
        }
        for row in rows() {
            assert!(row.usual_a.is_none_or(|usual| row.envelope_a.covers(usual)), "{row:?}");
        }
    }

    // AWS A5.1:2004 annex A: E6010 3.2 mm, 75 to 125 A.
    #[test]
    fn annex_figures_are_found_by_class_with_marks() {
        assert_eq!(range("E6010", 3.2).unwrap().envelope, Range::new(75.0, 125.0));
        assert!(range("E7018-1 H4R", 2.5).is_some());
        assert!(range("E6010", 2.9).is_none());
    }
}
