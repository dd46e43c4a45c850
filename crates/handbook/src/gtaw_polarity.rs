//! Polarity of a tungsten electrode by metal: table `gtaw-polarity`.

use crate::metal_families;
use crate::table::{Origin, table};

table!("gtaw-polarity", Row);

/// One family.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Family of metal.
    pub metal: &'static str,
    /// Polarities that weld it: `DCEN`, `DCEP`, `AC`.
    pub suited: &'static [&'static str],
    /// Polarities that also weld it under helium.
    pub with_helium: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// The row of a family, or of the nearest wider family that has one.
pub fn get(family: &str) -> Option<&'static Row> {
    metal_families::first(rows(), family, |row| row.metal)
}
