//! Settings for solid wire: current, voltage and wire feed by wire, diameter and transfer; where spray begins; rules.

use serde::{Deserialize, Serialize};

use crate::band::{Band, Limits};
use crate::find;
use crate::gtaw_starting_points::Joint;
use crate::metal_families;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(INFO, rows, "gmaw-parameters", Row);
table!(TRANSITION, transitions, "spray-transition", TransitionRow);
table!(STARTING_POINTS, starting_points, "gmaw-starting-points", StartingPoint);
table!(RULES, rules, "gmaw-rules", Rule);
named!("gmaw-rules");

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
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Family of the wire: `carbon-steel`, `stainless`, `aluminium`.
    pub wire: &'static str,
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Mode of transfer.
    pub transfer: Transfer,
    /// Shielding gas in words.
    pub gas: &'static str,
    /// Current in amperes.
    pub current_a: Band,
    /// Arc voltage in volts.
    pub voltage_v: Band,
    /// Wire feed speed in metres per minute.
    pub wire_feed_m_min: Option<Band>,
    /// Thickness that the row is for, in millimetres.
    pub thickness_mm: Option<Band>,
    /// Travel speed in millimetres per minute.
    pub travel_mm_min: Option<Band>,
    /// Distance of contact tip to work in millimetres.
    pub tip_to_work_mm: Option<Band>,
    /// Gas flow in litres per minute.
    pub gas_flow_l_min: Option<Band>,
    /// Peak current of the pulse in amperes.
    pub peak_a: Option<Band>,
    /// Background current of the pulse in amperes.
    pub background_a: Option<Band>,
    /// Pulse frequency in hertz.
    pub frequency_hz: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Where spray transfer begins.
#[derive(Debug, Clone, PartialEq)]
pub struct TransitionRow {
    /// Family of the wire.
    pub wire: &'static str,
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Shielding gas.
    pub gas: &'static str,
    /// Current at which spray begins, in amperes.
    pub spray_above_a: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A line of settings to begin with.
#[derive(Debug, Clone, PartialEq)]
pub struct StartingPoint {
    /// Family of the wire.
    pub wire: &'static str,
    /// Mode of transfer.
    pub transfer: Transfer,
    /// Kind of joint.
    pub joint: Joint,
    /// Thickness in millimetres.
    pub thickness_mm: f64,
    /// Shielding gas.
    pub gas: &'static str,
    /// Wire diameters in millimetres.
    pub diameter_mm: Band,
    /// Current in amperes.
    pub current_a: Band,
    /// Arc voltage in volts.
    pub voltage_v: Band,
    /// Travel speed in millimetres per minute.
    pub travel_mm_min: Band,
    /// Distance of contact tip to work in millimetres.
    pub tip_to_work_mm: Band,
    /// Gas flow in litres per minute.
    pub gas_flow_l_min: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A figure of a row of settings, of solid or of cored wire.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Setting {
    /// Current in amperes.
    Current,
    /// Arc voltage in volts.
    Voltage,
    /// Wire feed speed in metres per minute.
    WireFeed,
    /// Distance of contact tip to work in millimetres.
    TipToWork,
    /// Gas flow in litres per minute.
    GasFlow,
    /// Peak current of the pulse in amperes.
    Peak,
    /// Background current of the pulse in amperes.
    Background,
    /// Pulse frequency in hertz.
    Frequency,
}

impl Transfer {
    /// The word of the tables.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::ShortCircuit => "short-circuit",
            Self::Globular => "globular",
            Self::Spray => "spray",
            Self::Pulsed => "pulsed",
        }
    }
}

/// Rows for a wire family, diameter in millimetres and mode of transfer; without a mode, those of every mode.
pub fn settings(wire: &str, diameter_mm: f64, transfer: Option<Transfer>) -> Vec<&'static Row> {
    rows()
        .iter()
        .filter(|row| find::same(row.wire, wire) && find::same_size(row.diameter_mm, diameter_mm))
        .filter(|row| transfer.is_none_or(|transfer| transfer == row.transfer))
        .collect()
}

