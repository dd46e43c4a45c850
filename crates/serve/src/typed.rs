//! What people type, as the format has it: `1/8"`, `120 amps`, `14 IPM`, `DC+`. What is not known stays as it was typed.

use seamwright_model::quantity::DIMENSIONS;
use seamwright_model::quantity::check_format;

/// Words of the trade for units, beside those that the quantities know themselves; compared without case.
const UNITS: &[(&str, &str)] = &[
    ("\"", "in"),
    ("inch", "in"),
    ("inches", "in"),
    ("amp", "A"),
    ("amps", "A"),
    ("ampere", "A"),
    ("amperes", "A"),
    ("volt", "V"),
    ("volts", "V"),
    ("ipm", "in/min"),
    ("inches per minute", "in/min"),
    ("inch/min", "in/min"),
    ("mm/minute", "mm/min"),
    ("cfh", "ft³/h"),
    ("cubic feet per hour", "ft³/h"),
    ("lpm", "L/min"),
    ("l/m", "L/min"),
    ("litres per minute", "L/min"),
    ("liters per minute", "L/min"),
    ("c", "°C"),
    ("deg c", "°C"),
    ("degc", "°C"),
    ("f", "°F"),
    ("deg f", "°F"),
    ("degf", "°F"),
    ("degree", "deg"),
    ("degrees", "deg"),
    ("sec", "s"),
    ("secs", "s"),
    ("second", "s"),
    ("seconds", "s"),
    ("minute", "min"),
    ("minutes", "min"),
    ("mins", "min"),
    ("hour", "h"),
    ("hours", "h"),
    ("hr", "h"),
    ("hrs", "h"),
    ("millimetre", "mm"),
    ("millimetres", "mm"),
    ("millimeter", "mm"),
    ("millimeters", "mm"),
    ("percent", "%"),
];

/// Words of the trade for words of the format; compared without case.
const WORDS: &[(&str, &str)] = &[
    ("dc+", "DCEP"),
    ("dc-", "DCEN"),
    ("dc (+)", "DCEP"),
    ("dc (-)", "DCEN"),
    ("dcrp", "DCEP"),
    ("dcsp", "DCEN"),
    ("reverse polarity", "DCEP"),
    ("straight polarity", "DCEN"),
    ("electrode positive", "DCEP"),
    ("electrode negative", "DCEN"),
    ("t", "tee"),
    ("t-joint", "tee"),
    ("tee joint", "tee"),
    ("up", "upward"),
    ("uphill", "upward"),
    ("vertical up", "upward"),
    ("down", "downward"),
    ("downhill", "downward"),
    ("vertical down", "downward"),
    ("short arc", "short-circuit"),
    ("dip", "short-circuit"),
    ("short circuit", "short-circuit"),
    ("hf", "high-frequency"),
    ("high frequency", "high-frequency"),
    ("v", "single-v"),
    ("single v", "single-v"),
    ("double v", "double-v"),
    ("single bevel", "single-bevel"),
    ("double bevel", "double-bevel"),
    ("square edge", "square"),
    ("n/a", "not applicable"),
    ("na", "not applicable"),
];

