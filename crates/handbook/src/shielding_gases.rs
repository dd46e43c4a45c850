//! Shielding gases of ISO 14175, backing gases by metal, purity and mixing tolerance.
//!
//! To add a gas, add a row: [`classify`] reads the composition from the columns.

use crate::band::Band;
use crate::find;
use crate::metal_families;
use crate::rule::{self, Rule};
use crate::table::{Origin, named, table};

pub use crate::designation::gas::get;

table!(INFO, rows, "shielding-gases", Row);
table!(NAMES, names, "gas-names", NameRow);
table!(BACKING, backing_rows, "backing-gases", BackingRow);
table!(PURITY, purity_rows, "gas-purity", PurityRow);
table!(MIXTURE_RULES, mixture_rules, "gas-mixture-rules", Rule);
named!("gas-mixture-rules");

/// One symbol.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Group and number, such as `M21`.
    pub symbol: &'static str,
    /// Main group: `I`, `M1`, `M2`, `M3`, `C`, `R`, `N`, `O` or `Z`.
    pub group: &'static str,
    /// Carbon dioxide in volume percent, above `low` up to `high`.
    pub co2_pct: Option<Band>,
    /// Oxygen in volume percent.
    pub o2_pct: Option<Band>,
    /// Hydrogen in volume percent.
    pub h2_pct: Option<Band>,
    /// Nitrogen in volume percent.
    pub n2_pct: Option<Band>,
    /// Helium in volume percent.
    pub he_pct: Option<Band>,
    /// Argon in volume percent.
    pub ar_pct: Option<Band>,
    /// The component that makes up the rest; helium may stand for argon.
    pub balance: Option<&'static str>,
    /// Symbol of AWS A5.32:1997.
    pub aws: Option<&'static str>,
    /// ISO 4063 numbers that use it.
    #[cfg_attr(false, optional)]
    pub processes: &'static [&'static str],
    /// Families of metal that it suits; all where empty.
    #[cfg_attr(false, optional)]
    pub metals: &'static [&'static str],
    /// Families of metal that it harms.
    #[cfg_attr(false, optional)]
    pub not_for: &'static [&'static str],
    /// Whether it serves as backing gas.
    pub backing: bool,
    /// A mixture that carries the symbol.
    pub example: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Backing gases of one family of metal.
#[derive(Debug, Clone, PartialEq)]
pub struct BackingRow {
    /// Family of metal.
    pub metal: &'static str,
    /// Symbols, best known first.
    pub gases: &'static [&'static str],
    /// Most hydrogen in volume percent.
    pub hydrogen_max_pct: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Purity of gases as delivered.
#[derive(Debug, Clone, PartialEq)]
pub struct PurityRow {
    /// Main groups.
    pub gases: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// Whether the gas suits a family of metal.
    pub fn suits(&self, family: &str) -> bool {
        let within = |families: &[&str]| families.iter().any(|own| metal_families::is_in(family, own));
        !within(self.not_for) && (self.metals.is_empty() || within(self.metals))
    }

    /// Whether the gas harms a family of metal.
    pub fn harms(&self, family: &str) -> bool {
        self.not_for.iter().any(|own| metal_families::is_in(family, own))
    }

    /// The columns of the components with the names by which a composition gives them.
    pub fn components(&self) -> [(&'static str, Option<Band>); 6] {
        [
            ("CO2", self.co2_pct),
            ("O2", self.o2_pct),
            ("H2", self.h2_pct),
            ("N2", self.n2_pct),
            ("He", self.he_pct),
            ("Ar", self.ar_pct),
        ]
    }

    fn holds(&self, composition: &[(&str, f64)], counts: f64) -> bool {
        let share = |name: &str| -> f64 {
            composition.iter().filter(|(own, _)| find::same(own, name)).map(|(_, share)| share).sum()
        };
        let known = |name: &str| self.components().iter().any(|(own, _)| find::same(own, name));
        if composition.iter().any(|(name, share)| *share > counts && !known(name)) {
            return false;
        }
        let inert = self.balance == Some("Ar") && self.he_pct.is_none();
        self.components().iter().all(|(name, range)| match range {
            // A component given as one figure is the pure gas, up to what need not be counted.
            Some(range) if range.is_single() => share(name) >= range.high - counts,
            Some(range) => range.low < share(name) && share(name) <= range.high,
            None if self.balance == Some(*name) || (inert && *name == "He") => true,
            None => share(name) <= counts,
        })
    }
}

/// An everyday name of a gas.
#[derive(Debug, Clone, PartialEq)]
pub struct NameRow {
    /// What the gas is called.
    pub names: &'static [&'static str],
    /// Argon, volume percent.
    #[cfg_attr(false, optional)]
    pub ar_pct: f64,
    /// Carbon dioxide, volume percent.
    #[cfg_attr(false, optional)]
    pub co2_pct: f64,
    /// Helium, volume percent.
    #[cfg_attr(false, optional)]
    pub he_pct: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

impl NameRow {
    /// What the gas is made of, in percent by volume.
    pub fn composition(&self) -> Vec<(&'static str, f64)> {
        let parts = [("Ar", self.ar_pct), ("CO2", self.co2_pct), ("He", self.he_pct)];
        parts.into_iter().filter(|(_, percent)| *percent > 0.0).collect()
    }
}

/// The mixture that an everyday name of a gas means: argon, C25, 75/25.
pub fn everyday(name: &str) -> Option<&'static NameRow> {
    let plain =
        |text: &str| -> String { text.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect() };
    let name = plain(name);
    names().iter().find(|row| row.names.iter().any(|own| plain(own) == name))
}

