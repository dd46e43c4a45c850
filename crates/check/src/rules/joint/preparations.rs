//! Holding a measure of the prepared edges against the rows of the handbook for their kind.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, SourceRef, joint_preparations, processes};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{BackingType, Joint, Preparation};
use seamwright_model::quantity::{Quantity, Range};
use seamwright_model::stated::{OrNone, Stated};
use seamwright_weld::View;

use crate::codes;
use crate::rule::{Examiner, range_limit};

/// The kinds of groove in the handbook that a preparation may be.
pub(super) fn kind_words(shape: Preparation) -> &'static [&'static str] {
    match shape {
        Preparation::Square => &["square"],
        Preparation::SingleV => &["V", "V with broad root face"],
        Preparation::DoubleV => &["double V", "double V with broad root face"],
        Preparation::SingleBevel => &["bevel"],
        Preparation::DoubleBevel => &["double bevel"],
        Preparation::SingleU => &["U"],
        Preparation::DoubleU => &["double U"],
        Preparation::SingleJ => &["J"],
        // Nothing is cut.
        Preparation::FlareV | Preparation::FlareBevel => &[],
        // The standard has no row for a double J: the single one serves.
        Preparation::DoubleJ => &["J"],
    }
}

/// What is usual for a measure of the preparation, and beyond what it is no preparation of that kind.
struct Usual {
    range: Band,
    farthest: f64,
    source: SourceRef,
}

/// A kind beside those of the shape: an arc on a strip or on tiles has to reach the backing, and the arc under flux takes no
/// open root.
fn wider_kind(view: &View<'_>, joint: &Joint, shape: Preparation) -> Option<&'static str> {
    let held = joint.backing.as_ref().and_then(OrNone::value).map(|backing| backing.kind);
    let under_flux =
        || view.procedure.processes.iter().any(|(name, _)| processes::get(name).is_some_and(|row| row.uses_flux));
    let steel = view.metals.iter().all(|metal| metal.is("steel"));
    match shape {
        // Sluggish pools of copper, nickel and cast iron are given more room than the standard for steel has.
        Preparation::SingleV if !steel => Some("V of other metals"),
        Preparation::SingleBevel if matches!(held, Some(BackingType::Strip | BackingType::Ceramic)) => {
            Some("bevel on backing")
        }
        Preparation::SingleV if matches!(held, Some(BackingType::Strip | BackingType::Ceramic)) => Some("V on backing"),
        Preparation::SingleV
            if view
                .metals
                .iter()
                .any(|metal| metal.stated.outside_diameter.as_ref().and_then(Stated::value).is_some()) =>
        {
            Some("V of pipe")
        }
        Preparation::DoubleV if under_flux() => Some("double V under flux"),
        _ => None,
    }
}

/// The limits of a measure: the hull of the handbook's rows for the kind of preparation.
fn usual(view: &View<'_>, measure: impl Fn(&joint_preparations::Row, f64) -> Option<Band>) -> Option<Usual> {
    let joint = view.procedure.joint.as_ref()?;
    let shape = *joint.preparation.as_ref().and_then(Stated::value)?;
    let thickness = view.thickness_mm()?;
    let more = wider_kind(view, joint, shape);
    let rows =
        joint_preparations::rows().iter().filter(|row| kind_words(shape).contains(&row.kind) || more == Some(row.kind));
    // The gap of a square edge goes with the thickness: each row holds for its own.
    let own = |row: &&joint_preparations::Row| {
        shape != Preparation::Square
            || row.over_mm.is_none_or(|over| thickness > over) && row.up_to_mm.is_none_or(|up_to| thickness <= up_to)
    };
    let (usual, source) = rows
        .filter(own)
        .filter_map(|row| Some((measure(row, thickness)?, row.origin.source_ref())))
        .reduce(|(hull, source), (range, _)| (hull.hull(range), source))?;
    let farthest = joint_preparations::FARTHEST.value.high * usual.high;
    Some(Usual { range: usual, farthest, source })
}

/// Holds a measure of a prepared groove against what is usual: outside is a caution, past the farthest an error.
pub(super) fn hold<Q: Quantity>(
    x: &mut Examiner<'_>,
    (key, name, unit): (&str, &str, &str),
    stated: impl Fn(&Joint) -> Option<&Stated<Range<Q>>>,
    figure: impl Fn(Q) -> f64,
    measure: impl Fn(&joint_preparations::Row, f64) -> Option<Band>,
) {
    if !x.view.weld().is_some_and(|weld| weld.has_groove()) {
        return;
    }
    let view = x.view;
    let Some(range) = view.procedure.joint.as_ref().and_then(stated).and_then(Stated::value) else { return };
    let detail = view.procedure.joint.as_ref().is_some_and(|joint| {
        joint.preparation.as_ref().and_then(Stated::value).is_some()
            && codes::governing(view.procedure).is_some_and(|code| code.has_detail(view, joint))
    });
    if detail {
        x.examined(format!("/joint/{key}"));
        return;
    }
    let Some(limits) = usual(view, measure) else { return };
    let pointer = format!("/joint/{key}");
    let own = band(range, figure);
    let outer = x.compare(&pointer, range.spelled(), own, limits.range, unit, &limits.source);
    if outer.either() {
        let far =
            own.low_end().is_some_and(|low| low < 0.0) || own.high_end().is_some_and(|high| high > limits.farthest);
        let usual = range_limit(limits.range, unit);
        x.report(
            if far { Severity::Error } else { Severity::Caution },
            pointer,
            format!("{name} {} lies outside the usual range ({usual})", range.spelled()),
        )
        .stated(range.spelled())
        .limit(usual.clone(), &limits.source)
        .hint(format!("write a value within {usual}"));
    }
}

/// The gap of a row at a thickness, mm.
pub(super) fn gap_of(row: &joint_preparations::Row, thickness_mm: f64) -> Option<Band> {
    row.gap_mm.or_else(|| row.gap_thicknesses.map(|share| Band::new(0.0, share * thickness_mm)))
}

/// The stated angle of a row, degrees: two flanks make the included angle of a U.
pub(super) fn angle_of(row: &joint_preparations::Row, _: f64) -> Option<Band> {
    let range = row.angle_deg?;
    let about = joint_preparations::ANGLE_ABOUT.value;
    let flanks = if row.angle_of == Some("flank") && row.kind.ends_with('U') { 2.0 } else { 1.0 };
    Some(Band::new(flanks * range.low * about.low, flanks * range.high * about.high))
}
