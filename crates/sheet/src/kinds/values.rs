//! Values of a document as a sheet prints them.

use seamwright_handbook::nominal_sizes;
use seamwright_model::quantity::{Length, Quantity, Range};
use seamwright_model::stated::{NONE, NOT_APPLICABLE, OrNone, Stated};
use seamwright_page::SheetOptions;

/// A stated quantity in the chosen units and language; nothing where it is not stated.
pub(crate) fn quantity<Q: Quantity>(
    value: Option<&Stated<Range<Q>>>,
    options: impl Into<SheetOptions>,
) -> Option<String> {
    let options: SheetOptions = options.into();
    Some(match value? {
        Stated::NotApplicable => options.word(NOT_APPLICABLE).into_owned(),
        Stated::Is(range) => print(range, options),
    })
}

/// A stated diameter of filler or tungsten as it is sold; nothing where it is not stated.
pub(crate) fn sold(value: Option<&Stated<Range<Length>>>, options: impl Into<SheetOptions>) -> Option<String> {
    let options: SheetOptions = options.into();
    Some(match value? {
        Stated::NotApplicable => options.word(NOT_APPLICABLE).into_owned(),
        Stated::Is(range) => options.measure(nominal_sizes::print(range, options.units)),
    })
}

/// A range in the chosen units and language.
pub(crate) fn print<Q: Quantity>(range: &Range<Q>, options: SheetOptions) -> String {
    options.measure(range.print(options.units))
}

/// A stated word; nothing where it is not stated.
pub(crate) fn word<T: ToString>(value: Option<&Stated<T>>) -> Option<String> {
    Some(match value? {
        Stated::NotApplicable => NOT_APPLICABLE.to_owned(),
        Stated::Is(word) => word.to_string(),
    })
}

/// A part in words; "none" and "not applicable" as they are.
pub(crate) fn part<T>(value: Option<&OrNone<T>>, print: impl FnOnce(&T) -> String) -> Option<String> {
    Some(match value? {
        OrNone::NotApplicable => NOT_APPLICABLE.to_owned(),
        OrNone::None => NONE.to_owned(),
        OrNone::Is(value) => print(value),
    })
}

/// The parts that are there, with commas between.
pub(crate) fn joined(parts: impl IntoIterator<Item = Option<String>>) -> String {
    parts.into_iter().flatten().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
}
