//! A replacement in a text.

use std::ops::Range;

/// A replacement that is not proved yet.
pub(super) struct Draft {
    pub(super) replaced: Range<usize>,
    pub(super) by: String,
    /// Most lines that may be new.
    pub(super) new_lines: usize,
    /// Whether comments may change their order: those of an item move with it.
    pub(super) comments_move: bool,
}

impl Draft {
    pub(super) fn new(replaced: Range<usize>, by: impl Into<String>) -> Self {
        Self { replaced, by: by.into(), new_lines: 1, comments_move: false }
    }
}
