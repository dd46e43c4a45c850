//! How far a tungsten electrode may stand out of the gas nozzle.

use crate::band::{Band, Limits};
use crate::table::{Origin, table};

table!("tungsten-stickout", Row);

/// What a stickout is measured in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Multiples of the electrode diameter.
    ElectrodeDiameters,
    /// Multiples of the nozzle bore.
    NozzleBores,
}

/// One rule for one set-up.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// `standard` or `gas-lens`.
    pub set_up: &'static str,
    /// What `maximum` is measured in.
    pub measure: Measure,
    /// Largest stickout; a range where shops differ.
    pub maximum: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Limits of the stickout in millimetres, from the electrode diameter and, where known, the nozzle bore in millimetres.
///
/// The envelope ends at the longest stickout that any rule allows, the usual range at the shortest; the source is that of
/// the rule that allows the longest.
pub fn range(gas_lens: bool, electrode_mm: f64, bore_mm: Option<f64>) -> Option<Limits> {
    let set_up = if gas_lens { "gas-lens" } else { "standard" };
    let maxima = rows().iter().filter(|row| row.set_up == set_up).filter_map(|row| {
        let size = match row.measure {
            Measure::ElectrodeDiameters => electrode_mm,
            Measure::NozzleBores => bore_mm?,
        };
        Some((row.maximum.scaled(size), row))
    });
    let maxima: Vec<(Band, &Row)> = maxima.collect();
    let (longest, row) = maxima.iter().max_by(|a, b| a.0.high.total_cmp(&b.0.high))?;
    let shortest = maxima.iter().map(|(maximum, _)| maximum.low).fold(longest.low, f64::min);
    Some(Limits {
        envelope: Band::new(0.0, longest.high),
        usual: Some(Band::new(0.0, shortest)),
        source: row.origin.source_ref(),
        doubt: row.origin.doubt,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // Manufacturer handbook: three electrode diameters from a collet body, six from a gas lens.
    #[test]
    fn a_gas_lens_doubles_the_stickout() {
        assert_eq!(range(false, 2.0, None).unwrap().envelope, Band::new(0.0, 6.0));
        assert_eq!(range(true, 2.0, None).unwrap().envelope, Band::new(0.0, 12.0));
    }

    #[test]
    fn a_narrow_nozzle_shortens_what_is_usual() {
        let limits = range(false, 2.4, Some(9.5)).unwrap();
        assert!(limits.usual.unwrap().high < limits.envelope.high);
        assert!((limits.usual.unwrap().high - 4.75).abs() < 1e-9);
    }
}
