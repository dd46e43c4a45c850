//! Tungsten electrode designations of ISO 6848 and AWS A5.12.

use serde::{Deserialize, Serialize};

use crate::band::Band;
use crate::find;
use crate::table::{Origin, table};

pub use crate::designation::tungsten::get;

table!("tungsten-types", Row);

/// The group of electrodes that share current limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Group {
    /// Tungsten without addition.
    Pure,
    /// Tungsten with ceria, lanthana, thoria, zirconia or another oxide.
    Oxide,
}

/// How an electrode suits a kind of current.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Suits {
    /// Suits it.
    Good,
    /// Can be used with care.
    Limited,
    /// Not to be used.
    Poor,
    /// The manufacturer says.
    #[cfg_attr(false, rename = "stated by the manufacturer")]
    Stated,
}

/// One type of electrode.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Designation of ISO 6848.
    pub iso6848: &'static str,
    /// Classes of AWS A5.12.
    pub aws: &'static [&'static str],
    /// Letters used before ISO 6848:2004.
    pub former: Option<&'static str>,
    /// What shops and suppliers call it.
    #[cfg_attr(false, optional)]
    pub also: &'static [&'static str],
    /// Which rows of `tungsten-current` hold.
    pub group: Group,
    /// Principal oxide, `none`, or `stated by the manufacturer`.
    pub oxide: &'static str,
    /// Oxide content in mass percent.
    pub oxide_pct: Option<Band>,
    /// End colour of ISO 6848.
    pub colour: &'static str,
    /// How it suits direct current.
    pub dc: Suits,
    /// How it suits alternating current.
    pub ac: Suits,
    /// Whether its oxide is radioactive.
    pub radioactive: bool,
    /// Whether the designation has been withdrawn.
    pub withdrawn: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    fn names(&self) -> impl Iterator<Item = &str> {
        let own = std::iter::once(self.iso6848);
        own.chain(self.aws.iter().copied()).chain(self.former)
    }
}

/// The electrode with this name alone.
pub(crate) fn by_name(name: &str) -> Option<&'static Row> {
    find::by_name(rows(), name, Row::names)
}

/// Designations that are spelt most like this one.
pub fn nearest(designation: &str) -> Vec<&'static str> {
    find::nearest(designation, rows().iter().flat_map(Row::names))
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 6848:2015, table 1.
    #[test]
    fn iso_aws_and_former_names_find_the_same_electrode() {
        let row = get("WLa 15").unwrap();
        assert_eq!(row.colour, "gold");
        assert_eq!(get("ewla-1.5"), Some(row));
        assert_eq!(get("WL15"), Some(row));
        assert_eq!(get("ISO 6848 - WLa 15"), Some(row));
        assert_eq!(get("AWS A5.12 EWLa-1.5"), Some(row));
        assert_eq!(nearest("WLa1").first(), Some(&"WLa10"));
        // Names of the trade; grey and orange mean two kinds.
        for (name, means) in [("gold", "WLa15"), ("2% Lanthanated", "WLa20"), ("red", "WTh20"), ("pure", "WP")] {
            assert_eq!(get(name).map(|row| row.iso6848), Some(means), "{name}");
        }
        assert!(get("grey").is_none() && get("orange").is_none());
        let mut all: Vec<&str> = rows().iter().flat_map(|row| row.also.iter().copied()).collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
    }

    #[test]
    fn only_thoria_is_radioactive() {
        for row in rows() {
            assert_eq!(row.radioactive, row.oxide == "ThO2", "{}", row.iso6848);
        }
    }
}
