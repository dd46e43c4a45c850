//! What the checks of a heat treatment under a code of construction share.

use seamwright_handbook::Size;
use seamwright_handbook::code_scope::{self, Counts, NameRow};
use seamwright_handbook::treatment::{Governs, Numbered, governs};
use seamwright_model::procedure::JointType;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::stated::Stated;
use seamwright_weld::View;
use seamwright_weld::view::Metal;

use crate::treatment::Asked;

/// A butt of A516-70 on a strip, built to a code, with this thickness and heat treatment.
macro_rules! built {
    ($code:literal, $thickness:literal, $preheat:literal, $treatment:literal) => {
        $crate::rule::Case {
            base: "butt-20-a516-121",
            edits: &[
                ("/qualification/construction", $code),
                ("/parent_metals", concat!("[{specification: A516-70, thickness: ", $thickness, "}]")),
                ("/temperatures/preheating", $preheat),
                ("/temperatures/post_weld_heat_treatment", $treatment),
            ],
        }
    };
}

/// A fillet of A516-70 on plate of 3 in, built to ASME VIII-1, with this size and heat treatment.
macro_rules! fillet_built {
    ($size:literal, $preheat:literal, $treatment:literal) => {
        $crate::rule::Case {
            base: "butt-20-a516-121",
            edits: &[
                ("/qualification/construction", "asme-viii-1"),
                ("/parent_metals", "[{specification: A516-70, thickness: 3 in}]"),
                ("/joint", "{type: tee, weld: fillet}"),
                ("/weld_size", $size),
                ("/temperatures/preheating", $preheat),
                ("/temperatures/post_weld_heat_treatment", $treatment),
            ],
        }
    };
}

/// The codes of construction that a document is held against, and whether it names the one.
///
/// Work under ASME IX that names no code of construction is built to one of them: what none of them permits is told.
pub(super) fn codes(view: &View<'_>) -> (Vec<&'static NameRow>, bool) {
    let Some(own) = &view.procedure.qualification else { return (Vec::new(), false) };
    let named = own.construction.map(|built| built.as_str());
    let implying = own.code.map(|code| code.as_str());
    let is_one = |row: &&NameRow| match named {
        Some(named) => row.code == named,
        None => row.implied_by.is_some() && row.implied_by == implying,
    };
    let held = code_scope::names().iter().filter(|row| row.heat_treatment.is_some());
    (held.filter(is_one).collect(), named.is_some())
}

/// The weld as the codes of construction tell welds apart; nothing for one of another kind.
fn weld(view: &View<'_>) -> Option<&'static str> {
    let joint = view.procedure.joint.as_ref()?;
    let weld = view.weld()?;
    Some(match (joint.kind, weld.has_groove(), weld.has_fillet()) {
        (JointType::Cavity, ..) => "cavity",
        (_, true, true) => "groove-and-fillet",
        (_, false, true) => "fillet",
        (_, true, false) if !view.full_penetration() => "partial",
        (_, true, false) => "groove",
        (_, false, false) => return None,
    })
}

/// The thickness that governs the weld under a code: of its parts, its depth or its throat.
fn governing(view: &View<'_>, code: &NameRow) -> Option<Size> {
    let stated = |range: Option<&Range<Length>>, share: f64| {
        let range = range?;
        let length = range.high().or(range.low())?;
        Some(Size::stated(Length::from_mm(length.mm() * share).filter(|_| share < 1.0).unwrap_or(length), range.unit()))
    };
    let value = |own: &'_ Option<Stated<Range<Length>>>| own.as_ref().and_then(Stated::value).cloned();
    let size = view.procedure.weld_size.as_ref().and_then(Stated::value);
    let throat = || {
        let (throat, leg) = (value(&size?.throat), value(&size?.leg));
        stated(throat.as_ref(), 1.0).or_else(|| stated(leg.as_ref(), std::f64::consts::FRAC_1_SQRT_2))
    };
    let sizes = || view.metals.iter().filter_map(Metal::thickness);
    let depth = || {
        let joint = view.procedure.joint.as_ref()?;
        stated(value(&joint.penetration_depth).as_ref(), 1.0)
            .or_else(|| sizes().min_by_key(|size| size.length()).filter(|_| view.full_penetration()))
    };
    match (weld(view)?, code.heat_treatment?) {
        ("groove", Counts::Thinner) => sizes().min_by_key(|size| size.length()),
        ("groove", Counts::Thicker) => sizes().max_by_key(|size| size.length()),
        (weld, _) => match governs(code.code, weld)? {
            Governs::Depth => depth(),
            Governs::Throat => throat(),
            Governs::Greater => depth().into_iter().chain(throat()).max_by_key(|size| size.length()),
        },
    }
}

/// What a code asks of each metal of a weld, by the thickness that governs it.
pub(super) fn asked<'d>(view: &'d View<'d>, code: &'static NameRow) -> Vec<(&'d Metal<'d>, Asked<'d>)> {
    let Some(thickness) = governing(view, code) else { return Vec::new() };
    let of = |metal: &'d Metal<'d>| {
        let p_number = metal.p_number()?;
        let group = metal.known.and_then(|known| known.group_no);
        Some((metal, Asked { code: code.code, metal: Numbered { p_number, group }, thickness }))
    };
    view.metals.iter().filter_map(of).collect()
}

/// The same for rates, which go by the thickest part where the weld itself is thinner.
pub(super) fn of_parts<'d>(view: &View<'d>, asked: Asked<'d>) -> Asked<'d> {
    let thickest = view.thickness().filter(|_| weld(view) != Some("groove"));
    Asked { thickness: thickest.unwrap_or(asked.thickness), ..asked }
}
