//! Sizes and temperatures as they are stated, and bounds that a source prints in two units.
//!
//! A code that prints millimetres and inches has two sets of bounds. The unit in which a value is stated picks the set,
//! and the comparison is exact in that unit: 3/4 in is not over 3/4 in, though 19.05 mm is over 19 mm. Where a source
//! prints one unit only, that one holds for all values.

use std::cmp::Ordering;
use std::fmt;

use seamwright_calc::Band;
use seamwright_model::finding::{Figures, Limit};
use seamwright_model::quantity::{Exact, Home, Length, Quantity, Range, Temperature, Unit};

use crate::inches;

/// Millimetres in an inch, exactly (NIST SP 811).
pub const MM_IN: f64 = 25.4;

/// A figure in inches as a source prints it: `1-1/2`, `3/16` or `0.75`.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Inches(pub f64);

impl Inches {
    /// From the text of a table; nothing where it is no such figure.
    pub fn read(text: &str) -> Option<Self> {
        inches::read(text).map(Self)
    }
}

impl fmt::Display for Inches {
    /// A whole number, a fraction to 64ths where that is exact, else three decimals.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for denominator in [1_u32, 2, 4, 8, 16, 32, 64] {
            let parts = self.0 * f64::from(denominator);
            if (parts - parts.round()).abs() < 1e-9 && (0.0..1e6).contains(&parts) {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to a million")]
                let parts = parts.round() as u32;
                return match (parts / denominator, parts % denominator) {
                    (whole, 0) => write!(f, "{whole}"),
                    (0, part) => write!(f, "{part}/{denominator}"),
                    (whole, part) => write!(f, "{whole}-{part}/{denominator}"),
                };
            }
        }
        f.write_str(&trimmed(self.0, 3))
    }
}

impl Inches {
    /// The figure as it is printed.
    fn printed(self) -> f64 {
        let parts = self.0 * 64.0;
        let exact = (parts - parts.round()).abs() < 1e-9;
        if exact { parts.round() / 64.0 } else { rounded(self.0, 3) }
    }
}

/// A length as it is stated: exact, and in inches or in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    length: Length,
    customary: bool,
}

impl Size {
    /// A length that is stated in `unit`.
    pub fn stated(length: Length, unit: &Unit) -> Self {
        Self { length, customary: is_customary(unit) }
    }

    /// A size in millimetres; `None` where [`Length::from_mm`] gives none.
    pub fn from_mm(figure: f64) -> Option<Self> {
        Some(Self { length: Length::from_mm(figure)?, customary: false })
    }

    /// A size in inches; `None` where [`Length::from_inches`] gives none.
    pub fn from_inches(figure: f64) -> Option<Self> {
        Some(Self { length: Length::from_inches(figure)?, customary: true })
    }

    /// The length.
    pub fn length(self) -> Length {
        self.length
    }

    /// Whether it is stated in inches or feet.
    pub fn is_customary(self) -> bool {
        self.customary
    }

    /// The number of millimetres.
    pub fn mm(self) -> f64 {
        self.length.mm()
    }

    /// `mm` or `in`, whichever it is stated in.
    pub fn unit(self) -> &'static str {
        if self.customary { "in" } else { "mm" }
    }

    /// The number of its own unit.
    pub fn figure(self) -> f64 {
        if self.customary { self.length.inches() } else { self.length.mm() }
    }

    /// Its text: `3/4 in`, `19.05 mm`.
    pub fn text(self) -> String {
        length_text(self.figure(), self.unit())
    }

    /// How it stands to a bound in its own unit; to the other column where the source prints one only.
    fn beside(self, bound: Bound) -> Option<Ordering> {
        let of_inches = bound.inches.and_then(|inches| Length::from_inches(inches.0));
        let of_mm = bound.mm.and_then(Length::from_mm);
        let (own, other) = if self.customary { (of_inches, of_mm) } else { (of_mm, of_inches) };
        Some(self.length.exact().cmp(&own.or(other)?.exact()))
    }

    /// Whether it lies above a bound; so it does where there is none.
    pub fn over(self, mm: Option<f64>, inches: Option<Inches>) -> bool {
        self.beside(Bound { mm, inches }).is_none_or(Ordering::is_gt)
    }

    /// Whether it reaches a bound; so it does where there is none.
    pub fn from(self, mm: Option<f64>, inches: Option<Inches>) -> bool {
        self.beside(Bound { mm, inches }).is_none_or(Ordering::is_ge)
    }

    /// Whether it lies not above a bound; so it does where there is none.
    pub fn up_to(self, mm: Option<f64>, inches: Option<Inches>) -> bool {
        self.beside(Bound { mm, inches }).is_none_or(Ordering::is_le)
    }

    /// Whether it lies under a bound; so it does where there is none.
    pub fn below(self, mm: Option<f64>, inches: Option<Inches>) -> bool {
        self.beside(Bound { mm, inches }).is_none_or(Ordering::is_lt)
    }

    /// The figure of two columns that stands in its unit, with that unit; the other column where the source prints one.
    pub fn column(self, mm: Option<f64>, inches: Option<Inches>) -> Option<(f64, &'static str)> {
        let (mm, inches) = (mm.map(|mm| (mm, "mm")), inches.map(|inches| (inches.0, "in")));
        if self.customary { inches.or(mm) } else { mm.or(inches) }
    }
}

