//! The positions of a run, and what they ask of its consumable.

use seamwright_handbook::{SourceRef, positions};
use seamwright_model::finding::Severity;
use seamwright_model::procedure;
use seamwright_model::stated::Stated;
use seamwright_weld::{RunView, View};

use crate::rule::{Examiner, Report};

/// The positions in which a run is welded: its own, else those of the document; each with its pointer.
pub(crate) fn run_positions<'d>(view: &View<'d>, run: &RunView<'d>) -> Vec<(String, &'d str, &'static positions::Row)> {
    let (stated, section) = if run.run.positions.is_empty() {
        (&view.procedure.positions, String::new())
    } else {
        (&run.run.positions, run.pointer())
    };
    let places = stated.iter().enumerate();
    places
        .filter_map(|(at, text)| Some((format!("{section}/positions/{at}"), &**text, positions::get(text)?)))
        .collect()
}

/// What a position asks of a consumable, in the words of designations: `vertical-up`, `vertical-down`, `overhead`.
pub(super) fn asked_of(view: &View<'_>, position: &positions::Row) -> Vec<&'static str> {
    let downward = matches!(view.procedure.progression, Some(Stated::Is(procedure::Progression::Downward)));
    let down = match position.progression {
        positions::Progression::Downward => true,
        positions::Progression::Either => downward,
        positions::Progression::Upward | positions::Progression::None => false,
    };
    let mut asked = Vec::new();
    if position.vertical {
        asked.push(if down { "vertical-down" } else { "vertical-up" });
    }
    if position.overhead {
        asked.push("overhead");
    }
    asked
}

/// Reports a position of a run, in words, that the class of its consumable does not permit.
pub(super) fn not_permitted<'x>(
    x: &'x mut Examiner<'_>,
    (pointer, stated): (String, &str),
    (consumable, position): (&str, &str),
    permitted: &[&str],
    source: Option<SourceRef>,
) -> Report<'x> {
    let limit = permitted.join(", ");
    let message = format!("{consumable} is not for welding {position} ({stated}); its positions are {limit}");
    let report = x.report(Severity::Error, pointer, message).stated(stated);
    match source {
        Some(source) => report.limit(limit, &source),
        None => report,
    }
}
