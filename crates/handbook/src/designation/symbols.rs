//! What the symbols in filler designations mean: table `designation-symbols`.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::reader::compact;
use crate::band::Band;
use crate::processes::Polarity;
use crate::table::{Origin, table};

table!("designation-symbols", Row);

/// One symbol.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Standards of whose designations the symbol is part; `ISO` stands for all of ISO.
    pub systems: &'static [&'static str],
    /// What it stands for: `tensile`, `strength`, `impact`, `covering`, `core`, `usability`, `recovery`, `position`, `gas`,
    /// `hydrogen` or `alloy`.
    pub place: &'static str,
    /// The symbol as it stands in the designation.
    pub symbol: &'static str,
    /// The meaning in words.
    pub means: &'static str,
    /// Least tensile strength, in megapascals.
    pub tensile_min_mpa: Option<f64>,
    /// Range of tensile strength, in megapascals.
    pub tensile_mpa: Option<Band>,
    /// Least yield strength, in megapascals.
    pub yield_min_mpa: Option<f64>,
    /// Temperature of the impact test, in degrees Celsius.
    pub impact_c: Option<f64>,
    /// Polarities that it permits.
    #[cfg_attr(false, optional)]
    pub polarity: &'static [Polarity],
    /// Positions that it permits; of a usability, the direction of vertical welding.
    #[cfg_attr(false, optional)]
    pub positions: &'static [&'static str],
    /// Whether the covering is of the low-hydrogen kind.
    pub low_hydrogen: Option<bool>,
    /// Gases by their symbols in ISO 14175.
    #[cfg_attr(false, optional)]
    pub gas: &'static [&'static str],
    /// Whether the filler needs no gas.
    pub self_shielded: Option<bool>,
    /// Whether it serves for a single pass only.
    pub single_pass: Option<bool>,
    /// Most diffusible hydrogen, in millilitres for 100 g.
    pub hydrogen_ml_100g: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A row beside its symbol as the reader sees it.
pub(super) type Symbol = (String, &'static Row);

/// The symbols of one place in the designations of a standard.
pub fn of(standard: &str, place: &str) -> impl Iterator<Item = &'static Row> {
    compacted(standard, place).map(|(_, row)| *row)
}

/// The same, each with its symbol as the reader sees it; in the order of the table.
pub(super) fn compacted(standard: &str, place: &str) -> impl Iterator<Item = &'static Symbol> {
    static PLACES: LazyLock<HashMap<&str, Vec<Symbol>>> = LazyLock::new(|| {
        let mut places: HashMap<&str, Vec<Symbol>> = HashMap::new();
        for row in rows() {
            places.entry(row.place).or_default().push((compact(row.symbol), row));
        }
        places
    });
    let family = standard.split(' ').next().unwrap_or_default();
    let all = PLACES.get(place).map_or(&[][..], Vec::as_slice).iter();
    all.filter(move |(_, row)| row.systems.iter().any(|own| *own == standard || *own == family))
}

/// What a symbol means: `get("AWS A5.1", "covering", "18")`.
pub fn get(standard: &str, place: &str, symbol: &str) -> Option<&'static Row> {
    let wanted = compact(symbol);
    compacted(standard, place).find(|(own, _)| *own == wanted).map(|(_, row)| *row)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_symbol_means_one_thing() {
        for row in rows() {
            for system in row.systems {
                assert_eq!(get(system, row.place, row.symbol), Some(row), "{system} {} {}", row.place, row.symbol);
            }
        }
    }

    #[test]
    fn gases_and_positions_are_known_words() {
        let words = ["flat", "horizontal", "horizontal-fillet", "vertical-up", "vertical-down", "overhead"];
        for row in rows() {
            assert!(row.gas.iter().all(|gas| crate::shielding_gases::get(gas).is_some()), "{row:?}");
            assert!(row.positions.iter().all(|position| words.contains(position)), "{row:?}");
        }
    }
}
