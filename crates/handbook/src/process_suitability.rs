//! How each process suits each metal, with which gases, and what each family of metal asks for.

use crate::base_metals::BaseMetal;
use crate::metal_families;
use crate::processes;
use crate::table::{Origin, table};

table!("process-suitability", Row);
table!(FAMILIES, family_rows, "family-welding", FamilyRow);

/// How a process suits a metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Suits {
    /// In usual use.
    Usual,
    /// Possible, with limits that `reason` names.
    Limited,
    /// Not to be used, for the `reason` named.
    Unsuited,
}

/// One metal and process.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Alloy or family.
    pub metal: &'static str,
    /// ISO 4063 number.
    pub process: &'static str,
    /// How the process suits the metal.
    pub suits: Suits,
    /// Symbols of ISO 14175, the usual first; empty for processes without gas.
    #[cfg_attr(false, optional)]
    pub gases: &'static [&'static str],
    /// Processes to use instead.
    #[cfg_attr(false, optional)]
    pub instead: &'static [&'static str],
    /// Why it is limited or unsuited.
    pub reason: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// How much a family needs something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Need {
    /// Without it the weld is bad.
    Needed,
    /// It makes the weld better.
    Advised,
    /// It is not used.
    None,
}

/// What one family asks for.
#[derive(Debug, Clone, PartialEq)]
pub struct FamilyRow {
    /// Family of metal.
    pub family: &'static str,
    /// Whether a full-penetration root that is welded from one side with gas needs backing gas.
    pub root_backing_gas: Need,
    /// Whether the hot weld needs gas behind the torch.
    pub trailing_gas: Need,
    /// Whether the heat-affected zone hardens when it cools fast.
    pub hardens: bool,
    /// Whether a backing strip of it does not fuse to other metals and comes off.
    #[cfg_attr(false, optional)]
    pub removable_backing: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// How a process suits a metal, by its alloy, its family or a wider one; 142, 143 and 15 go as 141.
pub fn get(metal: &BaseMetal, process: &str) -> Option<&'static Row> {
    first(metal.kinds(), process)
}

/// How a process suits a family of metal.
pub fn of_family(family: &str, process: &str) -> Option<&'static Row> {
    first(metal_families::chain(family).iter().map(|row| row.family).collect(), process)
}

fn first(kinds: Vec<&str>, process: &str) -> Option<&'static Row> {
    let process = processes::get(process).map_or(process, |row| row.suiting());
    kinds.into_iter().find_map(|kind| rows().iter().find(|row| row.metal == kind && row.process == process))
}

/// What a family asks for, or the nearest wider family that has a row.
pub fn family(name: &str) -> Option<&'static FamilyRow> {
    metal_families::first(family_rows(), name, |row| row.family)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{base_metals, processes, shielding_gases};

    #[test]
    fn names_exist_and_gases_fit_process_and_metal() {
        for row in rows() {
            let alloy = base_metals::rows().iter().find(|metal| metal.alloy == Some(row.metal));
            let family = alloy.map_or(row.metal, |metal| metal.family);
            assert!(metal_families::get(family).is_some(), "{row:?}");
            let process = processes::get(row.process).unwrap_or_else(|| panic!("{row:?}"));
            for gas in row.gases {
                let gas = shielding_gases::get(gas).unwrap_or_else(|| panic!("{row:?}"));
                assert!(process.gas_groups.iter().any(|group| gas.group.starts_with(group)), "{row:?}");
                assert!(!gas.harms(family), "{row:?}");
            }
            assert_eq!(row.gases.is_empty(), !process.uses_shielding_gas || row.suits == Suits::Unsuited, "{row:?}");
            assert_eq!(row.reason.is_none(), row.suits == Suits::Usual, "{row:?}");
            assert_eq!(row.instead.is_empty(), row.suits != Suits::Unsuited, "{row:?}");
            for other in row.instead {
                let other = of_family(family, other).unwrap_or_else(|| panic!("{row:?}"));
                assert!(other.suits != Suits::Unsuited || alloy.is_some(), "{row:?}");
            }
        }
    }

    #[test]
    fn a_metal_and_process_have_one_row() {
        for (at, row) in rows().iter().enumerate() {
            let same = |other: &&Row| other.metal == row.metal && other.process == row.process;
            assert_eq!(rows().iter().position(|other| same(&other)), Some(at), "{row:?}");
        }
    }

    // Practice of the trade: aluminium is not for an active gas, titanium needs gas on every hot side.
    #[test]
    fn families_behave_as_the_trade_knows_them() {
        let metal = |name: &str| base_metals::find(name).unwrap();
        assert_eq!(get(metal("6061-T6"), "135").unwrap().suits, Suits::Unsuited);
        assert_eq!(get(metal("6061-T6"), "131").unwrap().suits, Suits::Usual);
        assert_eq!(get(metal("S355J2"), "131").unwrap().instead, ["135"]);
        assert_eq!(get(metal("S355J2"), "135").unwrap().gases[0], "M21");
        assert_eq!(get(metal("1.4547"), "131").unwrap().suits, Suits::Usual);
        assert_eq!(get(metal("304L"), "15"), get(metal("304L"), "141"));
        assert_eq!(family("titanium").unwrap().trailing_gas, Need::Needed);
        assert_eq!(family("superduplex-stainless").unwrap().root_backing_gas, Need::Needed);
        assert_eq!(family("fine-grain-steel").unwrap().root_backing_gas, Need::None);
    }

    #[test]
    fn every_base_metal_knows_what_it_asks_for() {
        for metal in base_metals::rows() {
            assert!(family(metal.family).is_some(), "{}", metal.family);
        }
    }
}
