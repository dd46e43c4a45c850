//! Columns of settings: the unit in the head, the number in the cell.

use crate::block::Cell;

/// The unit that every text of a column ends in, for its heading.
pub(super) fn common_unit(texts: &[&str]) -> Option<String> {
    let unit = |text: &str| {
        let (number, unit) = text.split_once([' ', '\u{a0}'])?;
        let plain = number.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '–'));
        (plain && !unit.is_empty() && unit.split(['(', ' ', '\u{a0}']).count() == 1).then(|| unit.to_owned())
    };
    let mut units = texts.iter().filter(|text| !text.is_empty()).map(|text| unit(text));
    let first = units.next()??;
    units.all(|other| other.as_ref() == Some(&first)).then_some(first)
}

/// A setting: without the unit that its heading has; what stands in brackets or after a comma goes below in small.
pub(super) fn setting_cell(text: &str, unit: Option<&str>, filler: bool) -> Cell {
    let text = match unit.and_then(|unit| text.strip_suffix(unit)) {
        Some(number) => number.trim_end(),
        None => text,
    };
    let parts =
        if filler { text.split_once(", ") } else { text.split_once(" (").map(|(a, b)| (a, b.trim_end_matches(')'))) };
    match parts {
        Some((main, rest)) if !rest.contains("; ") => Cell { note: Some(rest.to_owned()), ..Cell::bold(main) },
        _ => Cell::bold(text),
    }
}
