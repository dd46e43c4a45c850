//! Flux cored wire: classes, settings by class and diameter, and rules.

use crate::band::{Band, Limits};
use crate::find;
use crate::gmaw_parameters::{Setting, between, spanned};
use crate::processes::Polarity;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(INFO, rows, "fcaw-parameters", Row);
table!(ELECTRODES, electrodes, "flux-cored-electrodes", Electrode);
table!(RULES, rules, "fcaw-rules", Rule);
named!("fcaw-rules");

/// One row of settings.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// AWS classification without the gas letter.
    #[cfg_attr(false, key = "class")]
    pub classification: &'static str,
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Current in amperes.
    pub current_a: Band,
    /// Arc voltage in volts.
    pub voltage_v: Option<Band>,
    /// Wire feed speed in metres per minute.
    pub wire_feed_m_min: Option<Band>,
    /// Distance of contact tip to work in millimetres.
    pub tip_to_work_mm: Option<Band>,
    /// Gas flow in litres per minute.
    pub gas_flow_l_min: Option<Band>,
    /// Travel speed in millimetres per minute.
    pub travel_mm_min: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// One class of electrode.
#[derive(Debug, Clone, PartialEq)]
pub struct Electrode {
    /// AWS A5.20 classification.
    #[cfg_attr(false, key = "class")]
    pub classification: &'static str,
    /// Positions: `flat`, `horizontal`, `vertical-up`, `vertical-down`, `overhead`.
    pub positions: &'static [&'static str],
    /// Shielding gas in words.
    pub gas: &'static str,
    /// Whether it needs no gas.
    pub self_shielded: bool,
    /// Polarities that the class permits; empty where the manufacturer states them.
    #[cfg_attr(false, optional)]
    pub polarity: &'static [Polarity],
    /// Least tensile strength in megapascals.
    pub tensile_min_mpa: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The electrode of this class; the gas letter `C` or `M` and hydrogen marks may be missing or stand.
pub fn electrode(class: &str) -> Option<&'static Electrode> {
    let wanted = bare(class);
    find::by_name(electrodes(), class, |row| [row.classification])
        .or_else(|| electrodes().iter().find(|row| bare(row.classification) == wanted))
}

/// A class folded, without hydrogen mark, toughness `J` and gas letter.
fn bare(class: &str) -> String {
    let mut folded = find::folded(class);
    for mark in ["h4", "h8", "h16", "j", "c", "m"] {
        if let Some(rest) = folded.strip_suffix(mark) {
            folded = rest.to_owned();
        }
    }
    folded
}

fn settings(class: &str, diameter_mm: f64) -> impl Iterator<Item = &'static Row> {
    let class = bare(class);
    rows().iter().filter(move |row| bare(row.classification) == class && find::same_size(row.diameter_mm, diameter_mm))
}

/// Limits of a setting by class and diameter in millimetres.
///
/// The envelope spans all rows, the usual range is what they have in common.
pub fn range(class: &str, diameter_mm: f64, setting: Setting) -> Option<Limits> {
    spanned(settings(class, diameter_mm).filter_map(|row| {
        let (field, range) = match setting {
            Setting::Current => ("current_a", Some(row.current_a)),
            Setting::Voltage => ("voltage_v", row.voltage_v),
            Setting::WireFeed => ("wire_feed_m_min", row.wire_feed_m_min),
            Setting::TipToWork => ("tip_to_work_mm", row.tip_to_work_mm),
            Setting::GasFlow => ("gas_flow_l_min", row.gas_flow_l_min),
            Setting::Peak | Setting::Background | Setting::Frequency => return None,
        };
        range.map(|range| (range, &row.origin, field))
    }))
}

/// The wire feed speed in metres per minute at which a wire takes this current: between the ends of the rows.
pub fn wire_feed_at(class: &str, diameter_mm: f64, current_a: f64) -> Option<Band> {
    let feeds = settings(class, diameter_mm).filter_map(|row| {
        let feed = between(row.current_a, row.wire_feed_m_min?, current_a);
        Some(Band::at(feed))
    });
    feeds.reduce(Band::hull)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Welding textbook, table 23-2: E71T-11 is self-shielded and runs on DCEN, E71T-1C takes CO2 on DCEP.
    #[test]
    fn classes_are_found_with_and_without_marks() {
        let electrode_11 = electrode("E71T-11").unwrap();
        assert!(electrode_11.self_shielded && electrode_11.polarity == [Polarity::Dcen]);
        for written in ["E71T-1C", "E71T-1", "E71T-1M H8", "e71t1c-h4"] {
            let found = electrode(written).unwrap();
            assert!(!found.self_shielded && found.polarity == [Polarity::Dcep], "{written}");
        }
        assert_eq!(electrode("E71T-1M").unwrap().gas, "75-80Ar-CO2");
        assert!(electrode("E99T-9").is_none());
    }

    #[test]
    fn settings_span_their_rows() {
        for row in rows() {
            let limits = range(row.classification, row.diameter_mm, Setting::Current).unwrap();
            assert!(limits.envelope.covers(row.current_a), "{row:?}");
        }
        assert!(range("E71T-1C", 1.2, Setting::TipToWork).is_some());
        assert!(range("E71T-1C", 6.0, Setting::Current).is_none());
    }
}
