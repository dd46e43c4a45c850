//! What the reader of a sheet may choose.

use seamwright_handbook::variables::Terms;
use seamwright_model::quantity::UnitSystem;

use crate::language::Language;

/// What the reader of a sheet may choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SheetOptions {
    /// SI units, US units, or both.
    pub units: UnitSystem,
    /// The words and the welding symbols of ISO or of AWS.
    pub terms: Terms,
    /// Whether a procedure sheet carries its annex: cautions in full, sources, compositions, older revisions.
    pub annex: bool,
    /// The language; other than English for the kinds that [`Kind::languages`](crate::Kind::languages) names.
    pub language: Language,
    /// Whether a word that stands in English for want of another is marked; [`lacking_in`](crate::words::lacking_in) finds it.
    pub marks_lacking: bool,
}

impl From<UnitSystem> for SheetOptions {
    fn from(units: UnitSystem) -> Self {
        Self { units, ..Self::default() }
    }
}
