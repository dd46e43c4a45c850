//! Columns of settings: the unit in the head, the number in the cell.

use seamwright_page::block::Cell;

/// A setting and what stands in brackets behind it: the other unit. Of several settings in one text, all.
fn bracketed(text: &str) -> (&str, Option<&str>) {
    match text.split_once(" (") {
        Some((main, rest)) if !rest.contains("; ") => (main, Some(rest.trim_end_matches(')'))),
        _ => (text, None),
    }
}

/// The unit that every text of a column has, for its heading; that in brackets stays with its figures.
pub(super) fn common_unit(texts: &[&str]) -> Option<String> {
    let unit = |text: &str| {
        let (number, unit) = text.split_once([' ', '\u{a0}'])?;
        let plain = number.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '–'));
        (plain && !unit.is_empty() && unit.split(['(', ' ', '\u{a0}']).count() == 1).then(|| unit.to_owned())
    };
    let mut units = texts.iter().filter(|text| !text.is_empty()).map(|text| unit(bracketed(text).0));
    let first = units.next()??;
    units.all(|other| other.as_ref() == Some(&first)).then_some(first)
}

/// A setting: without the unit that its heading has; what stands in brackets, or after the comma of a filler, goes below
/// in small.
pub(super) fn setting_cell(text: &str, unit: Option<&str>, filler: bool) -> Cell {
    let (main, note) = if filler {
        text.split_once(", ").map_or((text, None), |(main, rest)| (main, Some(rest)))
    } else {
        bracketed(text)
    };
    let figure = unit.and_then(|unit| main.strip_suffix(unit)).map_or(main, str::trim_end);
    Cell { note: note.map(str::to_owned), ..Cell::bold(figure) }
}
