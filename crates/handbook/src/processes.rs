//! Welding processes by ISO 4063 number and AWS letters, and how each behaves.
//!
//! To add a process, add a row: checks read its behaviour from the columns.

use serde::{Deserialize, Serialize};

use crate::band::{Band, Limits};
use crate::find;
use crate::table::{Origin, table};

table!("processes", Row);

/// A polarity as a procedure writes it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "UPPERCASE")]
pub enum Polarity {
    /// Direct current, electrode negative.
    Dcen,
    /// Direct current, electrode positive.
    Dcep,
    /// Alternating current.
    Ac,
}

impl Polarity {
    /// The word as it stands in a procedure.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Dcen => "DCEN",
            Self::Dcep => "DCEP",
            Self::Ac => "AC",
        }
    }
}

/// Whether a process adds filler metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Filler {
    /// Cannot do without.
    Needed,
    /// Usually, but can do without.
    Usual,
    /// Adds none.
    None,
}

/// Kind of wire electrode.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Wire {
    /// Drawn from one metal.
    Solid,
    /// Filled with flux.
    FluxCored,
    /// Filled with metal powder.
    MetalCored,
}

/// One process.
#[expect(clippy::struct_excessive_bools, reason = "one column for each behaviour, as the table has it")]
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// ISO 4063 number.
    pub number: &'static str,
    /// AWS letters; several numbers may share them.
    pub letters: &'static str,
    /// Letters and trade names that mean this row rather than another.
    #[cfg_attr(false, optional)]
    pub also: &'static [&'static str],
    /// The process in words.
    pub name: &'static str,
    /// Whether the arc burns from a tungsten electrode.
    pub uses_tungsten: bool,
    /// Whether gas from outside shields the arc.
    pub uses_shielding_gas: bool,
    /// Whether a feeder drives the electrode.
    pub uses_wire_feed: bool,
    /// Kind of wire electrode, where a feeder drives it.
    pub wire: Option<Wire>,
    /// Whether loose flux covers the arc.
    pub uses_flux: bool,
    /// Whether the electrode melts into the weld.
    pub consumable_electrode: bool,
    /// Whether filler metal is added.
    pub filler: Filler,
    /// Main groups of ISO 14175 that the process takes.
    #[cfg_attr(false, optional)]
    pub gas_groups: &'static [&'static str],
    /// Degrees of mechanization that are usual.
    pub mechanization: &'static [&'static str],
    /// Polarities that the process can work with.
    pub polarity: &'static [Polarity],
    /// Polarities in usual use.
    pub polarity_usual: &'static [Polarity],
    /// Arc voltage beyond which the process does not work, in volts.
    pub voltage_v: Band,
    /// Arc voltage in usual use, in volts.
    pub voltage_usual_v: Band,
    /// Process whose suitability to metals and whose fillers are its own.
    pub suits_like: Option<&'static str>,
    /// Process by whose settings it is judged where the tables have none of its own.
    pub settings_like: Option<&'static str>,
    /// Keys of a procedure that belong to this process and not to all.
    pub keys: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// Limits of the arc voltage, in volts.
    pub fn voltage(&self) -> Limits {
        Limits {
            envelope: self.voltage_v,
            usual: Some(self.voltage_usual_v),
            source: self.origin.source_of("voltage_v"),
            doubt: self.origin.doubt,
        }
    }

    /// Whether its electrode is a covered one that is held by hand.
    pub fn covered_electrode(&self) -> bool {
        self.consumable_electrode && !self.uses_wire_feed
    }

    /// Whether gas from outside shields it that the metal may take up: argon with carbon dioxide or oxygen.
    pub fn active_gas(&self) -> bool {
        self.gas_groups.contains(&"M")
    }

    /// Whether gas from outside shields it that no metal takes up.
    pub fn inert_gas_alone(&self) -> bool {
        self.gas_groups == ["I"]
    }

    /// Whether it feeds a wire of a kind that gas from outside shields.
    pub fn shielded_wire(&self, kind: Wire) -> bool {
        self.uses_shielding_gas && self.wire == Some(kind)
    }

    /// Number of the process whose suitability to metals and whose fillers are its own.
    pub fn suiting(&self) -> &str {
        self.suits_like.unwrap_or(self.number)
    }

    /// Whether a key that belongs to some processes belongs to this one; true of keys that every process has.
    pub fn has_key(&self, key: &str) -> bool {
        self.keys.contains(&key) || !rows().iter().any(|row| row.keys.contains(&key))
    }
}

/// The process by ISO 4063 number, AWS letters or trade name: `141`, `GTAW`, `TIG`.
///
/// Letters that several numbers share find the row that claims them in `also`: `GMAW` is 13, `FCAW` is 136.
pub fn get(name: &str) -> Option<&'static Row> {
    static KNOWN: find::Known<Option<&'static Row>> = find::Known::new();
    KNOWN.of(name, || {
        find::by_name(rows(), name, |row| [row.number])
            .or_else(|| find::by_name(rows(), name, |row| row.also.iter().copied()))
            .or_else(|| find::by_name(rows(), name, |row| [row.letters]))
    })
}

/// The ISO 4063 number of a process by any of its names; the name itself where the handbook does not know it.
pub fn number_of(name: &str) -> &str {
    get(name).map_or(name, |row| row.number)
}

/// The number of the process by whose settings another is judged that has none of its own; of others their own.
pub fn settings_like(number: &str) -> &str {
    get(number).and_then(|row| row.settings_like).unwrap_or(number)
}

/// Numbers and names that are spelt most like this one.
pub fn nearest(name: &str) -> Vec<&'static str> {
    let names = |row: &'static Row| [row.number, row.letters].into_iter().chain(row.also.iter().copied());
    find::nearest(name, rows().iter().flat_map(names))
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 4063:2009 numbers beside AWS letters.
    #[test]
    fn numbers_letters_and_names_find_the_process() {
        for (name, number) in [
            ("141", "141"),
            ("gtaw", "141"),
            ("TIG", "141"),
            ("SMAW", "111"),
            ("FCAW-S", "114"),
            ("fcaw", "136"),
            ("GMAW", "13"),
            ("MAG", "135"),
            ("SAW", "121"),
        ] {
            assert_eq!(get(name).map(|row| row.number), Some(number), "{name}");
        }
        assert!(get("996").is_none());
    }

    #[test]
    fn columns_agree_with_keys() {
        for row in rows() {
            for (uses, key) in [
                (row.uses_tungsten, "tungsten"),
                (row.uses_shielding_gas, "shielding_gas"),
                (row.uses_wire_feed, "wire_feed_speed"),
                (row.uses_flux, "flux"),
            ] {
                assert_eq!(uses, row.has_key(key), "{} {key}", row.number);
            }
            assert!(row.polarity_usual.iter().all(|usual| row.polarity.contains(usual)), "{}", row.number);
            assert!(row.voltage_v.covers(row.voltage_usual_v), "{}", row.number);
            assert_eq!(row.uses_shielding_gas, !row.gas_groups.is_empty(), "{}", row.number);
        }
    }

    #[test]
    fn a_key_of_every_process_belongs_to_all() {
        assert!(rows().iter().all(|row| row.has_key("polarity")));
        assert!(!get("111").unwrap().has_key("tungsten"));
    }
}
