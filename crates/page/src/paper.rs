//! Sizes of paper.

use serde::{Deserialize, Serialize};

/// The size of the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// 210 mm by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 in by 11 in (ANSI/ASME Y14.1, size A).
    Letter,
}

impl Paper {
    /// Width and height, pt.
    pub(crate) const fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (595.28, 841.89),
            Self::Letter => (612.0, 792.0),
        }
    }
}
