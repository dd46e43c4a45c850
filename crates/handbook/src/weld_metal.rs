//! Weld metal: dilution by process, ferrite, typical stainless deposits; allowances for shrinkage; weld symbols.

use crate::band::Band;
use crate::processes;
use crate::rule::{Rule, Statement};
use crate::table::{Origin, table};

table!(DILUTION, dilutions, "dilution", DilutionRow);
table!(FERRITE_RULES, ferrite_rules, "ferrite-rules", Rule);
table!(STAINLESS_DEPOSITS, stainless_deposits, "stainless-deposits", StainlessDepositRow);
table!(SHRINKAGE_RULES, shrinkage_rules, "shrinkage-rules", Rule);
table!(SYMBOLS, symbols, "weld-symbols", Statement);

/// Rules of ferrite, by name.
pub mod ferrite {
    crate::table::named!("ferrite-rules");
}

/// Share of base metal in the weld.
#[derive(Debug, Clone, PartialEq)]
pub struct DilutionRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Mode of transfer, where the row is for one.
    pub transfer: Option<&'static str>,
    /// Share of molten base metal in percent.
    pub dilution_pct: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Typical composition in mass percent.
#[derive(Debug, Clone, PartialEq)]
pub struct StainlessDepositRow {
    /// AWS classification.
    #[cfg_attr(false, key = "class")]
    pub classification: &'static str,
    /// Carbon.
    pub carbon_pct: f64,
    /// Chromium.
    pub chromium_pct: f64,
    /// Nickel.
    pub nickel_pct: f64,
    /// Molybdenum.
    pub molybdenum_pct: Option<f64>,
    /// Nitrogen.
    pub nitrogen_pct: Option<f64>,
    /// Copper.
    pub copper_pct: Option<f64>,
    /// Usual band of the ferrite number.
    pub ferrite_number: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Dilution of a process (number or letters), one row for each mode of transfer that differs.
pub fn dilution(process: &str) -> Vec<&'static DilutionRow> {
    let number = processes::get(process).map_or(process, |row| row.number);
    dilutions().iter().filter(|row| row.processes.contains(&number)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dilution_is_a_share_and_processes_exist() {
        for row in dilutions() {
            assert!(Band::new(1.0, 100.0).covers(row.dilution_pct), "{row:?}");
            assert!(row.processes.iter().all(|number| processes::get(number).is_some()), "{row:?}");
        }
        assert_eq!(dilution("GMAW").len(), 2);
        assert!((dilution("142")[0].dilution_pct.low - 100.0).abs() < 1e-9);
    }

    // Kotecki and Siewert 1992: Cr eq = Cr + Mo + 0.7 Nb, Ni eq = Ni + 35 C + 20 N + 0.25 Cu.
    #[test]
    fn typical_deposits_lie_in_the_diagram() {
        for row in stainless_deposits().iter().filter(|row| row.ferrite_number.is_some()) {
            let chromium = row.chromium_pct + row.molybdenum_pct.unwrap_or(0.0);
            let nickel = row.nickel_pct
                + 35.0 * row.carbon_pct
                + 20.0 * row.nitrogen_pct.unwrap_or(0.0)
                + 0.25 * row.copper_pct.unwrap_or(0.0);
            assert!(ferrite::WRC_CHROMIUM.value.contains(chromium), "{}", row.classification);
            assert!(ferrite::WRC_NICKEL.value.contains(nickel), "{}", row.classification);
        }
    }
}
