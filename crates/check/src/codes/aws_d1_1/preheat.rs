//! AWS D1.1: the least preheat of prequalified procedures.

use seamwright_handbook::{Size, aws_d1_1 as tables};
use seamwright_weld::View;
use seamwright_weld::view::Metal;

use crate::codes::code::Preheat;

/// The least preheat of a metal; nothing where the code has no category for it.
pub(super) fn of(view: &View<'_>, metal: &Metal<'_>, thickness: Size) -> Option<Preheat> {
    let plain = view.runs.iter().any(|run| run.is_covered() && !run.low_hydrogen(view.procedure));
    let category = if plain { "A" } else { "B" };
    let known = metal.known?;
    let category = match known.d1_1_preheat.iter().find(|own| **own == category) {
        Some(own) => own,
        None => known.d1_1_preheat.first()?,
    };
    let row = tables::preheat(category, thickness)?;
    Some(Preheat {
        celsius: row.preheat_min_c,
        fahrenheit: row.preheat_min_f,
        how: format!("AWS D1.1 category {category}, {}", thickness.text()),
        source: row.origin.source_ref(),
    })
}
