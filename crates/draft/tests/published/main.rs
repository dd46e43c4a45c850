//! Drafts beside the tables of starting settings that were published for their processes.
//!
//! Figures stand here as their sources print them, not as the handbook's tables have them, and each is held against what
//! a draft for that metal, thickness and joint writes.

mod stick;
mod tungsten;
mod values;
mod wire;

use seamwright_draft::{Facts, Typed, draft};
use seamwright_model::document::Document;
use seamwright_weld::View;

/// Looks at the draft for `process metal thickness-in-mm joint position`.
pub(crate) fn drafted<T>(words: &str, look: impl FnOnce(&View<'_>) -> T) -> T {
    let [process, metal, thickness, joint, position] = words.split(' ').collect::<Vec<_>>()[..] else {
        panic!("{words}")
    };
    let typed = Typed {
        process: process.to_owned(),
        metal: metal.to_owned(),
        to: None,
        thickness: format!("{thickness} mm"),
        joint: joint.to_owned(),
        position: position.to_owned(),
        diameter: None,
    };
    let text = Facts::read(&typed).and_then(|facts| draft(&facts)).unwrap_or_else(|why| panic!("{words}: {why}"));
    let loaded = seamwright_model::load(words, text.as_bytes()).unwrap_or_else(|_| panic!("{words}: {text}"));
    let Document::Procedure(procedure) = &loaded.document else { panic!("{words}") };
    look(&View::new(procedure))
}

/// A range from its least to its most.
pub(crate) type Span = (f64, f64);

/// Whether two ranges share something.
pub(crate) fn meet(a: Span, b: Span) -> bool {
    // A hair, for figures that are written as decimals.
    a.0 <= b.1 + 1e-6 && b.0 <= a.1 + 1e-6
}
