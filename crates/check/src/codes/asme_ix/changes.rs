//! ASME IX: what a change of a key means, QW-250.

use seamwright_handbook::{Band, asme_ix as tables, filler_classes};
use seamwright_weld::View;
use seamwright_weld::view::Metal;

use crate::codes::changed::{Changed, Classified, beyond};
use crate::codes::code::Keyed;
use crate::codes::range::Effect;

/// The variables of a process.
pub(super) fn variables(process: &str, toughness: bool) -> Vec<Keyed> {
    let own = tables::variables_of(process).into_iter();
    own.map(|row| {
        let effect = Effect::of(row.category, toughness);
        (row.keys, Classified::new(effect, row.paragraph, row.subject, row.origin.source_ref()))
    })
    .collect()
}

/// Whether a variable is one for the metals of a document; where their P-Numbers are not known it is.
pub(super) fn holds(paragraph: &str, view: &View<'_>) -> bool {
    if tables::metals_of(paragraph).is_none() || view.metals.is_empty() {
        return true;
    }
    let mut numbers = view.metals.iter().map(Metal::p_number);
    numbers.any(|number| number.is_none_or(|own| tables::holds_for(paragraph, own)))
}

/// Whether a change is one of the variable.
pub(super) fn counts(change: &Changed<'_>) -> bool {
    let (old, new) = (change.old, change.new);
    let specification = change.key == "parent_metals.specification";
    let reference = change.variable.reference.as_str();
    if !holds(reference, &change.pair.old) && !holds(reference, &change.pair.new) {
        return false;
    }
    match reference {
        "QW-403.11" if specification => change.metal_differs(|metal| metal.p_no),
        "QW-403.5" if specification => {
            change.metal_differs(|metal| metal.p_no) || change.metal_differs(|metal| Some(metal.group_no))
        }
        "QW-403.6" => change.figures(None).is_none_or(|(old, new)| beyond(old, Band::new(new.low, old.high), 0.0, 0.0)),
        "QW-403.8" | "QW-404.30" | "QW-402.10" | "QW-403.10" => change.outside(),
        // One pass over the limit: stated by the deposit of a single run, which has its own key.
        "QW-403.9" => false,
        "QW-404.4" => change.filler_differs(|row| row.f_no),
        "QW-404.5" => change.filler_differs(|row| row.a_no),
        "QW-404.23" => change.filler_differs(|row: &filler_classes::Row| Some(row.form)),
        "QW-404.7" => change.figures(Some("mm")).is_some_and(|(old, new)| {
            let limit = tables::ELECTRODE_DIAMETER.value.high;
            old.high_end().is_none_or(|old| old <= limit) && new.high_end().is_some_and(|new| new > limit)
        }),
        "QW-405.1" => change.positions_added(),
        "QW-405.2" => upward(new) && !upward(old) || (change.key == "progression" && new == Some("upward")),
        "QW-406.1" => change.lower_by_more(tables::PREHEAT_DECREASE.value.high),
        "QW-406.3" => change.higher_by_more(tables::INTERPASS_INCREASE.value.high),
        "QW-409.1" => change.more_energy(),
        _ => true,
    }
}

/// Whether a position is welded upwards.
fn upward(text: Option<&str>) -> bool {
    text.is_some_and(|text| text.split(',').any(|one| matches!(one.trim(), "PF" | "PH" | "3G" | "3F" | "5G")))
}
