//! The two ranges that a check compares a value with.

pub use seamwright_calc::Band;
use seamwright_model::finding::SourceRef;

/// The limits of a value: outside `envelope` is an error, outside `usual` a caution.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// The widest range that any source allows.
    pub envelope: Band,
    /// The narrower range on which sources agree, where they do.
    pub usual: Option<Band>,
    /// Where the limits are written.
    pub source: SourceRef,
    /// Why they are not beyond doubt, where they are not.
    pub doubt: Option<&'static str>,
}

/// A range that is usual but limits nothing: outside it a value is a caution at most.
#[derive(Debug, Clone, PartialEq)]
pub struct Usual {
    /// The usual range.
    pub range: Band,
    /// Where it is written.
    pub source: SourceRef,
    /// Why it is not beyond doubt, where it is not.
    pub doubt: Option<&'static str>,
}
