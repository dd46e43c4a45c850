//! Words of the trade for processes, joints and positions, and the name that each is taken for.

use crate::find;
use crate::table::{Origin, table};

table!("trade-words", Row);

/// What a word is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A process.
    Process,
    /// A joint.
    Joint,
    /// A position of a groove.
    GroovePosition,
    /// A position of a fillet.
    FilletPosition,
}

/// A word.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What it is for.
    pub kind: Kind,
    /// The words, any of which may be written.
    pub words: &'static [&'static str],
    /// The name that it is taken for.
    pub means: &'static str,
    /// The name where the filler is of a self-shielded class.
    pub self_shielded: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The row of a word; case, spaces and hyphens do not matter.
pub fn get(kind: Kind, word: &str) -> Option<&'static Row> {
    rows().iter().find(|row| row.kind == kind && row.words.iter().any(|own| find::same(own, word.trim())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{positions, processes};

    #[test]
    fn every_word_means_a_name_of_the_handbook_and_stands_once() {
        for row in rows() {
            match row.kind {
                Kind::Joint => {
                    assert!(row.means.parse::<seamwright_model::procedure::JointType>().is_ok(), "{}", row.means);
                }
                Kind::Process => assert!(processes::get(row.means).is_some(), "{}", row.means),
                Kind::GroovePosition | Kind::FilletPosition => {
                    assert!(positions::get(row.means).is_some(), "{}", row.means);
                }
            }
            for word in row.words {
                assert!(std::ptr::eq(get(row.kind, word).unwrap(), row), "{word} stands twice");
            }
        }
        assert_eq!(get(Kind::Joint, "T-Joint").map(|row| row.means), Some("tee"));
        assert!(get(Kind::Joint, "wood").is_none());
    }
}
