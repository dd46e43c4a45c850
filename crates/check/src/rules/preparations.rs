//! Holding a measure of the prepared edges against the rows of the handbook for their kind.

use seamwright_handbook::measure::MM_IN;
use seamwright_handbook::{Range, SourceRef, aws_d1_1, joint_preparations, settings_by_thickness};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{BackingType, CodeName, Joint, Preparation};
use seamwright_model::quantity::{Length, Quantity, Range as Stretch};
use seamwright_model::stated::{OrNone, Stated};

use crate::rule::{Examiner, range_text};
use crate::view::View;

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
        // The standard has no row for a double J: the single one serves.
        Preparation::DoubleJ => &["J"],
    }
}

/// What is usual for a measure of the preparation, and beyond what it is no preparation of that kind.
struct Usual {
    range: Range,
    farthest: f64,
    source: SourceRef,
}

/// A kind beside those of the shape: an arc on a strip or on tiles has to reach the backing, and the arc under flux takes no
/// open root.
fn wider_kind(view: &View<'_>, joint: &Joint, shape: Preparation) -> Option<&'static str> {
    let held = joint.backing.as_ref().and_then(OrNone::value).map(|backing| backing.kind);
    let under_flux =
        || view.procedure.processes.iter().any(|(name, _)| name.starts_with("12") || name.starts_with("SAW"));
    match shape {
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

/// Whether the joint is a detail of the code that the document names: it is right under the code, whatever another standard's
/// table of preparations says.
fn detail_of_code(view: &View<'_>, joint: &Joint, shape: Preparation) -> bool {
    if view.procedure.qualification.as_ref().and_then(|own| own.code) != Some(CodeName::AwsD11) {
        return false;
    }
    let digit = match shape {
        Preparation::Square => '1',
        Preparation::SingleV => '2',
        Preparation::DoubleV => '3',
        Preparation::SingleBevel => '4',
        Preparation::DoubleBevel => '5',
        Preparation::SingleU => '6',
        Preparation::DoubleU => '7',
        Preparation::SingleJ => '8',
        Preparation::DoubleJ => '9',
    };
    let ends = |length: Option<&Stated<Stretch<Length>>>| {
        let range = length?.value()?;
        Some(Range::new(range.low().or(range.high())?.mm() / MM_IN, range.high().or(range.low())?.mm() / MM_IN))
    };
    let angle = joint.included_angle.as_ref().and_then(Stated::value).and_then(|range| {
        Some(Range::new(range.low().or(range.high())?.degrees(), range.high().or(range.low())?.degrees()))
    });
    let (gap, face) = (ends(joint.root_gap.as_ref()), ends(joint.root_face.as_ref()));
    let held = joint.backing.as_ref().and_then(OrNone::value).is_some();
    // How far a detail may be drawn from what the code prints: root opening and angle.
    let over = |name: &str| settings_by_thickness::rule(name).map_or(0.0, |rule| rule.value.high);
    let (wider, steeper) = (over("detail-opening"), over("detail-angle"));
    let close = |low: f64, high: f64, own: Option<Range>| {
        own.is_none_or(|own| low - 1e-3 <= own.low && own.high <= high + 1e-3)
    };
    aws_d1_1::joints().iter().any(|row| {
        row.designation.chars().find(char::is_ascii_digit) == Some(digit)
            && row.backing == held
            && view.runs.iter().all(|run| row.processes.iter().any(|own| own == run.number()))
            && row.angle_deg.is_none_or(|least| close(least, least + steeper, angle))
            && row.root_opening_in.is_none_or(|opening| close(opening.low, opening.high + wider, gap))
            && row.root_face_in.map_or(close(0.0, wider, face), |own| close(own.low, own.high, face))
    })
}

/// The limits of a measure: the hull of the handbook's rows for the kind of preparation.
fn usual(view: &View<'_>, measure: impl Fn(&joint_preparations::Row, f64) -> Option<Range>) -> Option<Usual> {
    let joint = view.procedure.joint.as_ref()?;
    let shape = *joint.preparation.as_ref().and_then(Stated::value)?;
    let thickness = view.thickness_mm()?;
    let more = wider_kind(view, joint, shape);
    let rows = joint_preparations::rows()
        .iter()
        .filter(|row| kind_words(shape).contains(&row.kind.as_str()) || more == Some(row.kind.as_str()));
    // The gap of a square edge goes with the thickness: each row holds for its own.
    let own = |row: &&joint_preparations::Row| {
        shape != Preparation::Square
            || row.over_mm.is_none_or(|over| thickness > over) && row.up_to_mm.is_none_or(|up_to| thickness <= up_to)
    };
    let (usual, source) = rows
        .filter(own)
        .filter_map(|row| Some((measure(row, thickness)?, row.origin.source_ref())))
        .reduce(|(hull, source), (range, _)| (hull.hull(range), source))?;
    let farthest = joint_preparations::rule("farthest")?.value.high * usual.high;
    Some(Usual { range: usual, farthest, source })
}

/// Holds a measure of a prepared groove against what is usual: outside is a caution, past the farthest an error.
pub(super) fn hold<Q: Quantity>(
    x: &mut Examiner<'_>,
    (key, name, unit): (&str, &str, &str),
    stated: impl Fn(&Joint) -> Option<&Stated<Stretch<Q>>>,
    ends: impl Fn(&Stretch<Q>) -> (Option<f64>, Option<f64>),
    measure: impl Fn(&joint_preparations::Row, f64) -> Option<Range>,
) {
    if !x.view.weld().is_some_and(|weld| weld.has_groove()) {
        return;
    }
    let view = x.view;
    let Some(range) = view.procedure.joint.as_ref().and_then(stated).and_then(Stated::value) else { return };
    let detail = view.procedure.joint.as_ref().is_some_and(|joint| {
        joint.preparation.as_ref().and_then(Stated::value).is_some_and(|shape| detail_of_code(view, joint, *shape))
    });
    if detail {
        x.examined(format!("/joint/{key}"));
        return;
    }
    let Some(limits) = usual(view, measure) else { return };
    let pointer = format!("/joint/{key}");
    let (low, high) = ends(range);
    let outer = x.compare(&pointer, range.spelled(), (low, high), limits.range, unit, &limits.source);
    if outer.below || outer.above {
        let far = low.is_some_and(|low| low < 0.0) || high.is_some_and(|high| high > limits.farthest);
        let usual = range_text(limits.range, unit);
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
pub(super) fn gap_of(row: &joint_preparations::Row, thickness_mm: f64) -> Option<Range> {
    row.gap_mm.or_else(|| row.gap_thicknesses.map(|share| Range::new(0.0, share * thickness_mm)))
}

/// The stated angle of a row, degrees: two flanks make the included angle of a U.
pub(super) fn angle_of(row: &joint_preparations::Row, _: f64) -> Option<Range> {
    let range = row.angle_deg?;
    let about = joint_preparations::rule("angle-about")?.value;
    let flanks = if row.angle_of.as_deref() == Some("flank") && row.kind.ends_with('U') { 2.0 } else { 1.0 };
    Some(Range::new(flanks * range.low * about.low, flanks * range.high * about.high))
}
