//! Keeps a number and its unit on one line.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::LazyLock;

use seamwright_model::quantity::DIMENSIONS;

/// Units of figures that the program computes or words of its own, beside those that documents are written in.
const MORE: [&str; 8] = ["mm²", "m³", "µm", "ms", "kHz", "kJ", "J/mm", "kWh"];

/// First words of the symbols that follow a number after a space.
static UNITS: LazyLock<BTreeSet<&'static str>> = LazyLock::new(|| {
    let units = DIMENSIONS.iter().flat_map(|dimension| dimension.units);
    units.filter_map(|unit| unit.symbol.split(' ').next()).chain(MORE).collect()
});

/// The text with no-break spaces between a number and its unit, and between a whole number and its fraction.
pub fn held(text: &str) -> Cow<'_, str> {
    let mut held = String::new();
    let mut written = 0;
    for space in spaces(text) {
        held.push_str(text.get(written..space).unwrap_or_default());
        held.push('\u{a0}');
        written = space + 1;
    }
    if written == 0 {
        return Cow::Borrowed(text);
    }
    held.push_str(text.get(written..).unwrap_or_default());
    Cow::Owned(held)
}

/// Where numbers with their units stand in a text, with the brackets and marks that touch them: `100–140 mm/min`,
/// `(2 3/8 in),`.
pub fn quantities(text: &str) -> Vec<Range<usize>> {
    let mut found: Vec<Range<usize>> = Vec::new();
    for space in spaces(text) {
        let end = space + 1 + word(text, space + 1).len();
        match found.last_mut() {
            // The unit of a whole number and its fraction.
            Some(last) if last.end == space => last.end = end,
            _ => {
                let before = text.get(..space).unwrap_or_default();
                let start = before.rfind([' ', '\n']).map_or(0, |at| at + 1);
                found.push(start..end);
            }
        }
    }
    found
}

/// Marks that follow a unit and are no part of it.
const MARKS: [char; 5] = [')', ',', '.', ';', ':'];

/// The spaces between a number and what belongs to it.
fn spaces(text: &str) -> impl Iterator<Item = usize> {
    text.match_indices(' ').map(|(space, _)| space).filter(|&space| {
        let before = text.get(..space).unwrap_or_default();
        before.ends_with(|character: char| character.is_ascii_digit()) && belongs_to_a_number(word(text, space + 1))
    })
}

/// The word that begins at a place.
fn word(text: &str, at: usize) -> &str {
    text.get(at..).and_then(|rest| rest.split([' ', '\n']).next()).unwrap_or_default()
}

/// Whether a word is a unit or a fraction, which stays beside the number before it.
pub fn belongs_to_a_number(word: &str) -> bool {
    let word = word.trim_end_matches(MARKS);
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let is_fraction = word.split_once('/').is_some_and(|(above, below)| {
        let below = below.split(['–', '-']).next().unwrap_or_default();
        digits(above) && digits(below)
    });
    is_fraction || UNITS.contains(word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_keeps_its_unit() {
        for (text, expected) in [
            ("90–120 A", "90–120~A"),
            ("10 °C (50 °F) minimum", "10~°C (50~°F) minimum"),
            ("stringer, to 14 mm (0.551 in) wide", "stringer, to 14~mm (0.551~in) wide"),
            ("60.3 mm (2 3/8 in) outside diameter", "60.3~mm (2~3/8~in) outside diameter"),
            ("13–15 L/min; 27 J at -20 °C.", "13–15~L/min; 27~J at -20~°C."),
            ("20 ft lbf", "20~ft lbf"),
            ("4 runs of 2 layers", "4 runs of 2 layers"),
            ("P-021 revision 1: butt", "P-021 revision 1: butt"),
            ("", ""),
        ] {
            assert_eq!(held(text).replace('\u{a0}', "~"), expected);
        }
    }

    #[test]
    fn quantities_are_found_with_the_marks_that_touch_them() {
        let found = |text: &'static str| -> Vec<&str> {
            quantities(text).into_iter().filter_map(|place| text.get(place)).collect()
        };
        assert_eq!(found("60.3 mm (2 3/8 in), 10 °C (50 °F) minimum."), ["60.3 mm", "(2 3/8 in),", "10 °C", "(50 °F)"]);
        assert_eq!(found("argon, 13–15 L/min; at -20 °C"), ["13–15 L/min;", "-20 °C"]);
        assert_eq!(found("run 3\n100–140 mm/min"), ["100–140 mm/min"]);
        assert_eq!(found("4 runs, 90°"), Vec::<&str>::new());
    }
}
