//! Settings for solid wire: current, voltage and wire feed by wire, diameter and transfer; where spray begins; rules.

use serde::{Deserialize, Serialize};

use crate::find;
use crate::gtaw_starting_points::Joint;
use crate::range::{Limits, Range};
use crate::rule::{self, Rule};
use crate::table::{Origin, table};

table!(INFO, rows, "gmaw-parameters", Row);
table!(TRANSITION, transitions, "spray-transition", TransitionRow);
table!(STARTING_POINTS, starting_points, "gmaw-starting-points", StartingPoint);
table!(RULES, rules, "gmaw-rules", Rule);

/// The mode in which metal crosses the arc.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Transfer {
    /// The wire dips into the pool.
    ShortCircuit,
    /// Drops wider than the wire.
    Globular,
    /// Drops finer than the wire.
    Spray,
    /// One drop with each pulse.
    Pulsed,
}

/// One row of settings.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// Family of the wire: `carbon-steel`, `stainless`, `aluminium`.
    pub wire: String,
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Mode of transfer.
    pub transfer: Transfer,
    /// Shielding gas in words.
    pub gas: String,
    /// Current in amperes.
    pub current_a: Range,
    /// Arc voltage in volts.
    pub voltage_v: Range,
    /// Wire feed speed in metres per minute.
    pub wire_feed_m_min: Option<Range>,
    /// Thickness that the row is for, in millimetres.
    pub thickness_mm: Option<Range>,
    /// Travel speed in millimetres per minute.
    pub travel_mm_min: Option<Range>,
    /// Distance of contact tip to work in millimetres.
    pub tip_to_work_mm: Option<Range>,
    /// Gas flow in litres per minute.
    pub gas_flow_l_min: Option<Range>,
    /// Peak current of the pulse in amperes.
    pub peak_a: Option<Range>,
    /// Background current of the pulse in amperes.
    pub background_a: Option<Range>,
    /// Pulse frequency in hertz.
    pub frequency_hz: Option<Range>,
    /// Where the row comes from.
    #[serde(flatten)]
    pub origin: Origin,
}

/// Where spray transfer begins.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct TransitionRow {
    /// Family of the wire.
    pub wire: String,
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Shielding gas.
    pub gas: String,
    /// Current at which spray begins, in amperes.
    pub spray_above_a: Range,
    /// Where the row comes from.
    #[serde(flatten)]
    pub origin: Origin,
}

/// A line of settings to begin with.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct StartingPoint {
    /// Kind of joint.
    pub joint: Joint,
    /// Thickness in millimetres.
    pub thickness_mm: f64,
    /// Shielding gas.
    pub gas: String,
    /// Wire diameters in millimetres.
    pub diameter_mm: Range,
    /// Current in amperes.
    pub current_a: Range,
    /// Arc voltage in volts.
    pub voltage_v: Range,
    /// Travel speed in millimetres per minute.
    pub travel_mm_min: Range,
    /// Distance of contact tip to work in millimetres.
    pub tip_to_work_mm: Range,
    /// Gas flow in litres per minute.
    pub gas_flow_l_min: Range,
    /// Where the row comes from.
    #[serde(flatten)]
    pub origin: Origin,
}

/// A figure of a row of settings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Setting {
    /// Current in amperes.
    Current,
    /// Arc voltage in volts.
    Voltage,
    /// Wire feed speed in metres per minute.
    WireFeed,
}

/// Rows for a wire family, diameter in millimetres and mode of transfer; without a mode, those of every mode.
pub fn settings(wire: &str, diameter_mm: f64, transfer: Option<Transfer>) -> Vec<&'static Row> {
    rows()
        .iter()
        .filter(|row| find::same(&row.wire, wire) && find::same_size(row.diameter_mm, diameter_mm))
        .filter(|row| transfer.is_none_or(|transfer| transfer == row.transfer))
        .collect()
}

/// Limits of a setting for a wire family, diameter in millimetres and mode of transfer.
///
/// The envelope spans all rows, the usual range is what they have in common.
pub fn range(wire: &str, diameter_mm: f64, transfer: Option<Transfer>, setting: Setting) -> Option<Limits> {
    let rows = settings(wire, diameter_mm, transfer);
    let mut ranges = rows.iter().filter_map(|row| {
        let (field, range) = match setting {
            Setting::Current => ("current_a", Some(row.current_a)),
            Setting::Voltage => ("voltage_v", Some(row.voltage_v)),
            Setting::WireFeed => ("wire_feed_m_min", row.wire_feed_m_min),
        };
        range.map(|range| (range, row, field))
    });
    let (first, row, field) = ranges.next()?;
    let (envelope, usual) = ranges.fold((first, Some(first)), |(envelope, usual), (range, _, _)| {
        (envelope.hull(range), usual.and_then(|usual| usual.overlap(range)))
    });
    Some(Limits { envelope, usual, source: row.origin.source_of(field), doubt: row.origin.doubt.clone() })
}

/// The current in amperes at which spray transfer begins: below `envelope.low` no source has spray, from `envelope.high` all do.
///
/// Rows of the same gas count; where the gas has none, those of every gas.
pub fn spray_above(wire: &str, diameter_mm: f64, gas: &str) -> Option<Limits> {
    let of_wire: Vec<&TransitionRow> = transitions()
        .iter()
        .filter(|row| find::same(&row.wire, wire) && find::same_size(row.diameter_mm, diameter_mm))
        .collect();
    let of_gas: Vec<&TransitionRow> = of_wire.iter().copied().filter(|row| find::same(&row.gas, gas)).collect();
    let rows = if of_gas.is_empty() { of_wire } else { of_gas };
    let first = rows.first()?;
    Some(Limits {
        envelope: rows.iter().map(|row| row.spray_above_a).fold(first.spray_above_a, Range::hull),
        usual: None,
        source: first.origin.source_ref(),
        doubt: first.origin.doubt.clone(),
    })
}

/// The rule with this name, such as `spray-argon`, `tip-to-work-spray` or `gas-flow`.
pub fn rule(name: &str) -> Option<&'static Rule> {
    rule::get(rules(), name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_span_their_rows() {
        for row in rows() {
            let limits = range(&row.wire, row.diameter_mm, Some(row.transfer), Setting::Current).unwrap();
            assert!(limits.envelope.covers(row.current_a), "{row:?}");
        }
    }

    // Manufacturer MIG handbook, table 1-2: 1.2 mm carbon steel in 98Ar-2O2 sprays from 220 A.
    #[test]
    fn spray_begins_where_the_handbook_says() {
        let limits = spray_above("carbon-steel", 1.2, "98Ar-2O2").unwrap();
        assert!(limits.envelope.contains(220.0) && limits.envelope.low >= 200.0);
        assert!(spray_above("carbon-steel", 1.2, "Ar-8CO2").unwrap().envelope.covers(limits.envelope));
        assert!(spray_above("carbon-steel", 2.0, "98Ar-2O2").is_none());
    }

    #[test]
    fn an_unstated_transfer_spans_every_mode() {
        let all = range("carbon-steel", 1.2, None, Setting::Voltage).unwrap().envelope;
        for transfer in [Transfer::ShortCircuit, Transfer::Spray, Transfer::Pulsed] {
            assert!(all.covers(range("carbon-steel", 1.2, Some(transfer), Setting::Voltage).unwrap().envelope));
        }
    }
}
