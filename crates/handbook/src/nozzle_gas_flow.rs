//! Argon flow by gas nozzle and by tungsten electrode, and the rules on turbulence and wind.

use crate::band::{Band, Limits};
use crate::find;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(INFO, rows, "nozzle-gas-flow", Row);
table!(BY_ELECTRODE, by_electrode, "electrode-nozzles", ElectrodeRow);
table!(RULES, rules, "gas-flow-rules", Rule);
named!("gas-flow-rules");

/// Flow for one nozzle.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Number of the nozzle.
    pub number: u32,
    /// Widest range, in litres per minute of argon.
    pub envelope_l_min: Band,
    /// Usual range, in litres per minute of argon.
    pub usual_l_min: Band,
    /// Range of the rule of thumb, in litres per minute.
    pub rule_l_min: Band,
    /// Range that suffices with a gas lens, in litres per minute.
    pub gas_lens_l_min: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Nozzle and flow for one electrode diameter.
#[derive(Debug, Clone, PartialEq)]
pub struct ElectrodeRow {
    /// Diameter of the tungsten electrode in millimetres.
    pub electrode_mm: f64,
    /// Nozzle numbers that go with it.
    pub nozzle: Band,
    /// Usual flow, in litres per minute of argon.
    pub usual_l_min: Band,
    /// Widest flow, in litres per minute of argon.
    pub envelope_l_min: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Limits of the argon flow in litres per minute for a nozzle number, with a gas lens or without.
pub fn range(nozzle: u32, gas_lens: bool) -> Option<Limits> {
    let row = rows().iter().find(|row| row.number == nozzle)?;
    let lens = |range: Band| if gas_lens { range.hull(row.gas_lens_l_min) } else { range };
    Some(Limits {
        envelope: lens(row.envelope_l_min),
        usual: Some(lens(row.usual_l_min)),
        source: row.origin.source_ref(),
        doubt: row.origin.doubt,
    })
}

/// Nozzle and flow for a tungsten electrode by its diameter in millimetres, within 5 %.
pub fn for_electrode(electrode_mm: f64) -> Option<&'static ElectrodeRow> {
    find::by_size(by_electrode(), electrode_mm, |row| row.electrode_mm)
}

/// Limits of the argon flow in litres per minute where only the electrode is known, by its diameter in millimetres.
pub fn range_for_electrode(electrode_mm: f64) -> Option<Limits> {
    let row = for_electrode(electrode_mm)?;
    Some(Limits {
        envelope: row.envelope_l_min,
        usual: Some(row.usual_l_min),
        source: row.origin.source_ref(),
        doubt: row.origin.doubt,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas_nozzles;

    #[test]
    fn every_nozzle_has_a_flow() {
        assert!(gas_nozzles::rows().iter().all(|nozzle| range(nozzle.number, false).is_some()));
    }

    #[test]
    fn a_gas_lens_only_widens() {
        for row in rows() {
            let (with, without) = (range(row.number, true).unwrap(), range(row.number, false).unwrap());
            assert!(with.envelope.covers(without.envelope));
            assert!(without.envelope.covers(without.usual.unwrap()));
        }
    }

    // Rule of the trade: two to three cubic feet an hour for each number; 1 ft3/h is 0.4719 L/min.
    #[test]
    fn the_rule_column_follows_the_rule() {
        let per_number = FLOW_PER_NUMBER.value;
        for row in rows() {
            for (flow, factor) in [(row.rule_l_min.low, per_number.low), (row.rule_l_min.high, per_number.high)] {
                assert!((flow - f64::from(row.number) * factor * 0.4719).abs() < 0.06, "{row:?}");
            }
        }
    }
}
