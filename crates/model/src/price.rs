//! A price: an amount for a unit of what is bought, such as `9.50 per kg`.

use std::fmt;
use std::str::FromStr;

use schemars::json_schema;

use crate::words::spoken;

/// Name of the `format` in JSON Schema.
pub const FORMAT: &str = "price";

/// The units that something is bought by, each with its quantity and its size in that quantity's base unit.
const PER: &[(&str, Bought, f64)] = &[
    ("h", Bought::Time, 1.0),
    ("min", Bought::Time, 1.0 / 60.0),
    ("kg", Bought::Mass, 1.0),
    ("g", Bought::Mass, 0.001),
    ("lb", Bought::Mass, 0.453_592_37),
    ("m3", Bought::Volume, 1.0),
    ("L", Bought::Volume, 0.001),
    ("ft3", Bought::Volume, 0.028_316_846_592),
    ("kWh", Bought::Energy, 1.0),
    ("piece", Bought::Piece, 1.0),
    ("spool", Bought::Package, 1.0),
    ("box", Bought::Package, 1.0),
    ("cylinder", Bought::Package, 1.0),
    ("m", Bought::Length, 1.0),
    ("ft", Bought::Length, 0.3048),
    ("day", Bought::Days, 1.0),
    ("week", Bought::Days, 7.0),
    ("month", Bought::Days, 365.0 / 12.0),
    ("year", Bought::Days, 365.0),
    ("joint", Bought::Joint, 1.0),
    ("job", Bought::Job, 1.0),
];

/// Everyday words for units of [`PER`].
const WORDS: &[(&str, &str)] = &[
    ("hr", "h"),
    ("hour", "h"),
    ("minute", "min"),
    ("hrs", "h"),
    ("hours", "h"),
    ("man-hour", "h"),
    ("manhour", "h"),
    ("man hour", "h"),
    ("lbs", "lb"),
    ("#", "lb"),
    ("pound", "lb"),
    ("kilo", "kg"),
    ("cf", "ft3"),
    ("cu ft", "ft3"),
    ("cubic foot", "ft3"),
    ("cubic feet", "ft3"),
    ("ft\u{b3}", "ft3"),
    ("m\u{b3}", "m3"),
    ("cubic metre", "m3"),
    ("cubic meter", "m3"),
    ("l", "L"),
    ("litre", "L"),
    ("liter", "L"),
    ("kwh", "kWh"),
    ("each", "piece"),
    ("ea", "piece"),
    ("rod", "piece"),
    ("electrode", "piece"),
    ("can", "box"),
    ("tube", "box"),
    ("pack", "box"),
    ("package", "box"),
    ("roll", "spool"),
    ("bottle", "cylinder"),
    ("tank", "cylinder"),
    ("foot", "ft"),
    ("metre", "m"),
    ("meter", "m"),
    ("wk", "week"),
    ("mo", "month"),
    ("mth", "month"),
    ("yr", "year"),
    ("pc", "piece"),
    ("pcs", "piece"),
    ("part", "piece"),
    ("weld", "joint"),
    ("order", "job"),
];

/// What stands between an amount and its unit.
const BETWEEN: [&str; 4] = [" per ", "/", " a ", " an "];

/// The unit of a price by its sign or an everyday word.
fn unit(word: &str) -> Option<(&'static str, Bought, f64)> {
    let known = |name: &str| PER.iter().find(|(own, ..)| *own == name).copied();
    let word = word.trim();
    known(word).or_else(|| {
        // cu. ft. and lb. are written with and without their dots.
        let lower = word.to_lowercase().replace('.', "");
        let sign = WORDS.iter().find(|(name, _)| *name == lower).map_or(&*lower, |(_, sign)| sign);
        known(sign)
    })
}

/// What a price is paid for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Bought {
    /// Time; the base unit is the hour.
    Time,
    /// Mass; the base unit is the kilogram.
    Mass,
    /// Volume of gas; the base unit is the cubic metre.
    Volume,
    /// Electric energy; the base unit is the kilowatt hour.
    Energy,
    /// Pieces.
    Piece,
    /// Spools, boxes and cylinders as they are bought.
    Package,
    /// Length of weld; the base unit is the metre.
    Length,
    /// Time on the calendar; the base unit is the day.
    Days,
    /// Joints of the list.
    Joint,
    /// The whole job.
    Job,
}

/// An amount of money for one unit of what is bought; keeps its spelling. The currency stands beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    amount: f64,
    per: &'static str,
    bought: Bought,
    size: f64,
    spelled: Box<str>,
}

