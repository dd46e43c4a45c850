//! The heat that fuses a joint: heat to melt by metal, the voltage of an arc at its current, ratios of settings in use.

use crate::band::Band;
use crate::metal_families;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(ARC_VOLTAGE, arcs, "arc-voltage", ArcRow);
table!(MELT, melts, "melt-properties", MeltRow);
table!(RATIOS, ratios, "fusion-ratios", RatioRow);
table!(RULES, rules, "fusion-rules", Rule);
named!("fusion-rules");

/// The voltage that an arc has at its current.
#[derive(Debug, Clone, PartialEq)]
pub struct ArcRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Whether the shielding gas holds helium, where that matters.
    pub helium: Option<bool>,
    /// Voltage at no current.
    pub base_v: f64,
    /// Rise in volts for each ampere.
    pub v_per_a: f64,
    /// Current in amperes past which the voltage does not rise.
    pub to_a: f64,
    /// Arc voltage less the conventional one in use, V.
    pub usual_v: Band,
    /// The same, past which no such arc burns, V.
    pub widest_v: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

impl ArcRow {
    /// Conventional voltage at a current in amperes.
    pub fn conventional_v(&self, current_a: f64) -> f64 {
        self.base_v + self.v_per_a * current_a.min(self.to_a)
    }

    /// The arc voltage in use at a current in amperes, and the widest that burns.
    pub fn at(&self, current_a: f64) -> (Band, Band) {
        let base = self.conventional_v(current_a);
        let over = |range: Band| Band::new((base + range.low).max(0.0), base + range.high);
        (over(self.usual_v), over(self.widest_v))
    }
}

/// The heat that a metal takes to melt.
#[derive(Debug, Clone, PartialEq)]
pub struct MeltRow {
    /// Family of metal.
    pub metal: &'static str,
    /// Heat from 20 °C to liquid at the melting point, J/mm³.
    pub j_per_mm3: f64,
    /// Melting point or liquidus, °C.
    pub melting_c: f64,
    /// Mean conductivity, W/(mm K).
    pub conductivity_w_mm_k: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// How the heat of joints in use stands to the least that melts them.
#[derive(Debug, Clone, PartialEq)]
pub struct RatioRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Families of metal; any where empty.
    #[cfg_attr(false, optional)]
    pub metals: &'static [&'static str],
    /// `groove` or `fillet`.
    pub weld: &'static str,
    /// Share of the arc power that reaches the joint.
    pub efficiency: f64,
    /// The same with alternating current, where it differs.
    pub efficiency_ac: Option<f64>,
    /// Ratio of joints in use.
    pub usual: Band,
    /// Ratio past which the joint cannot be welded so.
    pub widest: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The voltage of an arc of a process (ISO 4063), with helium in its gas or without.
pub fn arc(process: &str, helium: bool) -> Option<&'static ArcRow> {
    arcs().iter().find(|row| row.processes.contains(&process) && row.helium.is_none_or(|own| own == helium))
}

/// The heat to melt of a family of metal: its own row, else that of the family whose settings it has.
pub fn melt(family: &str) -> Option<&'static MeltRow> {
    let family = crate::settings_by_thickness::family(family)?;
    melts().iter().find(|row| row.metal == family)
}

/// The ratios of a process (ISO 4063) on a family of metal, in a groove or in a fillet.
pub fn ratio(process: &str, family: &str, groove: bool) -> Option<&'static RatioRow> {
    ratios().iter().find(|row| {
        (row.weld == "groove") == groove
            && row.processes.contains(&process)
            && (row.metals.is_empty() || row.metals.iter().any(|own| metal_families::is_in(family, own)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settings_by_thickness;

    // IEC 60974-1, from memory: 18 V at 200 A for a tungsten arc, 28 V for a covered electrode, 24 V for wire.
    #[test]
    fn conventional_voltages_at_two_hundred_amperes() {
        let at = |process| arc(process, false).unwrap().conventional_v(200.0);
        for (process, share) in [("141", 18.0), ("111", 28.0), ("135", 24.0)] {
            assert!((at(process) - share).abs() < 1e-9, "{process}");
        }
        assert!((arc("111", false).unwrap().conventional_v(800.0) - 44.0).abs() < 1e-9);
    }

    // The voltages that sources print for a joint are those of arcs that burn.
    #[test]
    fn printed_voltages_lie_in_the_usual_spread() {
        let mut held = 0;
        for row in settings_by_thickness::rows() {
            let (Some(current), Some(voltage)) = (row.current_a, row.voltage_v) else { continue };
            let helium = row.gas.is_some_and(|gas| gas.contains("He"));
            for process in row.processes {
                let (usual, _) = arc(process, helium).unwrap().at(current.middle());
                assert!(usual.contains(voltage.middle()), "{usual:?} {row:?}");
                held += 1;
            }
        }
        assert!(held > 200, "{held}");
    }

    #[test]
    fn the_usual_lies_in_the_widest() {
        assert!(ratios().iter().all(|row| row.widest.covers(row.usual)));
        assert!(arcs().iter().all(|row| row.widest_v.covers(row.usual_v)));
    }

    // The rule of thumb (Tm + 273)^2 / 300000 J/mm³ gives the heat to melt within a tenth, but not for titanium.
    #[test]
    fn heat_to_melt_follows_the_rule_of_thumb() {
        for (metal, heat) in [("carbon-steel", 10.7), ("aluminium", 2.9), ("copper", 6.1)] {
            assert!((melt(metal).unwrap().j_per_mm3 / heat - 1.0).abs() < 0.1, "{metal}");
        }
        assert_eq!(melt("duplex-stainless"), melt("austenitic-stainless"));
        assert!(melt("cast-iron").is_none());
    }
}
