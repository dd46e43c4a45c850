//! Between which sizes a row holds, by a code that prints millimetres and inches.

use crate::measure::{Inches, Size};

/// Bounds of a row: the columns `over_mm`, `over_in`, `up_to_mm` and `up_to_in`, behind the prefix of the field.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Size above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// The same in inches.
    pub over_in: Option<Inches>,
    /// Size up to which the row holds, in millimetres.
    pub up_to_mm: Option<f64>,
    /// The same in inches.
    pub up_to_in: Option<Inches>,
}

impl Bounds {
    /// Whether a size lies over the one and not above the other.
    pub fn hold(&self, size: Size) -> bool {
        size.over(self.over_mm, self.over_in) && size.up_to(self.up_to_mm, self.up_to_in)
    }

    /// Whether there are none.
    pub fn are_open(&self) -> bool {
        self.over_mm.is_none() && self.up_to_mm.is_none()
    }
}