impl Price {
    /// The amount as written.
    pub fn amount(&self) -> f64 {
        self.amount
    }

    /// The unit as written.
    pub fn per(&self) -> &'static str {
        self.per
    }

    /// What is paid for.
    pub fn bought(&self) -> Bought {
        self.bought
    }

    /// How many units as written an amount in the base unit is.
    pub fn units(&self, base: f64) -> f64 {
        base / self.size
    }

    /// The amount for one base unit of a quantity; `None` for another quantity.
    pub fn of(&self, bought: Bought) -> Option<f64> {
        (self.bought == bought).then(|| self.amount / self.size)
    }
}

impl FromStr for Price {
    type Err = String;

    /// Reads `9.50 per kg` or `9.50/kg`; `Err` says what to write.
    fn from_str(text: &str) -> Result<Self, String> {
        let text = text.trim();
        let wrong =
            |what: &str| format!("`{text}` {what}; write an amount for a unit, such as 9.50 per kg or 52 per h");
        let (amount, per) = BETWEEN
            .iter()
            .find_map(|between| text.split_once(between))
            .or_else(|| [" each", " ea"].iter().find_map(|each| Some((text.strip_suffix(each)?, "piece"))))
            .ok_or_else(|| wrong("does not say for which unit the price is paid"))?;
        // The currency stands beside all prices of a shop; its sign may stand here as well.
        let digits = amount.trim().trim_matches(['$', '\u{20ac}', '\u{a3}']).trim();
        let plain = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
        let amount: f64 =
            digits.parse().ok().filter(|amount: &f64| plain && amount.is_finite() && *amount < 1e12).ok_or_else(
                || match meant(digits) {
                    Some((what, amount)) => format!("`{text}` {what}; write `{amount} per {}`", per.trim()),
                    None => wrong("has no plain amount"),
                },
            )?;
        let per = per.trim();
        let (per, bought, size) = unit(per).ok_or_else(|| of_several(text, amount, per))?;
        Ok(Self { amount, per, bought, size, spelled: text.into() })
    }
}

/// What to write for a price without its unit, by the key that it stands under.
pub(crate) fn without_unit(key: &str, text: &str) -> Option<String> {
    let digits = |own: char| own.is_ascii_digit() || own == '.';
    let plain = text.trim().trim_matches(['$', '\u{20ac}', '\u{a3}']).trim();
    let (figure, rest) = plain.split_at(plain.find(|own: char| !digits(own)).unwrap_or(plain.len()));
    let open = figure.parse::<f64>().is_ok() && !BETWEEN.iter().any(|between| text.contains(between));
    let usual = match key {
        "labour" | "overhead_per_hour" => "h",
        "electricity" => "kWh",
        "least_charge" => "job",
        _ => "",
    };
    let per = unit(rest).map_or(usual, |(unit, ..)| unit);
    (open && !per.is_empty() && !rest.contains(',')).then(|| format!("write `{figure} per {per}`"))
}

/// What stands in the place of a plain amount, and the plain amount that is meant.
fn meant(digits: &str) -> Option<(&'static str, String)> {
    let figure = |text: &str| text.trim().parse::<f64>().ok().filter(|own| own.is_finite() && *own >= 0.0);
    let lower = digits.to_lowercase();
    let cents = ["cents", "cent", "ct", "c", "\u{a2}"].iter().find_map(|word| figure(lower.strip_suffix(word)?));
    if let Some(cents) = cents {
        return Some((
            "is in hundredths of the currency",
            format!("{:.4}", cents / 100.0).trim_end_matches('0').into(),
        ));
    }
    let letters = |own: char| own.is_alphabetic() || own.is_whitespace() || own == '$';
    let bare = digits.trim_matches(letters);
    if bare.len() < digits.len() && figure(bare).is_some() {
        return Some(("has a currency, which stands once under `currency`", bare.to_owned()));
    }
    let (whole, rest) = digits.split_once(',')?;
    if rest.len() == 3 || rest.contains('.') || rest.contains(',') {
        let together = digits.replace(',', "");
        return figure(&together).map(|_| ("has a comma between its digits", together));
    }
    let point = format!("{whole}.{rest}");
    figure(&point).map(|_| ("has a decimal comma", point))
}

