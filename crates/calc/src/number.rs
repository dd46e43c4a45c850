//! Numbers and units as messages show them.

use std::fmt;

/// A number as a message shows it: up to four decimals, none that are empty.
pub(crate) struct Short(pub(crate) f64);

impl fmt::Display for Short {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(value) = *self;
        if value != 0.0 && (value.abs() < 5e-4 || value.abs() >= 1e9) {
            return write!(f, "{value:e}");
        }
        let text = format!("{value:.4}");
        f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
    }
}

/// A unit after a number, with its space; a degree sign alone stands close.
pub(crate) struct UnitAfter<'a>(pub(crate) &'a str);

impl fmt::Display for UnitAfter<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let space = if matches!(self.0, "" | "°") { "" } else { " " };
        write!(f, "{space}{}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_shown_without_empty_decimals() {
        let shown: Vec<String> =
            [0.0, 10.0, 0.25, -3.1, 0.000_1, 1e12].into_iter().map(|value| Short(value).to_string()).collect();
        assert_eq!(shown, ["0", "10", "0.25", "-3.1", "1e-4", "1e12"]);
    }
}
