//! The kinds of sheet by name.

use serde::{Deserialize, Serialize};

use crate::language::Language;

/// A kind of sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Every stated variable in the order of ISO 15609-1, for the file and the customer.
    #[default]
    Procedure,
    /// What the welder sets, on one page that is read at the bench; on two where more than eight rows of settings differ.
    BenchCard,
    /// What an instructor and each learner need of a lesson.
    Lesson,
    /// Verdict, values beside their limits, and what is missing, for the inspector.
    Review,
    /// Weld metal, filler, gas, time and cost over a length, for the person who prices.
    Estimate,
    /// Where the specimens of a test coupon are cut, for who welds and cuts it.
    Coupon,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 6] =
        [Self::Procedure, Self::BenchCard, Self::Lesson, Self::Review, Self::Estimate, Self::Coupon];

    /// The languages that it is made in.
    pub const fn languages(self) -> &'static [Language] {
        match self {
            Self::BenchCard | Self::Lesson => &Language::ALL,
            Self::Procedure | Self::Review | Self::Estimate | Self::Coupon => &[Language::En],
        }
    }

    /// Its name as typed, and as it stands in the names of files: `bench-card`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Procedure => "procedure",
            Self::BenchCard => "bench-card",
            Self::Lesson => "lesson",
            Self::Review => "review",
            Self::Estimate => "estimate",
            Self::Coupon => "coupon",
        }
    }
}