/// A quantity as the format has it, where what was typed is known; else as it was typed.
///
/// `before` is what stood in the field: a bare number has its unit, and a quantity with one unit only needs none.
pub fn quantity(format: &str, text: &str, before: &str) -> String {
    let plain = tidy(text);
    let read = |text: &str| check_format(format, text).is_none_or(|read| read.is_ok());
    let Some(dimension) = DIMENSIONS.iter().find(|dimension| dimension.format == format) else { return plain };
    // What is read is put in the unit's own sign; `deg` is as good as the sign that few keyboards have.
    let own = |unit: &str| unit == "deg" || dimension.units.iter().any(|one| one.symbol == unit);
    if plain.is_empty() || (read(&plain) && own(unit_of(&plain))) {
        return plain;
    }
    if plain.eq_ignore_ascii_case("n/a") || plain.eq_ignore_ascii_case("na") {
        return seamwright_model::stated::NOT_APPLICABLE.to_owned();
    }
    let spelled = |unit: &str| {
        let unit = unit.trim().trim_end_matches('.');
        let own = |spelling: &&str| spelling.eq_ignore_ascii_case(unit);
        let known = dimension
            .units
            .iter()
            .find(|one| std::iter::once(&one.symbol).chain(one.aliases).chain(one.near).any(&own));
        known.map(|one| one.symbol).or_else(|| {
            let (_, symbol) = UNITS.iter().find(|(word, _)| word.eq_ignore_ascii_case(unit))?;
            dimension.unit(symbol).map(|one| one.symbol)
        })
    };
    // The side that a limit closes stands last, or as a word or sign before the number.
    let (body, side) = sided(&plain);
    let figures = body.trim_end_matches(|c: char| !c.is_ascii_digit());
    let (figures, unit) = (figures.to_owned(), body.get(figures.len()..).unwrap_or_default().trim());
    // A fraction is one of an inch: it has no unit from a field in millimetres.
    let fraction = |symbol: &&str| !figures.contains('/') || *symbol == "in";
    let symbol = if unit.is_empty() {
        let only = (dimension.units.len() == 1).then(|| dimension.units.first().map(|one| one.symbol)).flatten();
        only.or_else(|| spelled(unit_of(before)).filter(fraction))
    } else {
        spelled(unit)
    };
    let Some(symbol) = symbol else { return plain };
    // `70 amps - 90 amps`: the unit stands once.
    let first: String = match figures.split_once('-') {
        Some((low, high)) => {
            let bare = low.trim_end_matches(|c: char| !c.is_ascii_digit());
            let own = low.get(bare.len()..).unwrap_or_default().trim();
            if own.is_empty() || spelled(own) == Some(symbol) {
                format!("{bare}-{}", high.trim())
            } else {
                figures.clone()
            }
        }
        None => figures.clone(),
    };
    let whole =
        [first.as_str(), symbol, side].iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(" ");
    if read(&whole) { whole } else { plain }
}

/// A word of the format, where what was typed is one in other letters or the trade's word for one.
pub fn word(text: &str, words: &[&str]) -> String {
    let plain = tidy(text);
    let own = |wanted: &str| words.iter().find(|word| word.eq_ignore_ascii_case(wanted)).map(|own| (*own).to_owned());
    let hyphens = plain.replace([' ', '_'], "-");
    own(&plain)
        .or_else(|| own(&hyphens))
        .or_else(|| WORDS.iter().find(|(word, _)| word.eq_ignore_ascii_case(&plain)).and_then(|(_, word)| own(word)))
        .unwrap_or(plain)
}

/// Signs of typesetting as plain ones, and white space as single spaces.
fn tidy(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for character in text.trim().chars() {
        match character {
            '\u{2010}'..='\u{2015}' | '\u{2212}' => plain.push('-'),
            '\u{2033}' | '\u{201C}' | '\u{201D}' => plain.push('"'),
            '\u{2018}' | '\u{2019}' => plain.push('\''),
            '\u{BD}' => plain.push_str(" 1/2"),
            '\u{BC}' => plain.push_str(" 1/4"),
            '\u{BE}' => plain.push_str(" 3/4"),
            '\u{215B}' => plain.push_str(" 1/8"),
            '\u{215C}' => plain.push_str(" 3/8"),
            '\u{215D}' => plain.push_str(" 5/8"),
            '\u{215E}' => plain.push_str(" 7/8"),
            '\u{2044}' => plain.push('/'),
            other => plain.push(other),
        }
    }
    let words: Vec<&str> = plain.split_whitespace().collect();
    let plain = words.join(" ");
    // `70 to 90 A` and `70 - 90 A` are ranges.
    plain.replace(" to ", "-").replace(" - ", "-")
}

