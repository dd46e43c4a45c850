//! What the checks of a heat treatment under a code of construction share.

use seamwright_handbook::code_scope::{self, Counts, NameRow};
use seamwright_handbook::treatment::Numbered;
use seamwright_model::procedure::{HeatTreatment, WeldType};
use seamwright_model::stated::OrNone;

use crate::treatment::Asked;
use crate::view::{Metal, View};

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

/// The codes of construction that a document is held against, and whether it names the one.
///
/// Work under ASME IX that names no code of construction is built to one of them: what none of them permits is told.
pub(super) fn codes(view: &View<'_>) -> (Vec<&'static NameRow>, bool) {
    let Some(own) = &view.procedure.qualification else { return (Vec::new(), false) };
    let named = own.construction.map(|built| built.as_str());
    let implying = own.code.map(|code| code.as_str());
    let is_one = |row: &&NameRow| match named {
        Some(named) => row.code == named,
        None => row.implied_by.is_some() && row.implied_by.as_deref() == implying,
    };
    let held = code_scope::names().iter().filter(|row| row.heat_treatment.is_some());
    (held.filter(is_one).collect(), named.is_some())
}

/// What a code asks of each metal of a groove weld; a fillet goes by its throat, which these checks leave alone.
pub(super) fn asked<'d>(view: &'d View<'d>, code: &'static NameRow) -> Vec<(&'d Metal<'d>, Asked<'d>)> {
    if !view.weld().is_some_and(WeldType::has_groove) {
        return Vec::new();
    }
    let sizes = view.metals.iter().filter_map(Metal::thickness);
    let thickness = match code.heat_treatment {
        Some(Counts::Thinner) => sizes.min_by_key(|size| size.length()),
        _ => sizes.max_by_key(|size| size.length()),
    };
    let Some(thickness) = thickness else { return Vec::new() };
    let of = |metal: &'d Metal<'d>| {
        let p_number = metal.p_number()?;
        let group = metal.known.and_then(|known| known.group_no);
        Some((metal, Asked { code: &code.code, metal: Numbered { p_number, group }, thickness }))
    };
    view.metals.iter().filter_map(of).collect()
}

/// The heat treatment that is stated, where one is.
pub(super) fn stated<'d>(view: &View<'d>) -> Option<&'d HeatTreatment> {
    view.procedure.temperatures.as_ref()?.post_weld_heat_treatment.as_ref().and_then(OrNone::value)
}
