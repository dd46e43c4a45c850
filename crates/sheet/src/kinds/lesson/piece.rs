//! Exercises and the pieces that they are welded on, in words.

use seamwright_model::lesson::{Coupon, Exercise};
use seamwright_page::SheetOptions;
use seamwright_weld::View;

use crate::kinds::{joined, quantity};

/// What an exercise is called.
pub(super) fn name(exercise: &Exercise) -> String {
    exercise.title.as_deref().unwrap_or(&exercise.weld).to_owned()
}

/// A piece of a coupon in words: metal and its three measures.
pub(super) fn piece(coupon: &Coupon, view: Option<&View<'_>>, options: SheetOptions) -> String {
    let own = coupon.specification.as_deref().map(ToOwned::to_owned);
    let metal =
        own.or_else(|| view.and_then(|view| view.metals.first()).map(|metal| metal.stated.specification.to_string()));
    let sizes: Vec<String> = [&coupon.outside_diameter, &coupon.thickness, &coupon.width, &coupon.length]
        .into_iter()
        .filter_map(|size| quantity(size.as_ref(), options))
        .collect();
    joined([metal, (!sizes.is_empty()).then(|| sizes.join(" × "))])
}
