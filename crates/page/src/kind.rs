//! The kinds of sheet by name.

use serde::{Deserialize, Serialize};

use crate::language::Language;

/// Hands the kinds of sheet to a macro, a line each: the kind, its file in `kinds` of the crate of sheets, its name as typed, the
/// kind of document that it is made of, its languages, whether welds are made by it, and what is said of it.
#[macro_export]
macro_rules! kinds_of_sheet {
    ($given:ident) => {
        $given! {
            Procedure procedure "procedure" of "procedure" in ENGLISH welds true: "Every stated variable in the order of ISO 15609-1";
            BenchCard bench_card "bench-card" of "procedure" in ALL welds true: "What the welder sets, on one page for the bench";
            Lesson lesson "lesson" of "lesson" in ALL welds true: "Objectives, kit, set-up, exercises, faults and marking sheet of a lesson";
            Review review "review" of "procedure" in ENGLISH welds false: "Verdict, values beside their limits, and what is missing";
            Estimate estimate "estimate" of "procedure" in ENGLISH welds false: "Weld metal, filler, gas, time and cost over `--length`, for the person who prices";
            Coupon coupon "coupon" of "test-record" in ENGLISH welds true: "Where the specimens of a test record's coupon are cut, and the bend former";
        }
    };
}

macro_rules! kind {
    ($($kind:ident $file:ident $name:literal of $of:literal in $languages:ident welds $welds:literal: $help:literal;)*) => {
        /// A kind of sheet.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
        pub enum Kind {
            $(#[doc = $help] #[serde(rename = $name)] $kind,)*
        }

        impl Kind {
            /// Every kind, the usual one first.
            pub const ALL: [Self; [$($name),*].len()] = [$(Self::$kind),*];

            /// Its name as typed, and as it stands in the names of files: `bench-card`.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$kind => $name,)* }
            }

            /// The kind of document that it is made of, by the word after `document:`.
            pub const fn of(self) -> &'static str {
                match self { $(Self::$kind => $of,)* }
            }

            /// The languages that it is made in.
            pub const fn languages(self) -> &'static [Language] {
                match self { $(Self::$kind => &Language::$languages,)* }
            }

            /// Whether welds are made by it; a review is of what arrived, and an estimate of what might be.
            pub const fn welds(self) -> bool {
                match self { $(Self::$kind => $welds,)* }
            }

            /// What it shows, and for whom.
            pub const fn help(self) -> &'static str {
                match self { $(Self::$kind => $help,)* }
            }
        }
    };
}

kinds_of_sheet!(kind);

impl Default for Kind {
    fn default() -> Self {
        Self::ALL[0]
    }
}

impl Kind {
    /// The kinds that are made of a kind of document.
    pub fn made_of(document: &str) -> impl Iterator<Item = Self> {
        Self::ALL.into_iter().filter(move |kind| kind.of() == document)
    }
}
