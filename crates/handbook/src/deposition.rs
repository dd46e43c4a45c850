//! Deposition efficiency and rate, operating factor, stub loss, and ratios for estimating cost.

use serde::Deserialize;

use crate::find;
use crate::processes;
use crate::range::Range;
use crate::rule::{self, Rule};
use crate::table::{Origin, table};

table!(EFFICIENCY, efficiencies, "deposition-efficiency", EfficiencyRow);
table!(RATE, rates, "deposition-rate", RateRow);
table!(OPERATING_FACTOR, operating_factors, "operating-factor", OperatingFactorRow);
table!(STUB_LOSS, stub_losses, "stub-loss", StubLossRow);
table!(RULES, rules, "cost-rules", Rule);

/// Share of the filler bought that ends in the weld.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct EfficiencyRow {
    /// ISO 4063 numbers.
    pub processes: Vec<String>,
    /// The process or electrode in words.
    #[serde(rename = "for")]
    pub label: String,
    /// Shielding gas, where the row is for one.
    pub gas: Option<String>,
    /// Whether the figure counts the stub that is thrown away.
    pub stub_included: Option<bool>,
    /// Length of the electrode in millimetres.
    pub electrode_length_mm: Option<f64>,
    /// Length of the stub in millimetres.
    pub stub_mm: Option<f64>,
    /// Efficiency in percent.
    pub efficiency_pct: Range,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Mass laid in an hour of arc time.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct RateRow {
    /// ISO 4063 numbers.
    pub processes: Vec<String>,
    /// The process or electrode in words.
    #[serde(rename = "for")]
    pub label: String,
    /// Rate in kilograms per hour.
    pub rate_kg_h: Range,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Share of the working time in which the arc burns.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct OperatingFactorRow {
    /// ISO 4063 numbers; all where empty.
    #[serde(default)]
    pub processes: Vec<String>,
    /// Degree of mechanization.
    pub mechanization: String,
    /// Range in percent.
    pub arc_on_pct: Range,
    /// Figure to estimate with, in percent.
    pub arc_on_typical_pct: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Share of an electrode that is thrown away.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct StubLossRow {
    /// Length of the stub in millimetres.
    pub stub_mm: f64,
    /// Length of the electrode in millimetres.
    pub electrode_length_mm: f64,
    /// Loss in percent.
    pub loss_pct: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

fn number(process: &str) -> &str {
    processes::get(process).map_or(process, |row| row.number.as_str())
}

fn names(own: &[String], number: &str) -> bool {
    own.iter().any(|own| own == number)
}

/// Efficiencies of a process (number or letters), those read in a published page first.
pub fn efficiency(process: &str) -> Vec<&'static EfficiencyRow> {
    let number = number(process);
    efficiencies().iter().filter(|row| names(&row.processes, number)).collect()
}

/// Deposition rates of a process (number or letters).
pub fn rate(process: &str) -> Vec<&'static RateRow> {
    let number = number(process);
    rates().iter().filter(|row| names(&row.processes, number)).collect()
}

/// The operating factor of a process (number or letters) at a degree of mechanization, else of that degree with any process.
pub fn operating_factor(process: &str, mechanization: &str) -> Option<&'static OperatingFactorRow> {
    let number = number(process);
    let of = || operating_factors().iter().filter(|row| find::same(&row.mechanization, mechanization));
    of().find(|row| names(&row.processes, number)).or_else(|| of().find(|row| row.processes.is_empty()))
}

/// The rule with this name: `flux-over-wire`, `flux-over-wire-fused`, `flux-over-wire-agglomerated`, `labour-share`,
/// `cored-wire-fill`, `cap-height`, `cap-overlap`, `length-per-start`, `length-per-start-wire`, `rod-length`,
/// `electrode-length`, `electrode-stub`, `cylinder-contents`, `spool-mass`, `source-efficiency`, `idle-power`, `fill`.
pub fn rule(name: &str) -> Option<&'static Rule> {
    rule::get(rules(), name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_process_number_exists() {
        let numbers = efficiencies()
            .iter()
            .flat_map(|row| &row.processes)
            .chain(rates().iter().flat_map(|row| &row.processes))
            .chain(operating_factors().iter().flat_map(|row| &row.processes));
        for number in numbers {
            assert!(processes::get(number).is_some(), "{number}");
        }
    }

    #[test]
    fn shares_are_shares() {
        assert!(efficiencies().iter().all(|row| Range::new(1.0, 100.0).covers(row.efficiency_pct)));
        for row in operating_factors() {
            assert!(row.arc_on_typical_pct.is_none_or(|typical| row.arc_on_pct.contains(typical)), "{row:?}");
        }
    }

    // Stub loss is the stub over the whole length: 50 mm of 350 mm is 14 %.
    #[test]
    fn stub_loss_is_stub_over_length() {
        for row in stub_losses() {
            assert!((row.loss_pct - 100.0 * row.stub_mm / row.electrode_length_mm).abs() < 0.6, "{row:?}");
        }
    }

    #[test]
    fn lookups_take_numbers_and_letters() {
        assert_eq!(operating_factor("SMAW", "manual").unwrap().arc_on_typical_pct, Some(25.0));
        assert_eq!(operating_factor("111", "automatic").unwrap().arc_on_typical_pct, Some(75.0));
        assert!(!efficiency("135").is_empty() && !rate("GTAW").is_empty());
    }
}