/// A bound as a source prints it.
#[derive(Debug, Clone, Copy)]
struct Bound {
    mm: Option<f64>,
    inches: Option<Inches>,
}

/// Whether a unit is one of US customary units.
pub fn is_customary(unit: &Unit) -> bool {
    unit.home == Home::Us
}

/// A length in words, with fractions of an inch: `3/4 in`, `19.05 mm`.
pub fn length_text(length: f64, unit: &str) -> String {
    if unit == "in" { format!("{} in", Inches(length)) } else { format!("{} {unit}", figure(length)) }
}

/// Whole numbers below this are exact.
const WHOLE: f64 = 1e15;

/// A figure without needless decimals.
pub fn figure(value: f64) -> String {
    // Most are whole numbers, which need no decimals to be cut off.
    if value.fract() == 0.0 && value.abs() < WHOLE {
        #[expect(clippy::cast_possible_truncation, reason = "a whole number that small has a place in 64 bits")]
        return (value as i64).to_string();
    }
    // Nothing has no sign, whichever way it was come to.
    Some(trimmed(value, 2)).filter(|text| text != "-0").unwrap_or_else(|| "0".to_owned())
}

/// A figure of so many decimals, without those at its end that are nothing.
pub fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A figure rounded to so many decimals, as it is printed with those.
fn rounded(value: f64, decimals: usize) -> f64 {
    trimmed(value, decimals).parse().unwrap_or(value)
}

/// A range as a limit, in words and figures: `150-250 A`, `250 °C maximum`.
pub fn range_limit(range: Band, unit: &str) -> Limit {
    limit(range, unit, false)
}

/// The same of a length, with fractions of an inch: `1/8 to 3/4 in`, `19.05 mm maximum`.
pub fn length_limit(range: Band, unit: &str) -> Limit {
    limit(range, unit, unit == "in")
}

fn limit(range: Band, unit: &str, inches: bool) -> Limit {
    let printed = |end: f64| if inches { Inches(end).printed() } else { rounded(end, 2) };
    let (low, high) = (range.low_end().map(printed), range.high_end().map(printed));
    let high = if range.is_single() { low } else { high };
    let some = !unit.is_empty() && (low.is_some() || high.is_some());
    let figures = some.then(|| Figures { low, high, unit: unit.to_owned() });
    Limit { text: in_words(range, unit, inches), figures }
}

/// A range in words: `150-250 A`, `250 °C maximum`.
pub fn range_text(range: Band, unit: &str) -> String {
    in_words(range, unit, false)
}

/// A range in words, its figures as fractions where they are inches.
pub(crate) fn in_words(range: Band, unit: &str, inches: bool) -> String {
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    let text = |end: f64| if inches { Inches(end).to_string() } else { figure(end) };
    let one = |low: &str, high: &str| if inches { low == high } else { range.is_single() };
    match (range.low_end().map(text), range.high_end().map(text)) {
        (Some(low), Some(high)) if one(&low, &high) => format!("{low}{unit}"),
        (Some(low), Some(high)) => format!("{low}{}{high}{unit}", if inches { " to " } else { "-" }),
        (Some(low), None) => format!("{low}{unit} minimum"),
        (None, Some(high)) => format!("{high}{unit} maximum"),
        (None, None) => "no limit".to_owned(),
    }
}

/// A temperature limit that a source prints in degrees Celsius and in degrees Fahrenheit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heat {
    /// Degrees Celsius.
    pub celsius: f64,
    /// Degrees Fahrenheit, where the source prints them.
    pub fahrenheit: Option<f64>,
}

impl Heat {
    /// A limit in degrees Celsius, and in degrees Fahrenheit where the source prints them.
    pub const fn new(celsius: f64, fahrenheit: Option<f64>) -> Self {
        Self { celsius, fahrenheit }
    }

    /// The limit in the unit that a temperature is stated in, with the unit; Celsius where the source prints no other.
    pub fn column(self, customary: bool) -> (f64, &'static str) {
        match self.fahrenheit {
            Some(fahrenheit) if customary => (fahrenheit, "°F"),
            _ => (self.celsius, "°C"),
        }
    }
}

/// The figure of a temperature in `°C` or `°F`.
pub fn degrees(temperature: Temperature, unit: &str) -> f64 {
    if unit == "°F" { temperature.fahrenheit() } else { temperature.celsius() }
}

/// What a document states, as figures; an end that it leaves open is infinite.
pub fn band<Q: Quantity>(stated: &Range<Q>, of: impl Fn(Q) -> f64) -> Band {
    Band::new(stated.low().map_or(f64::NEG_INFINITY, &of), stated.high().map_or(f64::INFINITY, &of))
}