/// The text without the side that a limit closes, and that side as the format has it.
fn sided(text: &str) -> (&str, &'static str) {
    const SIDES: [(&str, &str); 12] = [
        ("maximum", "maximum"),
        ("max.", "maximum"),
        ("max", "maximum"),
        ("minimum", "minimum"),
        ("min.", "minimum"),
        ("up to", "maximum"),
        ("at most", "maximum"),
        ("at least", "minimum"),
        ("<=", "maximum"),
        (">=", "minimum"),
        ("<", "maximum"),
        (">", "minimum"),
    ];
    let lower = text.to_ascii_lowercase();
    for (word, side) in SIDES {
        if lower.starts_with(word) {
            return (text.get(word.len()..).unwrap_or_default().trim(), side);
        }
        if lower.ends_with(word) && !lower.ends_with(&format!("/{word}")) {
            return (text.get(..text.len() - word.len()).unwrap_or_default().trim(), side);
        }
    }
    // After a number it is minutes, after a unit the least.
    let body = lower.strip_suffix(" min").filter(|body| !body.ends_with(|own: char| own.is_ascii_digit()));
    match body.and_then(|body| text.get(..body.len())) {
        Some(body) => (body.trim(), "minimum"),
        None => (text, ""),
    }
}

/// The unit at the end of a quantity; nothing where it has none.
pub(crate) fn unit_of(text: &str) -> &str {
    let (body, _) = sided(text);
    body.get(body.trim_end_matches(|c: char| !c.is_ascii_digit()).len()..).unwrap_or_default().trim()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_known_is_understood() {
        for (format, typed, before, read) in [
            ("length", "1/8\"", "", "1/8 in"),
            ("length", "1/8 \u{201D}", "", "1/8 in"),
            ("length", "3 MM", "", "3 mm"),
            ("length", "2", "3 mm", "2 mm"),
            ("length", "3/32", "1/8 in", "3/32 in"),
            ("current", "120", "", "120 A"),
            ("current", "120 amps", "", "120 A"),
            ("current", "70 to 90 Amps", "", "70-90 A"),
            ("current", "70\u{2013}90", "", "70-90 A"),
            ("current", "70 amps - 90 amps", "", "70-90 A"),
            ("voltage", "max 12 volts", "", "12 V maximum"),
            ("speed", "14 IPM", "", "14 in/min"),
            ("speed", "80-110", "90 mm/min", "80-110 mm/min"),
            ("temperature", "250 C max", "", "250 °C maximum"),
            ("temperature", "125 C min", "", "125 °C minimum"),
            ("temperature", "300F", "", "300 °F"),
            ("flow", "15-20 cfh", "", "15-20 ft³/h"),
            ("angle", "60 degrees", "", "60 °"),
            ("angle", "55-60 deg", "", "55-60 deg"),
            ("time-span", "8 secs", "", "8 s"),
            ("time-span", "8 min", "", "8 min"),
            ("flow", "8 L/min", "", "8 L/min"),
        ] {
            let got = quantity(format, typed, before);
            assert!(check_format(format, &got).unwrap().is_ok(), "{typed} gave {got}");
            let canonical = |text: &str| text.replace("ft³/h", "CFH").to_lowercase();
            assert_eq!(canonical(&got), canonical(read), "{typed}");
        }
    }

    #[test]
    fn what_is_not_known_stays_as_it_was_typed() {
        for (format, typed, before) in [
            ("length", "3 bananas", ""),
            ("length", "12", ""),
            ("length", "1/8", "3 mm"),
            ("length", "1/8 max", "3 mm"),
            ("current", "lots", ""),
            ("speed", "3 A", ""),
        ] {
            assert_eq!(quantity(format, typed, before), typed);
        }
    }

    #[test]
    fn words_of_the_trade_are_words_of_the_format() {
        let polarity = ["DCEN", "DCEP", "AC"];
        assert_eq!(word("dc+", &polarity), "DCEP");
        assert_eq!(word("DCSP", &polarity), "DCEN");
        assert_eq!(word("ac", &polarity), "AC");
        let transfer = ["short-circuit", "spray"];
        assert_eq!(word("Short Circuit", &transfer), "short-circuit");
        assert_eq!(word("dip", &transfer), "short-circuit");
        assert_eq!(word("plasma", &transfer), "plasma");
    }
}
