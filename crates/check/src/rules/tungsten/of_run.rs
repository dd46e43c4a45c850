//! What several checks of tungsten electrodes look at: designation, diameter, and the limits of current.

use seamwright_handbook::tungsten_current::CurrentType;
use seamwright_handbook::{Limits, tungsten_current, tungsten_types};
use seamwright_model::procedure::{Polarity, keys};
use seamwright_model::quantity::{Current, Length, Range};
use seamwright_weld::RunView;
use seamwright_weld::view::Located;

/// The tungsten's designation.
pub(super) fn designation<'d>(run: &RunView<'d>) -> Option<Located<'d, str>> {
    run.setting(&keys::TUNGSTEN_DESIGNATION)
}

/// The tungsten's diameter, mm.
pub(super) fn diameter(run: &RunView<'_>) -> Option<f64> {
    let at = run.value(&keys::TUNGSTEN_DIAMETER)?;
    at.value.middle().map(Length::mm)
}

/// Electrode group and current type of a run with a tungsten electrode.
fn kind(run: &RunView<'_>) -> Option<(tungsten_types::Group, CurrentType)> {
    let group = designation(run)
        .and_then(|named| tungsten_types::get(named.value))
        .map_or(tungsten_types::Group::Oxide, |row| row.group);
    let polarity = run.value(&keys::POLARITY)?;
    Some((
        group,
        match polarity.value {
            Polarity::Dcen => CurrentType::Dcen,
            Polarity::Dcep => CurrentType::Dcep,
            Polarity::Ac => CurrentType::Ac,
        },
    ))
}

/// The current of a run and the limits of its tungsten electrode.
pub(crate) fn limits<'d>(run: &RunView<'d>) -> Option<(Located<'d, Range<Current>>, Limits)> {
    let (group, current) = kind(run)?;
    let limits = tungsten_current::range(group, current, diameter(run)?)?;
    Some((run.value(&keys::CURRENT)?, limits))
}

/// What electrode to write for a current, A.
pub(super) fn hint(run: &RunView<'_>, amperes: Option<f64>) -> String {
    let fitting = kind(run)
        .zip(amperes)
        .map(|((group, kind), amperes)| tungsten_current::diameters_for(group, kind, amperes))
        .unwrap_or_default();
    if fitting.is_empty() {
        "no diameter of electrode suits this current: change it, or the polarity".to_owned()
    } else {
        let list: Vec<String> = fitting.iter().map(|diameter| format!("{diameter} mm")).collect();
        format!("electrodes for this current: {}", list.join(", "))
    }
}
