//! AWS D1.1: what a change of a key means, Table 6.5.

use seamwright_handbook::{aws_d1_1 as tables, base_metals};

use crate::codes::changed::{Changed, Classified, beyond};
use crate::codes::code::Keyed;
use crate::codes::range::Effect;
use crate::codes::words::clause;

/// The variables of a process.
pub(super) fn variables(process: &str, _toughness: bool) -> Vec<Keyed> {
    let own = tables::variables_of(process).into_iter();
    own.map(|row| {
        let effect = if row.toughness { Effect::Supplementary } else { Effect::Essential };
        let wording = format!("{}: {}", row.variable, row.change);
        let variable = Classified {
            increase_over: row.increase_over,
            decrease_over: row.decrease_over,
            unit: row.unit.map(str::to_owned),
            ..Classified::new(effect, &clause(&row.origin), wording, row.origin.source_ref())
        };
        (row.keys, variable)
    })
    .collect()
}

/// Whether a change is one of the variable.
pub(super) fn counts(change: &Changed<'_>) -> bool {
    let (variable, key, old, new) = (change.variable, change.key, change.old, change.new);
    if key == "parent_metals.specification" && base_metals::find(old.unwrap_or_default()).is_some() && old == new {
        return false;
    }
    if key == "positions" {
        return change.positions_added();
    }
    if variable.wording.starts_with("heat input") {
        return change.more_energy();
    }
    let Some(unit) = variable.unit.as_deref() else { return true };
    if unit == "%" {
        // Shares of the middle of the old range, which stands for the tested value.
        let Some((before, after)) = change.figures(None) else { return true };
        let middle = before.closed().middle();
        let share = |over: Option<f64>| over.map_or(f64::INFINITY, |over| middle * over / 100.0);
        let by_below = (before.low - middle + share(variable.decrease_over)).max(0.0);
        let by_above = (middle + share(variable.increase_over) - before.high).max(0.0);
        return beyond(before, after, by_below, by_above);
    }
    let Some((before, after)) = change.figures(Some(unit)) else { return true };
    beyond(
        before,
        after,
        variable.decrease_over.unwrap_or(f64::INFINITY),
        variable.increase_over.unwrap_or(f64::INFINITY),
    )
}
