//! What the checks of a heat treatment under a code of construction share.

use seamwright_handbook::treatment::Numbered;
use seamwright_model::procedure::{CodeName, Construction, HeatTreatment, WeldType};
use seamwright_model::stated::OrNone;

use crate::codes::asme_ix;
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
pub(super) fn codes(view: &View<'_>) -> (&'static [&'static str], bool) {
    let Some(own) = &view.procedure.qualification else { return (&[], false) };
    match own.construction {
        Some(Construction::AsmeViii1) => (&["asme-viii-1"], true),
        Some(Construction::AsmeB313) => (&["asme-b31.3"], true),
        Some(Construction::AsmeB311) => (&["asme-b31.1"], true),
        Some(Construction::En10902) => (&[], false),
        None if own.code == Some(CodeName::AsmeIx) => (&["asme-viii-1", "asme-b31.3"], false),
        None => (&[], false),
    }
}

/// What a code asks of each metal of a groove weld; a fillet goes by its throat, which these checks leave alone.
pub(super) fn asked<'d>(view: &'d View<'d>, code: &'d str) -> Vec<(&'d Metal<'d>, Asked<'d>)> {
    if !view.weld().is_some_and(WeldType::has_groove) {
        return Vec::new();
    }
    // VIII-1 counts the thinner of two parts in a butt, piping codes the thicker.
    let sizes = view.metals.iter().filter_map(Metal::thickness);
    let thickness = if code == "asme-viii-1" {
        sizes.min_by_key(|size| size.length())
    } else {
        sizes.max_by_key(|size| size.length())
    };
    let Some(thickness) = thickness else { return Vec::new() };
    let of = |metal: &'d Metal<'d>| {
        let p_number = asme_ix::p_number(metal)?;
        let group = metal.known.and_then(|known| known.group_no);
        Some((metal, Asked { code, metal: Numbered { p_number, group }, thickness }))
    };
    view.metals.iter().filter_map(of).collect()
}

/// The heat treatment that is stated, where one is.
pub(super) fn stated<'d>(view: &View<'d>) -> Option<&'d HeatTreatment> {
    view.procedure.temperatures.as_ref()?.post_weld_heat_treatment.as_ref().and_then(OrNone::value)
}
