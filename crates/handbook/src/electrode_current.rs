//! Current limits of covered electrodes, and the single series that they are drawn from.

use std::sync::LazyLock;

use crate::band::{Band, Limits};
use crate::covered_electrodes;
use crate::designation;
use crate::find;
use crate::table::{Origin, table};

table!(INFO, rows, "electrode-current", Row);
table!(SERIES, series, "electrode-current-series", SeriesRow);

/// Limits of one class and diameter.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// AWS classification.
    #[cfg_attr(false, key = "class")]
    pub classification: &'static str,
    /// Diameter of the core wire in millimetres.
    pub diameter_mm: f64,
    /// Widest range over all sources, in amperes.
    pub envelope_a: Band,
    /// Range that most sources share, in amperes.
    pub usual_a: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The range that one source prints.
#[derive(Debug, Clone, PartialEq)]
pub struct SeriesRow {
    /// AWS classification.
    #[cfg_attr(false, key = "class")]
    pub classification: &'static str,
    /// Diameter of the core wire in millimetres.
    pub diameter_mm: f64,
    /// Range in amperes.
    pub range_a: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The covering of each row, in the order of the rows.
static COVERINGS: LazyLock<Vec<Option<String>>> =
    LazyLock::new(|| rows().iter().map(|row| covering(row.classification)).collect());

/// Current limits of a covered electrode in amperes, by class and diameter in millimetres.
///
/// The nearest listed diameter counts if it lies within 5 %: 2.5 mm finds 3/32 in, 5.0 mm finds 3/16 in. A class of AWS A5.1
/// or A5.5 without rows has the hull of the classes there with its two last digits: the table gives E8018-B2, E8018-C3 and
/// E9018-B3 one range, for the core is the same and the alloy in the covering hardly changes the current.
pub fn range(class: &str, diameter_mm: f64) -> Option<Limits> {
    let known = covered_electrodes::get(class).map_or(class, |row| row.classification);
    let own = || rows().iter().filter(|row| find::same(row.classification, known));
    if own().next().is_some() {
        let row = find::by_size(own(), diameter_mm, |row| row.diameter_mm)?;
        return Some(Limits {
            envelope: row.envelope_a,
            usual: row.usual_a,
            source: row.origin.source_ref(),
            doubt: row.origin.doubt,
        });
    }
    let wanted = Some(covering(class)?);
    let alike = rows().iter().zip(COVERINGS.iter()).filter(|(_, own)| **own == wanted).map(|(row, _)| row);
    let mut fitting = alike.filter(|row| find::same_size(row.diameter_mm, diameter_mm));
    let first = fitting.next()?;
    let limits = Limits { envelope: first.envelope_a, usual: None, source: first.origin.source_ref(), doubt: None };
    Some(fitting.fold(limits, |limits, row| Limits { envelope: limits.envelope.hull(row.envelope_a), ..limits }))
}

/// Position and covering of an electrode of AWS A5.1 or A5.5, the last two of its digits: 18 of E11018-M.
fn covering(class: &str) -> Option<String> {
    let read = designation::parse(class).ok().filter(|read| matches!(read.standard, "AWS A5.1" | "AWS A5.5"))?;
    let digits: String = read.class.chars().skip(1).take_while(char::is_ascii_digit).collect();
    digits.get(digits.len().checked_sub(2)?..).map(str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_hold_every_series() {
        for row in series() {
            let limits = range(row.classification, row.diameter_mm).unwrap();
            assert!(limits.envelope.covers(row.range_a), "{row:?}");
        }
        for row in rows() {
            assert!(row.usual_a.is_none_or(|usual| row.envelope_a.covers(usual)), "{row:?}");
        }
    }

    // AWS A5.1:2004 annex A: E6010 3.2 mm, 75 to 125 A.
    #[test]
    fn annex_figures_are_found_by_class_with_marks() {
        assert_eq!(range("E6010", 3.2).unwrap().envelope, Band::new(75.0, 125.0));
        assert!(range("E7018-1 H4R", 2.5).is_some());
        assert!(range("E6010", 2.9).is_none());
        let strong = range("E11018-M", 3.2).unwrap();
        assert!(strong.envelope.covers(range("E9018-B3", 3.2).unwrap().envelope), "{strong:?}");
        assert!(range("E9999", 3.2).is_none());
    }
}