/// Diameter up to which wire is thin, in millimetres: the rules of tip distance name 0.9 mm.
const THIN_WIRE_MM: f64 = 0.95;

/// Limits of a setting for a wire family, diameter in millimetres and mode of transfer.
///
/// The envelope spans all rows and starting points, and for the contact tip the rules of the mode; the usual range is what
/// they have in common.
pub fn range(wire: &str, diameter_mm: f64, transfer: Option<Transfer>, setting: Setting) -> Option<Limits> {
    let of_rows = settings(wire, diameter_mm, transfer).into_iter().filter_map(|row| {
        let (field, range) = match setting {
            Setting::Current => ("current_a", Some(row.current_a)),
            Setting::Voltage => ("voltage_v", Some(row.voltage_v)),
            Setting::WireFeed => ("wire_feed_m_min", row.wire_feed_m_min),
            Setting::TipToWork => ("tip_to_work_mm", row.tip_to_work_mm),
            Setting::GasFlow => ("gas_flow_l_min", row.gas_flow_l_min),
            Setting::Peak => ("peak_a", row.peak_a),
            Setting::Background => ("background_a", row.background_a),
            Setting::Frequency => ("frequency_hz", row.frequency_hz),
        };
        range.map(|range| (range, &row.origin, field))
    });
    let of_points = starting_points().iter().filter_map(|row| {
        let (low, high) = (row.diameter_mm.low, row.diameter_mm.high);
        let fits = find::same(row.wire, wire)
            && (row.diameter_mm.contains(diameter_mm)
                || find::same_size(low, diameter_mm)
                || find::same_size(high, diameter_mm))
            && transfer.is_none_or(|transfer| transfer == row.transfer);
        let (field, range) = match setting {
            Setting::Current => ("current_a", row.current_a),
            Setting::Voltage => ("voltage_v", row.voltage_v),
            Setting::TipToWork => ("tip_to_work_mm", row.tip_to_work_mm),
            Setting::GasFlow => ("gas_flow_l_min", row.gas_flow_l_min),
            Setting::WireFeed | Setting::Peak | Setting::Background | Setting::Frequency => return None,
        };
        fits.then_some((range, &row.origin, field))
    });
    let of_rules = rules().iter().filter_map(|rule| {
        let mode = rule.rule.strip_prefix("tip-to-work-")?;
        // Short-circuit transfer has a figure for thin wire and one for thick.
        let (mode, thick) = match mode.strip_prefix("thick-") {
            Some(mode) => (mode, Some(true)),
            None => (mode, (mode == "short-circuit").then_some(false)),
        };
        if thick.is_some_and(|thick| thick != (diameter_mm > THIN_WIRE_MM)) {
            return None;
        }
        let fits = match transfer {
            Some(transfer) => mode.starts_with(transfer.as_str()),
            None => rule.unit == "mm",
        };
        (fits && setting == Setting::TipToWork).then_some((rule.value, &rule.origin, "value"))
    });
    spanned(of_rows.chain(of_points).chain(of_rules))
}

/// Limits that span all of some ranges, each with its row's origin and its field; the usual range is what they have in common.
pub(crate) fn spanned(mut ranges: impl Iterator<Item = (Band, &'static Origin, &'static str)>) -> Option<Limits> {
    let (first, origin, field) = ranges.next()?;
    let (envelope, usual) = ranges.fold((first, Some(first)), |(envelope, usual), (range, _, _)| {
        (envelope.hull(range), usual.and_then(|usual| usual.overlap(range)))
    });
    Some(Limits { envelope, usual, source: origin.source_of(field), doubt: origin.doubt })
}

