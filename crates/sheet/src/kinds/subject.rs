//! What a sheet is made of, and how its sketches are lettered.

use seamwright_check::Outcome;
use seamwright_estimate::Estimate;
use seamwright_model::Loaded;
use seamwright_model::procedure::Procedure;
use seamwright_model::shop::Shop;
use seamwright_page::SheetOptions;
use seamwright_page::lately::Lately;

/// A document with what was found in it, ready to be set.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'d> {
    /// The document with its source.
    pub loaded: &'d Loaded,
    /// What the checks found.
    pub outcome: &'d Outcome,
    /// The shop whose machines are used, where one is named.
    pub shop: Option<&'d Shop>,
    /// The procedure that a lesson teaches.
    pub procedure: Option<&'d Procedure>,
    /// What a procedure uses over its joints, where it was computed.
    pub estimate: Option<&'d Estimate>,
    /// What was made lately of other sheets.
    pub lately: &'d Lately,
}

/// How the sketches of a sheet are lettered.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lettering<'d> {
    /// Units and terms.
    pub(crate) options: SheetOptions,
    /// What was drawn lately.
    pub(crate) lately: &'d Lately,
    /// Size of the type at the natural size of a sketch, pt.
    pub(crate) size: f64,
    /// Factor of the room that a sketch may take.
    pub(crate) room: f64,
}

impl<'d> Lettering<'d> {
    /// For a sheet that is read on a desk.
    pub(crate) const fn desk(subject: Subject<'d>, options: SheetOptions) -> Self {
        Self { options, lately: subject.lately, size: 8.0, room: 1.0 }
    }

    /// For a card that is read at arm's length.
    pub(crate) const fn bench(subject: Subject<'d>, options: SheetOptions) -> Self {
        Self { options, lately: subject.lately, size: 11.0, room: 1.0 }
    }

    /// For a sheet on which much stands.
    pub(crate) const fn close(subject: Subject<'d>, options: SheetOptions) -> Self {
        Self { options, lately: subject.lately, size: 7.2, room: 0.72 }
    }
}
