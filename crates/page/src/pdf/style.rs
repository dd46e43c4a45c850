//! Sizes and spaces of the sheet, all in points, so that a sheet that must fit one page can shrink them together.

/// Greys: 0 is black, 1 is white.
pub(super) mod grey {
    /// Values, headings, running text.
    pub const INK: f64 = 0.0;
    /// Labels, clauses, remarks: dark enough for a worn printer (7 : 1 on white).
    pub const LABEL: f64 = 0.33;
    /// Rules between rows.
    pub const RULE: f64 = 0.7;
    /// Rules under headings.
    pub const HEADING_RULE: f64 = 0.45;
}

/// Margins of every page, pt.
pub(super) const MARGIN: f64 = 40.0;
/// Above the head of a page, pt.
pub(super) const TOP: f64 = 36.0;
/// Below the foot of a page, pt.
pub(super) const BOTTOM: f64 = 28.0;
/// Points in a millimetre.
pub(super) const MM: f64 = 72.0 / 25.4;

/// Lowest size of the settings of a bench card: read at arm's length.
pub(super) const LEAST_SETTINGS: f64 = 14.0;

/// No type on paper is smaller than this, pt: what is still read at a desk (common practice).
pub(super) const LEAST_TYPE: f64 = 6.5;

/// The measures of one sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Style {
    /// Factor of every size of type except that of the settings.
    pub kind: f64,
    /// Factor of every space.
    pub space: f64,
    /// Size of the settings.
    pub settings: f64,
    /// Factor of the values that are set large, on top of that of all type.
    pub large: f64,
    /// How far a drawing may be enlarged, relative to its natural size.
    pub drawing: f64,
    /// Size of the title.
    pub title: f64,
    /// Notices run on as one text whatever their length, to save room.
    pub run_on: bool,
    /// A sheet that is planned for so many pages: close, with its facts beside each other.
    pub planned: bool,
    /// What a planned sheet has done without.
    pub shed: Shed,
}

/// How far a planned sheet has given way; each step includes those before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Shed {
    Nothing,
    /// Drawings that are larger than they must be.
    Size,
    Composition,
    Clauses,
    Captions,
    Drawings,
    /// Cautions in full, on a card.
    Cautions,
    /// The drawing of the hook-up, which stands in words too: what is beside it gets its room.
    HookUp,
    /// All drawings but that of the joint, which stands beside text.
    Beside,
    /// The large type of settings in many rows.
    Settings,
    /// Every drawing, on a card that has no other page.
    Pictures,
}

impl Shed {
    /// In the order in which a sheet gives way.
    pub(super) const ORDER: [Self; 6] =
        [Self::Nothing, Self::Size, Self::Composition, Self::Clauses, Self::Captions, Self::Drawings];
}

impl Style {
    /// The style of a sheet that takes the pages it needs.
    pub(super) const fn document() -> Self {
        Self {
            kind: 1.0,
            space: 1.0,
            settings: 18.0,
            large: 1.0,
            drawing: 1.3,
            title: 16.5,
            run_on: false,
            planned: false,
            shed: Shed::Nothing,
        }
    }

    /// The style of a sheet that is read on a bench: running text of more than 10 pt.
    pub(super) const fn bench() -> Self {
        Self { kind: 1.22, ..Self::document() }
    }

    fn sized(&self, points: f64) -> f64 {
        (points * self.kind).max(LEAST_TYPE)
    }

    pub(super) fn label(&self) -> f64 {
        self.sized(7.0)
    }

    pub(super) fn value(&self) -> f64 {
        self.sized(9.4)
    }

    /// A value in a strip.
    pub(super) fn close_value(&self) -> f64 {
        self.sized(8.4)
    }

    pub(super) fn large_value(&self) -> f64 {
        self.sized(12.5 * self.large).max(self.value())
    }

    pub(super) fn heading(&self) -> f64 {
        self.sized(9.6)
    }

    pub(super) fn clause(&self) -> f64 {
        self.sized(7.0)
    }

    pub(super) fn body(&self) -> f64 {
        self.sized(8.4)
    }

    pub(super) fn small(&self) -> f64 {
        self.sized(7.0)
    }

    pub(super) fn cell(&self) -> f64 {
        self.sized(8.6)
    }

    /// A space of `points`, shrunk as the style asks.
    pub(super) fn gap(&self, points: f64) -> f64 {
        points * self.space
    }
}

/// Distance from baseline to baseline, relative to the size.
pub(super) const LEADING: f64 = 1.24;
