//! API 1104: what a change of a key means, 5.4.2.

use seamwright_handbook::{Band, api_1104 as tables, base_metals, positions};
use seamwright_model::procedure::keys;

use crate::codes::changed::{Changed, Classified, beyond};
use crate::codes::code::Keyed;
use crate::codes::range::Effect;
use crate::codes::words::at_clause;

/// The variables of a process.
pub(super) fn variables(process: &str, _toughness: bool) -> Vec<Keyed> {
    let own = tables::variables_of(process).into_iter();
    own.map(|row| {
        let wording = format!("{}: {}", row.variable, row.change);
        let source = at_clause(&row.origin, row.paragraph);
        (row.keys, Classified::new(Effect::Essential, row.paragraph, wording, source))
    })
    .collect()
}

/// Whether a change is one of the variable.
pub(super) fn counts(change: &Changed<'_>) -> bool {
    let words = |text: Option<&str>, of: &dyn Fn(&str) -> Option<String>| -> Vec<String> {
        let own = text.unwrap_or_default().split(',').map(str::trim).filter(|one| !one.is_empty());
        own.map(|one| of(one).unwrap_or_else(|| one.to_owned())).collect()
    };
    let differs = |of: &dyn Fn(&str) -> Option<String>| {
        let before = words(change.old, of);
        words(change.new, of).iter().any(|own| !before.contains(own))
    };
    match change.variable.reference.as_str() {
        "5.4.2.3" => differs(&|text| {
            let row = tables::strength(base_metals::find(text)?.yield_min_mpa?)?;
            (!row.alone).then(|| row.group.to_owned())
        }),
        "5.4.2.4" => differs(&|text| Some(super::designs::design(text.parse().ok()?).to_owned())),
        "5.4.2.5" if change.key == "positions" => {
            differs(&|text| Some(super::designs::turning(positions::get(text)?).to_owned()))
        }
        // The range that the procedure states is the limit.
        "5.4.2.6" | "5.4.2.13" => change.outside(),
        "5.4.2.7" => differs(&|text| Some(tables::filler(text)?.group.to_owned())),
        "5.4.2.9" => change.figures(Some("min")).is_none_or(|(old, new)| {
            beyond(Band::at_most(old.closed().high), Band::at_most(new.closed().high), 0.0, 0.0)
        }),
        "5.4.2.11" if change.key == keys::SHIELDING_GAS_FLOW.in_tables => change.outside(),
        "5.4.2.14" => change.lower_by_more(0.0),
        _ => true,
    }
}