/// The refusal of what is no unit; where it is several of one, with the price of one.
fn of_several(text: &str, amount: f64, per: &str) -> String {
    let digits = per.find(|own: char| !own.is_ascii_digit() && own != '.').unwrap_or(per.len());
    let (count, rest) = per.split_at(digits);
    if let (Ok(count), Some((unit, ..))) = (count.parse::<f64>(), unit(rest))
        && count > 0.0
    {
        let one = format!("{:.6}", amount / count);
        let one = one.trim_end_matches('0').trim_end_matches('.');
        return format!("`{text}` is for {per}; write the price of one: `{one} per {unit}`");
    }
    // `33 lb spool`: the last word is what is bought.
    if let Some((what, (unit, ..))) = per.rsplit_once(' ').and_then(|(what, word)| Some((what, unit(word)?))) {
        return format!(
            "`{text}`: `{per}` is no unit of a price; write `{amount} per {unit}`, and {what} beside the stock"
        );
    }
    let units: Vec<&str> = PER.iter().map(|(name, ..)| *name).collect();
    format!("`{text}`: `{per}` is no unit of a price; the units are {}", units.join(", "))
}

impl fmt::Display for Price {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.spelled)
    }
}

spoken!(Price, json_schema!({"type": "string", "format": FORMAT, "examples": ["9.50 per kg", "52 per h"]}));

#[cfg(test)]
mod tests {
    use super::*;

    // NIST SP 811 (2008), appendix B: 1 lb = 0.45359237 kg and 1 ft = 0.3048 m, exactly.
    #[test]
    fn a_price_is_known_for_the_base_unit() {
        let of = |text: &str, bought| text.parse::<Price>().unwrap().of(bought).unwrap();
        assert!((of("9.50 per kg", Bought::Mass) - 9.5).abs() < 1e-12);
        assert!((of("1/lb", Bought::Mass) - 1.0 / 0.453_592_37).abs() < 1e-12);
        assert!((of("1 per ft3", Bought::Volume) - 1.0 / 0.3048_f64.powi(3)).abs() < 1e-9);
        assert!((of("1 per min", Bought::Time) - 60.0).abs() < 1e-12);
        assert_eq!("0.31 per kWh".parse::<Price>().unwrap().of(Bought::Mass), None);
    }

    #[test]
    fn everyday_words_for_units_are_understood() {
        for (text, per, bought) in [
            ("$1.80 per pound", "lb", Bought::Mass),
            ("65/hr", "h", Bought::Time),
            ("0.12 per cubic foot", "ft3", Bought::Volume),
            ("58 per spool", "spool", Bought::Package),
            ("95 per bottle", "cylinder", Bought::Package),
            ("4 each", "piece", Bought::Piece),
            ("$4.50/lb", "lb", Bought::Mass),
            ("4.50 € per kg", "kg", Bought::Mass),
            ("1.20 per #", "lb", Bought::Mass),
            ("12 per mo", "month", Bought::Days),
            ("$12/mo.", "month", Bought::Days),
            ("95/yr", "year", Bought::Days),
            ("65 an hour", "h", Bought::Time),
            ("18 per 100 ft3", "", Bought::Volume),
            ("75 per job", "job", Bought::Job),
        ] {
            match text.parse::<Price>() {
                Ok(price) => assert_eq!((price.per(), price.bought()), (per, bought), "{text}"),
                Err(advice) => assert!(per.is_empty() && advice.contains("per"), "{text}: {advice}"),
            }
        }
    }

    #[test]
    fn a_price_that_is_written_otherwise_is_told_as_it_is_to_be_written() {
        for (text, write) in [
            ("4,50 € per kg", "`4.50 per kg`"),
            ("1,200 per job", "`1200 per job`"),
            ("1,200.50/job", "`1200.50 per job`"),
            ("USD 4.50 per lb", "`4.50 per lb`"),
            ("4.50 EUR/kg", "`4.50 per kg`"),
            ("US$ 65 per h", "`65 per h`"),
            ("65 dollars an hour", "`65 per hour`"),
            ("12 cents per kWh", "`0.12 per kWh`"),
            ("12c/kWh", "`0.12 per kWh`"),
            ("25 per 100 cu ft", "`0.25 per ft3`"),
            ("62 per 33 lb spool", "`62 per spool`, and 33 lb beside the stock"),
        ] {
            let advice = text.parse::<Price>().unwrap_err();
            assert!(advice.contains(write), "{text}: {advice}");
        }
    }

    #[test]
    fn what_is_no_price_is_refused_with_advice() {
        for text in ["9.50", "9,50 per kg", "-3 per kg", "per kg", "5 per furlong", "1e3 per kg", "inf per h", ""] {
            let advice = text.parse::<Price>().unwrap_err();
            assert!(advice.contains("; "), "{text}: {advice}");
        }
    }
}