/// Symbols that are spelt most like this one.
pub fn nearest(designation: &str) -> Vec<&'static str> {
    find::nearest(designation, rows().iter().map(|row| row.symbol))
}

/// The gas that a composition makes, from component names (`Ar`, `He`, `CO2`, `O2`, `H2`, `N2`) and volume percents.
///
/// Helium stands for argon where argon is the balance. A mixture that no symbol holds is `Z`; an empty one is nothing.
pub fn classify(composition: &[(&str, f64)]) -> Option<&'static Row> {
    if composition.is_empty() {
        return None;
    }
    let counts = COMPONENT_COUNTS.value.high;
    let row = rows().iter().find(|row| row.group != "Z" && row.holds(composition, counts));
    row.or_else(|| rows().iter().find(|row| row.group == "Z"))
}

/// Backing gases of a family of metal, or of the nearest wider family that has a row.
pub fn backing(family: &str) -> Option<&'static BackingRow> {
    metal_families::first(backing_rows(), family, |row| row.metal)
}

/// Purity of the gases of a main group.
pub fn purity(group: &str) -> Option<&'static PurityRow> {
    purity_rows().iter().find(|row| row.gases.iter().any(|own| own.eq_ignore_ascii_case(group)))
}

/// How much carbon dioxide and oxygen a family of metal takes, in volume percent: usual and most.
pub fn active_gas(family: &str) -> Option<&'static Rule> {
    metal_families::chain(family).iter().find_map(|row| mixture_rule(&format!("active-gas-{}", row.family)))
}

/// The rule with a name that is put together, such as `active-gas-aluminium`.
fn mixture_rule(name: &str) -> Option<&'static Rule> {
    rule::get(mixture_rules(), name)
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 14175:2008, table 2, from memory; 87Ar-10CO2-3O2 is M24 and 70Ar-30He is I3 in the text of 1997 too.
    #[test]
    fn compositions_find_their_symbol() {
        for (composition, symbol) in [
            (&[("Ar", 100.0)][..], "I1"),
            (&[("Ar", 99.99)], "I1"),
            (&[("he", 100.0)], "I2"),
            (&[("Ar", 70.0), ("He", 30.0)], "I3"),
            (&[("Ar", 82.0), ("CO2", 18.0)], "M21"),
            (&[("Ar", 85.0), ("CO2", 15.0)], "M20"),
            (&[("Ar", 87.0), ("CO2", 10.0), ("O2", 3.0)], "M24"),
            (&[("Ar", 98.0), ("CO2", 2.0)], "M12"),
            (&[("Ar", 98.0), ("O2", 2.0)], "M13"),
            (&[("CO2", 100.0)], "C1"),
            (&[("Ar", 95.0), ("H2", 5.0)], "R1"),
            (&[("N2", 100.0)], "N1"),
            (&[("N2", 95.0), ("H2", 5.0)], "N5"),
            (&[("Ar", 50.0), ("He", 30.0), ("CO2", 20.0)], "M21"),
            (&[("Ar", 30.0), ("CO2", 70.0)], "Z"),
            (&[("Ar", 99.0), ("NO", 1.0)], "Z"),
        ] {
            assert_eq!(classify(composition).map(|row| row.symbol), Some(symbol), "{composition:?}");
        }
        assert!(classify(&[]).is_none());
    }

    #[test]
    fn examples_of_the_table_carry_their_symbol() {
        for row in rows() {
            let Some(example) = &row.example else { continue };
            let parts: Vec<(&str, f64)> = example
                .split('-')
                .map(|part| {
                    let at = part.find(|c: char| c.is_alphabetic()).unwrap();
                    (&part[at..], part[..at].parse().unwrap())
                })
                .collect();
            assert_eq!(classify(&parts), Some(row), "{example}");
        }
    }

    #[test]
    fn designations_find_their_symbol() {
        for written in ["M21", "m21", "ISO 14175-M21-ArC-18", "ISO 14175 - M21", "M21-ArC-18"] {
            assert_eq!(get(written).map(|row| row.symbol), Some("M21"), "{written}");
        }
        // AWS A5.32:1997: argon with 25 % carbon dioxide, which ISO 14175 has as M21.
        assert_eq!(get("SG-AC-25").map(|row| row.symbol), Some("M21"));
        assert_eq!(get("EN ISO 14175:2008 - R1-ArH-5").map(|row| row.symbol), Some("R1"));
        assert!(get("X9").is_none() && get("").is_none());
    }

    #[test]
    fn hydrogen_is_not_for_titanium_or_duplex_backing() {
        assert!(get("R1").unwrap().harms("titanium") && get("R1").unwrap().suits("austenitic-stainless"));
        assert!(backing("superduplex-stainless").unwrap().hydrogen_max_pct.abs() < f64::EPSILON);
        assert!(backing("carbon-steel").is_none());
    }

    #[test]
    fn families_and_processes_exist() {
        for row in rows() {
            assert!(
                row.metals.iter().chain(row.not_for).all(|family| metal_families::get(family).is_some()),
                "{row:?}"
            );
            assert!(row.processes.iter().all(|number| crate::processes::get(number).is_some()), "{row:?}");
        }
        assert!(backing_rows().iter().all(|row| metal_families::get(row.metal).is_some()));
        assert!(backing_rows().iter().flat_map(|row| row.gases).all(|gas| get(gas).is_some()));
    }
}
