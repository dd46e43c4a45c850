//! Polarity of a tungsten electrode by metal: table `gtaw-polarity`.

use serde::Deserialize;

use crate::metal_families;
use crate::table::{Origin, table};

table!("gtaw-polarity", Row);

/// One family.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// Family of metal.
    pub metal: String,
    /// Polarities that weld it: `DCEN`, `DCEP`, `AC`.
    pub suited: Vec<String>,
    /// Polarities that also weld it under helium.
    pub with_helium: Vec<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The row of a family, or of the nearest wider family that has one.
pub fn get(family: &str) -> Option<&'static Row> {
    metal_families::first(rows(), family, |row| &row.metal)
}
