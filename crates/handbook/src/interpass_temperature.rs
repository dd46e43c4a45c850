//! Highest, and at times least, interpass temperature by family of metal.

use crate::band::{Band, Limits};
use crate::measure::Heat;
use crate::metal_families;
use crate::process_suitability::Need;
use crate::table::{Origin, table};

table!("interpass-temperature", Row);

/// One family.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Family of metal.
    pub metal: &'static str,
    /// Highest in usual use, in degrees Celsius.
    pub usual_max_c: f64,
    /// Highest that any source allows, in degrees Celsius.
    pub envelope_max_c: f64,
    /// Least, in degrees Celsius.
    pub minimum_c: Option<f64>,
    /// Highest in usual use, in degrees Fahrenheit as American sources print it.
    pub usual_max_f: Option<f64>,
    /// Highest that any source allows, in degrees Fahrenheit as American sources print it.
    pub envelope_max_f: Option<f64>,
    /// Least, in degrees Fahrenheit as American sources print it.
    pub minimum_f: Option<f64>,
    /// How much a weld of several runs needs a stated limit; advised where nothing is said.
    pub stated: Option<Need>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// Highest in usual use.
    pub fn usual(&self) -> Heat {
        Heat::new(self.usual_max_c, self.usual_max_f)
    }

    /// Highest that any source allows.
    pub fn envelope(&self) -> Heat {
        Heat::new(self.envelope_max_c, self.envelope_max_f)
    }

    /// Least, where the metal must stay warm.
    pub fn minimum(&self) -> Option<Heat> {
        Some(Heat::new(self.minimum_c?, self.minimum_f))
    }
}

/// The row of a family, or of the nearest wider family that has one.
pub fn get(family: &str) -> Option<&'static Row> {
    metal_families::first(rows(), family, |row| row.metal)
}

/// Limits of the interpass temperature in degrees Celsius; a family without least temperature starts at absolute zero.
pub fn range(family: &str) -> Option<Limits> {
    const ABSOLUTE_ZERO_C: f64 = -273.15;
    let row = get(family)?;
    let low = row.minimum_c.unwrap_or(ABSOLUTE_ZERO_C);
    Some(Limits {
        envelope: Band::new(low, row.envelope_max_c),
        usual: Some(Band::new(low, row.usual_max_c)),
        source: row.origin.source_ref(),
        doubt: row.origin.doubt,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn families_exist_and_usual_lies_inside() {
        for row in rows() {
            assert!(metal_families::get(row.metal).is_some(), "{}", row.metal);
            assert!(row.usual_max_c <= row.envelope_max_c, "{}", row.metal);
            // Printed pairs are roundings of each other, of 5 degrees at most.
            for heat in [Some(row.usual()), Some(row.envelope()), row.minimum()].into_iter().flatten() {
                let apart = heat.fahrenheit.map_or(0.0, |f| (f - (heat.celsius * 1.8 + 32.0)).abs());
                assert!(apart <= 18.0, "{}: {heat:?}", row.metal);
            }
        }
    }

    // Practice for stainless steel, from memory: 175 °C for austenitic, 100 °C for superduplex.
    #[test]
    fn a_family_without_row_takes_the_wider_one() {
        assert_eq!(get("fine-grain-steel"), get("carbon-steel"));
        assert!((range("superduplex-stainless").unwrap().envelope.high - 100.0).abs() < 1e-9);
        assert!((range("austenitic-stainless").unwrap().envelope.high - 175.0).abs() < 1e-9);
        assert!(range("9-chromium-steel").unwrap().envelope.low > 100.0);
        assert!(range("cast-iron").is_none());
    }
}
