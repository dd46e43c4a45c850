//! Gas nozzle numbers and their bores.

use crate::find;
use crate::table::{Origin, table};

table!("gas-nozzles", Row);

/// One nozzle.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Number of the nozzle, in sixteenths of an inch.
    pub number: u32,
    /// Bore in millimetres.
    pub bore_mm: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The nozzle with this number.
pub fn get(number: u32) -> Option<&'static Row> {
    rows().iter().find(|row| row.number == number)
}

/// The nozzle whose bore is this many millimetres, within 5 %.
pub fn by_bore(bore_mm: f64) -> Option<&'static Row> {
    find::by_size(rows(), bore_mm, |row| row.bore_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    // The number counts sixteenths of an inch: rule of the trade; 1 in = 25.4 mm by definition.
    #[test]
    fn bore_is_the_number_in_sixteenths_of_an_inch() {
        for row in rows() {
            assert!((row.bore_mm - f64::from(row.number) * 25.4 / 16.0).abs() < 0.06, "{row:?}");
        }
        assert_eq!(by_bore(11.0).map(|row| row.number), Some(7));
    }
}