/// A figure of `from` in the unit `to`, of `mm`, `in`, `°C` and `°F`; the same figure for any other pair.
pub fn converted(figure: f64, from: &str, to: &str) -> f64 {
    let length = |found: Option<Length>, get: fn(Length) -> f64| found.map_or(figure, get);
    let heat = |found: Option<Temperature>, get: fn(Temperature) -> f64| found.map_or(figure, get);
    match (from, to) {
        ("mm", "in") => length(Length::from_mm(figure), Length::inches),
        ("in", "mm") => length(Length::from_inches(figure), Length::mm),
        ("°C", "°F") => heat(Temperature::from_celsius(figure), Temperature::fahrenheit),
        ("°F", "°C") => heat(Temperature::from_fahrenheit(figure), Temperature::celsius),
        _ => figure,
    }
}

/// A multiple of a size, exact, in its own unit.
pub(crate) fn times(size: Size, factor: f64) -> Option<f64> {
    let exact = size.length.exact().checked_mul(Exact::from_f64(factor)?)?;
    let length = Length::from_exact(exact);
    Some(if size.customary { length.inches() } else { length.mm() })
}

/// Sizes as tests write them.
#[cfg(test)]
pub(crate) mod sizes {
    use super::{Inches, Size};

    pub(crate) fn mm(figure: f64) -> Size {
        Size::from_mm(figure).unwrap()
    }

    pub(crate) fn inches(text: &str) -> Size {
        Size::from_inches(Inches::read(text).unwrap().0).unwrap()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_limit_of_numbers_has_them() {
        let parts = |low: f64, high: f64, unit: &str| range_limit(Band::new(low, high), unit);
        let most = |high: f64, unit: &str| range_limit(Band::at_most(high), unit);
        for (limit, text, low, high, unit) in [
            (parts(70.0, 110.0, "A"), "70-110 A", Some(70.0), Some(110.0), "A"),
            (most(250.0, "°C"), "250 °C maximum", None, Some(250.0), "°C"),
            (
                most(3.0, "thicknesses of the thicker part"),
                "3 thicknesses of the thicker part maximum",
                None,
                Some(3.0),
                "thicknesses of the thicker part",
            ),
            (most(0.04, "%").of("carbon"), "carbon 0.04 % maximum", None, Some(0.04), "%"),
            (
                parts(15.0, 110.0, "A per mm of rod"),
                "15-110 A per mm of rod",
                Some(15.0),
                Some(110.0),
                "A per mm of rod",
            ),
            (length_limit(Band::at_least(0.125), "in"), "1/8 in minimum", Some(0.125), None, "in"),
            (most(1.0 / 3.0, "mm"), "0.33 mm maximum", None, Some(0.33), "mm"),
        ] {
            let figures = Some(Figures { low, high, unit: unit.to_owned() });
            assert_eq!(limit, Limit { text: text.to_owned(), figures });
        }
        for words in ["DCEN", "revision 2", "1 macro", "ISO 14175 I1, I2 or I3", "each number once", ""] {
            assert_eq!(Limit::from(words).figures, None, "{words}");
        }
    }

    #[test]
    fn inches_are_read_and_written_as_the_trade_does() {
        for text in ["1-1/2", "3/16", "5/16", "6", "2-1/2", "1/64"] {
            assert_eq!(Inches::read(text).unwrap().to_string(), text);
        }
        assert_eq!(Inches(0.3).to_string(), "0.3");
        for wrong in ["", "1/0", "x", "1-", "-1/2", "1-2"] {
            assert!(Inches::read(wrong).is_none(), "{wrong}");
        }
    }

    // The unit that is stated picks the bound: AWS D1.1 prints "over 20 mm" beside "over 3/4 in".
    #[test]
    fn the_stated_unit_picks_the_column() {
        let (mm, inches) = (Some(20.0), Inches::read("3/4"));
        let three_quarters = Size::from_inches(0.75).unwrap();
        assert!(three_quarters.from(mm, inches) && three_quarters.up_to(mm, inches));
        assert!(!three_quarters.over(mm, inches) && !three_quarters.below(mm, inches));
        let in_mm = Size::from_mm(19.05).unwrap();
        assert!(in_mm.below(mm, inches) && !in_mm.from(mm, inches));
        // A source with one column holds for all.
        assert!(three_quarters.below(mm, None) && in_mm.from(None, inches));
        assert!(in_mm.over(None, None) && in_mm.up_to(None, None));
        assert_eq!(three_quarters.text(), "3/4 in");
        assert_eq!(times(three_quarters, 2.0), Some(1.5));
    }

    #[test]
    fn a_temperature_limit_is_the_printed_one() {
        let limit = Heat::new(175.0, Some(350.0));
        assert_eq!(limit.column(true), (350.0, "°F"));
        assert_eq!(limit.column(false), (175.0, "°C"));
        assert_eq!(Heat::new(175.0, None).column(true), (175.0, "°C"));
        assert!((converted(150.0, "°F", "°C") - 65.555_555).abs() < 1e-5);
    }
}
