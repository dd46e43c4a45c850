//! ISO 15614-1: what a change of a key means, clause 8.

use seamwright_handbook::iso_15614_1 as tables;

use crate::codes::changed::{Changed, Classified, beyond};
use crate::codes::range::Effect;

/// The variables of a process.
pub(super) fn variables(process: &str, toughness: bool) -> Vec<(&'static [String], Classified)> {
    let own = tables::variables_of(process).into_iter();
    own.map(|row| {
        let effect = Effect::of(row.category, toughness);
        (row.keys.as_slice(), Classified::new(effect, &row.paragraph, row.wording.clone(), row.origin.source_ref()))
    })
    .collect()
}

/// Whether a change is one of the variable.
pub(super) fn counts(change: &Changed<'_>) -> bool {
    let qualification = change.pair.new.procedure.qualification.as_ref();
    let level_1 = qualification.is_some_and(|own| own.level.as_deref() == Some("1"));
    let rule = |name: &str| {
        let named = if level_1 { format!("{name}-level-1") } else { name.to_owned() };
        tables::rule(&named).map_or(0.0, |rule| rule.value.high)
    };
    match change.variable.reference.as_str() {
        "8.3.1" if change.key == "parent_metals.specification" => change.metal_differs(|metal| metal.iso_group.clone()),
        "8.3.2" | "8.3.3" => change.outside(),
        "8.4.2" if change.key == "positions" => change.positions_added(),
        "8.4.7" => change.heat(true).is_none_or(|(old, new)| beyond(old, new, 0.0, 0.0)),
        "8.4.8" => change.lower_by_more(rule("preheat-decrease")),
        "8.4.9" => change.higher_by_more(rule("interpass-increase")),
        _ => true,
    }
}
