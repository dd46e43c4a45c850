//! Words of the trade for metals, joints and positions, and the name that each is taken for.

use serde::Deserialize;

use crate::find;
use crate::table::{Origin, table};

table!("trade-words", Row);

/// A word.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// `metal`, `joint`, `groove position` or `fillet position`.
    pub kind: String,
    /// The words, any of which may be written.
    pub words: Vec<String>,
    /// The name that it is taken for.
    pub means: String,
    /// The name for work in inches, where that is another.
    pub inches: Option<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The row of a word; case, spaces and hyphens do not matter.
pub fn get(kind: &str, word: &str) -> Option<&'static Row> {
    rows().iter().find(|row| row.kind == kind && row.words.iter().any(|own| find::same(own, word.trim())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{base_metals, positions};

    #[test]
    fn every_word_means_a_name_of_the_handbook_and_stands_once() {
        for row in rows() {
            for means in std::iter::once(&row.means).chain(&row.inches) {
                match row.kind.as_str() {
                    "metal" => assert!(base_metals::find(means).is_some(), "{means}"),
                    "joint" => assert!(means.parse::<seamwright_model::procedure::JointType>().is_ok(), "{means}"),
                    "groove position" | "fillet position" => assert!(positions::get(means).is_some(), "{means}"),
                    other => panic!("{other}"),
                }
            }
            for word in &row.words {
                assert!(std::ptr::eq(get(&row.kind, word).unwrap(), row), "{word} stands twice");
            }
        }
        assert_eq!(get("metal", "Mild Steel").map(|row| row.means.as_str()), Some("S235JR"));
        assert!(get("metal", "wood").is_none());
    }
}