/// The wire feed speed in metres per minute at which a wire takes this current: between the ends of the rows, and by the
/// rule of feed for each ampere where the diameter has one.
///
/// The sources differ by a third; the range spans them. Nothing where no row has both figures.
pub fn wire_feed_at(wire: &str, diameter_mm: f64, transfer: Option<Transfer>, current_a: f64) -> Option<Band> {
    let of_rows = settings(wire, diameter_mm, transfer).into_iter().filter_map(|row| {
        let feed = between(row.current_a, row.wire_feed_m_min?, current_a);
        Some(Band::at(feed))
    });
    let feed = of_rows.reduce(Band::hull)?;
    let of_steel = metal_families::is_in(wire, "steel");
    let per_ampere = rules().iter().find(|rule| {
        let size = rule.rule.strip_prefix("wire-feed-per-ampere-").map(|size| size.replace('-', "."));
        of_steel
            && size.and_then(|size| size.parse::<f64>().ok()).is_some_and(|size| find::same_size(size, diameter_mm))
    });
    Some(match per_ampere {
        Some(rule) => {
            let rate = rule.value.middle() * current_a * METRES_PER_INCH;
            feed.hull(Band::at(rate))
        }
        None => feed,
    })
}

/// One inch in metres, exactly (NIST SP 811): the rules of wire feed stand in inches per minute.
const METRES_PER_INCH: f64 = 0.0254;

/// The figure of `to` that answers to a figure of `from`, on the line through their ends.
pub(crate) fn between(from: Band, to: Band, at: f64) -> f64 {
    let width = from.high - from.low;
    if width <= 0.0 { to.middle() } else { to.low + (at - from.low) / width * (to.high - to.low) }
}

/// The current in amperes at which spray transfer begins: below `envelope.low` no source has spray, from `envelope.high` all do.
///
/// Rows of the same gas count; where the gas has none, those of every gas.
pub fn spray_above(wire: &str, diameter_mm: f64, gas: &str) -> Option<Limits> {
    let of_wire: Vec<&TransitionRow> = transitions()
        .iter()
        .filter(|row| find::same(row.wire, wire) && find::same_size(row.diameter_mm, diameter_mm))
        .collect();
    let of_gas: Vec<&TransitionRow> = of_wire.iter().copied().filter(|row| find::same(row.gas, gas)).collect();
    let rows = if of_gas.is_empty() { of_wire } else { of_gas };
    let first = rows.first()?;
    Some(Limits {
        envelope: rows.iter().map(|row| row.spray_above_a).fold(first.spray_above_a, Band::hull),
        usual: None,
        source: first.origin.source_ref(),
        doubt: first.origin.doubt,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_span_their_rows() {
        for row in rows() {
            let limits = range(row.wire, row.diameter_mm, Some(row.transfer), Setting::Current).unwrap();
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

    // Manufacturer handbook, typical control settings: 1.6 in/min for each ampere with 0.9 mm wire, so 150 A take 240 in/min.
    #[test]
    fn wire_feed_follows_the_current() {
        let feed = wire_feed_at("carbon-steel", 0.9, Some(Transfer::ShortCircuit), 150.0).unwrap();
        assert!(feed.contains(240.0 * 0.0254), "{feed:?}");
        for row in rows() {
            let Some(own) = row.wire_feed_m_min else { continue };
            let feed = wire_feed_at(row.wire, row.diameter_mm, Some(row.transfer), row.current_a.low).unwrap();
            assert!(feed.contains(own.low), "{row:?}");
        }
        assert!(wire_feed_at("nickel", 1.2, None, 150.0).is_none());
    }

    #[test]
    fn starting_points_and_rules_widen_the_rows() {
        for row in starting_points() {
            let limits = range(row.wire, row.diameter_mm.low, Some(row.transfer), Setting::Voltage).unwrap();
            assert!(limits.envelope.covers(row.voltage_v), "{row:?}");
        }
        let tip = |transfer| range("carbon-steel", 1.2, transfer, Setting::TipToWork).unwrap().envelope;
        assert_eq!(tip(Some(Transfer::Spray)), TIP_TO_WORK_SPRAY.value);
        assert!(tip(None).covers(tip(Some(Transfer::ShortCircuit))));
    }

    #[test]
    fn an_unstated_transfer_spans_every_mode() {
        let all = range("carbon-steel", 1.2, None, Setting::Voltage).unwrap().envelope;
        for transfer in [Transfer::ShortCircuit, Transfer::Spray, Transfer::Pulsed] {
            assert!(all.covers(range("carbon-steel", 1.2, Some(transfer), Setting::Voltage).unwrap().envelope));
        }
    }
}
