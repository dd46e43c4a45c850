//! What several checks of joints look at: the legs of a fillet, the thickness of its parts, the positions.

use seamwright_handbook::Size;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::stated::Stated;
use seamwright_weld::View;
use seamwright_weld::view::Located;

/// The stated legs of a weld with a fillet.
pub(super) fn legs<'d>(view: &View<'d>) -> Vec<Located<'d, Range<Length>>> {
    if !view.weld().is_some_and(|weld| weld.has_fillet()) {
        return Vec::new();
    }
    let Some(size) = view.procedure.weld_size.as_ref().and_then(Stated::value) else { return Vec::new() };
    [("leg", &size.leg), ("second_leg", &size.second_leg)]
        .into_iter()
        .filter_map(|(key, leg)| {
            let leg = leg.as_ref().and_then(Stated::value)?;
            Some(Located { pointer: format!("/weld_size/{key}"), value: leg })
        })
        .collect()
}

/// Thickness of the thinner and of the thicker part, mm; both above 0.
pub(super) fn thicknesses(view: &View<'_>) -> Option<(f64, f64)> {
    let all = view.metals.iter().filter_map(|metal| metal.stated.thickness.as_ref()?.value()?.middle()).map(Length::mm);
    let (thinner, thicker) = all.fold((f64::INFINITY, 0.0_f64), |(low, high), mm| (low.min(mm), high.max(mm)));
    (thinner > 0.0 && thinner.is_finite()).then_some((thinner, thicker))
}

/// Thickness of the thicker part in its own unit: the middle of a range.
pub(super) fn thickest(view: &View<'_>) -> Option<Size> {
    let sizes = view.metals.iter().filter_map(|metal| {
        let range = metal.stated.thickness.as_ref()?.value()?;
        Some(Size::stated(range.middle()?, range.unit()))
    });
    sizes.max_by_key(|size| size.length())
}

/// Every position that the document states, with its pointer.
pub(super) fn positions<'d>(view: &View<'d>) -> Vec<(String, &'d str)> {
    let own = view.procedure.positions.iter().enumerate().map(|(index, text)| (format!("/positions/{index}"), &**text));
    let runs = view.procedure.runs.iter().enumerate().flat_map(|(run, stated)| {
        stated
            .positions
            .iter()
            .enumerate()
            .map(move |(index, text)| (format!("/runs/{run}/positions/{index}"), &**text))
    });
    own.chain(runs).collect()
}
