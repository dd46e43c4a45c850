//! Values read from a drafted procedure.

use seamwright_model::procedure::{Procedure, Settings};
use seamwright_model::quantity::{Current, Length};
use seamwright_model::stated::Stated;

use crate::drafted;

/// The procedure drafted for a plate.
pub(crate) fn procedure(process: &str, metal: &str, thickness_mm: f64, joint: &str, position: &str) -> Procedure {
    drafted(&format!("{process} {metal} {thickness_mm} {joint} {position}"), |view| view.procedure.clone())
}

/// Currents of the runs from the lowest to the highest, A.
pub(crate) fn currents_a(procedure: &Procedure) -> (f64, f64) {
    let ends = procedure.runs.iter().map(|run| {
        let range = run.settings.current.as_ref().and_then(Stated::value).expect("each run states its current");
        (range.low().map(Current::amperes).unwrap(), range.high().map(Current::amperes).unwrap())
    });
    ends.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))).expect("a draft has runs")
}

/// Settings of the process.
pub(crate) fn settings(procedure: &Procedure) -> &Settings {
    procedure.processes.iter().next().expect("a draft has its process").1
}

/// Diameters of the fillers, mm.
pub(crate) fn fillers_mm(procedure: &Procedure) -> Vec<f64> {
    let size = |stated: Option<&Stated<seamwright_model::quantity::Range<Length>>>| {
        stated.and_then(Stated::value).and_then(|range| range.low()).map(Length::mm).expect("a filler has its size")
    };
    procedure.fillers.iter().map(|(_, filler)| size(filler.diameter.as_ref())).collect()
}

pub(crate) fn within(what: &str, (low, high): (f64, f64), limits: (f64, f64)) {
    assert!(limits.0 <= low && high <= limits.1, "{what}: {low}-{high} does not lie within {}-{}", limits.0, limits.1);
}
