//! Designations of shielding gases by ISO 14175 and AWS A5.32.

use std::fmt;

use crate::find;
use crate::shielding_gases::{self, NameRow, Row};

/// What the designation of a gas says.
#[derive(Debug, Clone, PartialEq)]
pub struct Gas {
    /// The group and number in the table `shielding-gases`.
    pub row: &'static Row,
    /// Components and volume percents, the balance first, as far as the designation gives them: `("Ar", 82.0)`.
    pub composition: Vec<(&'static str, f64)>,
}

impl Gas {
    /// The symbol, such as `M21`.
    pub fn symbol(&self) -> &'static str {
        self.row.symbol
    }
}

/// Why the designation of a gas could not be read.
#[derive(Debug, Clone, PartialEq)]
pub enum Unread {
    /// Neither a symbol of ISO 14175 nor one of AWS A5.32.
    NoSymbol {
        /// What was written.
        text: String,
    },
    /// The part after the symbol is not of the form `ArC-18`.
    Components {
        /// What was written.
        text: String,
        /// The part that cannot be read.
        part: String,
    },
    /// The percents come to 100 or more without the balance.
    Sum {
        /// What was written.
        text: String,
        /// Their sum.
        percent: f64,
    },
    /// The composition belongs to another symbol than the one written.
    Contradiction {
        /// What was written.
        text: String,
        /// Symbol of the composition.
        symbol: &'static str,
    },
}

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSymbol { text } => write!(f, "`{text}` is no gas symbol of ISO 14175 or AWS A5.32"),
            Self::Components { text, part } => {
                write!(f, "`{text}` has `{part}` where components stand, such as ArC-18")
            }
            Self::Sum { text, percent } => write!(f, "the percents of `{text}` come to {percent} without the balance"),
            Self::Contradiction { text, symbol } => write!(f, "the composition of `{text}` is {symbol}"),
        }
    }
}

impl std::error::Error for Unread {}

/// Letters for components: in ISO 14175 (`ArHe`, `ArC`), then those that AWS A5.32:1997 has instead.
const ISO_LETTERS: &[(&str, &str)] = &[("AR", "Ar"), ("HE", "He"), ("C", "CO2"), ("O", "O2"), ("N", "N2"), ("H", "H2")];
const AWS_LETTERS: &[(&str, &str)] =
    &[("HE", "He"), ("AR", "Ar"), ("A", "Ar"), ("C", "CO2"), ("O", "O2"), ("N", "N2"), ("H", "H2")];

/// Reads the designation of a gas: `I1`, `M21`, `M21-ArC-18`, `ISO 14175-M21-ArC-18`, `ISO 14175 - R1-ArH-5`, `SG-AC-25`.
///
/// Case, spaces and hyphens are forgiven. A composition that belongs to another symbol is an error. Everyday names and plain
/// mixtures are understood: `C25`, `75/25`, `98% Ar 2% CO2`. Sources: ISO 14175:2008, clause on designation; AWS
/// A5.32/A5.32M:1997 (`SG-`), from memory.
pub fn parse(text: &str) -> Result<Gas, Unread> {
    by_symbol(text).or_else(|unread| {
        let composition = shielding_gases::everyday(text).map(NameRow::composition).or_else(|| mixture(text));
        let own = composition.and_then(|own| Some(Gas { row: classify(&own)?, composition: own }));
        own.filter(|_| matches!(unread, Unread::NoSymbol { .. })).ok_or(unread)
    })
}

/// Reads a symbol, with or without its components.
fn by_symbol(text: &str) -> Result<Gas, Unread> {
    let upper: String = text.to_uppercase().replace(['\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}'], "-");
    let mut words: Vec<&str> = upper.split(|c: char| c.is_whitespace() || "-_/:,".contains(c)).collect();
    words.retain(|word| !word.is_empty());
    let no_symbol = || Unread::NoSymbol { text: text.trim().to_owned() };
    let mut rest = words.as_slice();
    while let [first, tail @ ..] = rest {
        let edition = first.len() == 4 && (first.starts_with("19") || first.starts_with("20"));
        let introduces =
            matches!(*first, "EN" | "BS" | "DIN" | "ISO" | "AWS" | "14175" | "ISO14175" | "EN14175" | "A5.32");
        if !(introduces || (edition && rest.len() < words.len())) {
            break;
        }
        rest = tail;
    }
    let (&first, parts) = rest.split_first().ok_or_else(no_symbol)?;
    if let Some(glued) = first.strip_prefix("SG") {
        let parts: Vec<&str> =
            std::iter::once(glued).filter(|part| !part.is_empty()).chain(parts.iter().copied()).collect();
        let composition = components(text, &parts, AWS_LETTERS)?;
        let row = shielding_gases::classify(&composition).ok_or_else(no_symbol)?;
        return Ok(Gas { row, composition });
    }
    // `M21 (1)` of some editions and purities after the symbol such as `I1 4.6` say nothing of components.
    let row = shielding_gases::rows().iter().find(|row| row.symbol == first).ok_or_else(no_symbol)?;
    let parts: Vec<&str> = parts.iter().copied().filter(|part| !is_grade(part)).collect();
    if parts.is_empty() {
        return Ok(Gas { row, composition: pure(row) });
    }
    let composition = components(text, &parts, ISO_LETTERS)?;
    match shielding_gases::classify(&composition) {
        Some(own) if own == row || row.group == "Z" => Ok(Gas { row, composition }),
        Some(own) => Err(Unread::Contradiction { text: text.trim().to_owned(), symbol: own.symbol }),
        None => Err(no_symbol()),
    }
}

/// The gas with this designation: a symbol, ISO 14175 with or without composition, or AWS A5.32.
///
/// Case, spaces and hyphens are forgiven. What follows the symbol, as in `ISO 14175-M21-ArC-18`, does not count. Everyday names and
/// plain mixtures are understood: argon, C25, 98% Ar 2% CO2.
pub fn get(designation: &str) -> Option<&'static Row> {
    static KNOWN: find::Known<Option<&'static Row>> = find::Known::new();
    let designation = find::first(designation);
    let by = |symbol: &str| shielding_gases::rows().iter().find(|row| row.symbol.eq_ignore_ascii_case(symbol));
    let named = || designation.split([' ', '-', ':', ',']).find_map(by);
    KNOWN.of(designation, || parse(designation).ok().map(|gas| gas.row).or_else(named))
}

/// The symbol that a composition belongs to, from component names and volume percents: see [`shielding_gases::classify`].
///
/// Percents that do not come to 100, such as a purity of 99.99, are scaled to it. Source: ISO 14175:2008, table 2, as
/// the table `shielding-gases` gives it.
pub fn classify(composition: &[(&str, f64)]) -> Option<&'static Row> {
    let total: f64 = composition.iter().map(|(_, percent)| percent).sum();
    if !(total.is_finite() && total > 0.0 && composition.iter().all(|(_, percent)| *percent >= 0.0)) {
        return None;
    }
    let scaled: Vec<(&str, f64)> = composition.iter().map(|(name, percent)| (*name, percent * 100.0 / total)).collect();
    shielding_gases::classify(&scaled)
}

/// Names of the components in plain words, the longest first where one begins like another.
const PLAIN: &[(&str, &str)] = &[
    ("CARBON DIOXIDE", "CO2"),
    ("CO2", "CO2"),
    ("OXYGEN", "O2"),
    ("O2", "O2"),
    ("ARGON", "Ar"),
    ("AR", "Ar"),
    ("HELIUM", "He"),
    ("HE", "He"),
    ("NITROGEN", "N2"),
    ("N2", "N2"),
    ("HYDROGEN", "H2"),
    ("H2", "H2"),
];

/// A mixture in plain words: `80Ar-20CO2`, `75 % argon / 25 % CO2`, `Ar + 2% O2`; nothing for other words, and for percents that
/// do not come to 100.
///
/// Argon, else the first gas, is what is left where one gas has no percent.
pub fn mixture(text: &str) -> Option<Vec<(&'static str, f64)>> {
    let upper = text.to_uppercase();
    let (mut rest, mut gases, mut percents) = (upper.as_str(), Vec::new(), Vec::new());
    loop {
        rest = rest.trim_start_matches(|c: char| c.is_whitespace() || "%-/+,:;()&".contains(c));
        let digits = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
        let (number, after) = rest.split_at(digits);
        if !number.is_empty() {
            percents.push(number.parse::<f64>().ok()?);
            rest = after;
        } else if let Some((word, gas)) = PLAIN.iter().find(|(word, _)| rest.starts_with(word)) {
            gases.push(*gas);
            rest = rest.get(word.len()..)?;
        } else if rest.is_empty() {
            break;
        } else {
            let filling = ["BALANCE", "BAL.", "BAL", "REST", "AND"];
            rest = filling.iter().find_map(|word| rest.strip_prefix(word))?;
        }
    }
    if gases.len() == percents.len() + 1 {
        let balance = gases.iter().position(|gas| *gas == "Ar").unwrap_or(0);
        percents.insert(balance.min(percents.len()), 100.0 - percents.iter().sum::<f64>());
    }
    let sum: f64 = percents.iter().sum();
    let sound = gases.len() == percents.len() && percents.iter().all(|own| *own > 0.0);
    (sound && (99.0..=100.01).contains(&sum)).then(|| gases.into_iter().zip(percents).collect())
}

/// A purity such as `4.6` (99.996 %).
fn is_grade(part: &str) -> bool {
    matches!(part.as_bytes(), [a, b'.', b] if a.is_ascii_digit() && b.is_ascii_digit())
}

/// The composition of a symbol that stands for a pure gas; empty for a mixture.
fn pure(row: &Row) -> Vec<(&'static str, f64)> {
    let alone = row.components().into_iter().filter_map(|(name, range)| Some((name, range?)));
    let alone: Vec<(&'static str, f64)> =
        alone.filter(|(_, range)| range.is_single()).map(|(name, range)| (name, range.high)).collect();
    alone
}

/// Reads letters and percents: `ARHEC`, `30`, `10` is 60 % argon, 30 % helium, 10 % carbon dioxide.
fn components(
    text: &str,
    parts: &[&str],
    letters: &[(&str, &'static str)],
) -> Result<Vec<(&'static str, f64)>, Unread> {
    let fault = |part: &str| Unread::Components { text: text.trim().to_owned(), part: part.to_owned() };
    let written = parts.join("-");
    let at = written.find(|c: char| c.is_ascii_digit()).unwrap_or(written.len());
    let (mut names, numbers) = written.split_at(at);
    names = names.trim_end_matches('-');
    let percents: Result<Vec<f64>, _> =
        numbers.split('-').filter(|number| !number.is_empty()).map(str::parse::<f64>).collect();
    let percents = percents.map_err(|_| fault(numbers))?;
    let mut found: Vec<&'static str> = Vec::new();
    while !names.is_empty() {
        let (letter, name) =
            letters.iter().find(|(letter, _)| names.starts_with(letter)).ok_or_else(|| fault(names))?;
        if found.contains(name) {
            return Err(fault(names));
        }
        found.push(name);
        names = names.get(letter.len()..).unwrap_or_default().trim_start_matches('-');
    }
    let Some((&balance, others)) = found.split_first() else {
        return Err(fault(&written));
    };
    // The balance has no percent; every other component has one.
    if others.len() != percents.len() || percents.iter().any(|percent| !percent.is_finite() || *percent <= 0.0) {
        return Err(fault(&written));
    }
    let sum: f64 = percents.iter().sum();
    if sum >= 100.0 {
        return Err(Unread::Sum { text: text.trim().to_owned(), percent: sum });
    }
    let rest = others.iter().copied().zip(percents);
    Ok(std::iter::once((balance, 100.0 - sum)).chain(rest).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (&'static str, Vec<(&'static str, f64)>) {
        let gas = parse(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        (gas.symbol(), gas.composition)
    }

    // Examples of designation in ISO 14175:2008, clause 6 (from memory): ISO 14175-M21-ArC-18, I3-ArHe-30, R1-ArH-5,
    // M24-ArCO-10/3.
    #[test]
    fn designations_of_iso_14175_are_read() {
        for written in [
            "M21-ArC-18",
            "ISO 14175-M21-ArC-18",
            "ISO 14175 - M21 - ArC - 18",
            "m21 arc 18",
            "EN ISO 14175:2008-M21-ArC-18",
        ] {
            assert_eq!(read(written), ("M21", vec![("Ar", 82.0), ("CO2", 18.0)]), "{written}");
        }
        assert_eq!(read("I3-ArHe-30"), ("I3", vec![("Ar", 70.0), ("He", 30.0)]));
        assert_eq!(read("ISO 14175-R1-ArH-5"), ("R1", vec![("Ar", 95.0), ("H2", 5.0)]));
        assert_eq!(read("M24-ArCO-10/3"), ("M24", vec![("Ar", 87.0), ("CO2", 10.0), ("O2", 3.0)]));
        assert_eq!(read("M21-ArHeC-30/20"), ("M21", vec![("Ar", 50.0), ("He", 30.0), ("CO2", 20.0)]));
        assert_eq!(read("N2-ArN-2").0, "N2");
        assert_eq!(read("N5-NH-5"), ("N5", vec![("N2", 95.0), ("H2", 5.0)]));
        assert_eq!(read("I1"), ("I1", vec![("Ar", 100.0)]));
        assert_eq!(read("I1 4.6").0, "I1");
        assert_eq!(read("C1"), ("C1", vec![("CO2", 100.0)]));
        assert_eq!(read("M21"), ("M21", vec![]));
    }

    // AWS A5.32/A5.32M-97 (from memory): SG-A, SG-AC-25, SG-AHe-10, SG-AO-2, SG-AH-5, SG-C.
    #[test]
    fn designations_of_aws_a5_32_are_read() {
        assert_eq!(read("SG-AC-25"), ("M21", vec![("Ar", 75.0), ("CO2", 25.0)]));
        assert_eq!(read("SG-A"), ("I1", vec![("Ar", 100.0)]));
        assert_eq!(read("SG-C").0, "C1");
        assert_eq!(read("SG-He").0, "I2");
        assert_eq!(read("SG-AO-2").0, "M13");
        assert_eq!(read("SG-AHe-10").0, "I3");
        assert_eq!(read("AWS A5.32 SG-AH-5").0, "R1");
    }

    // Names that gas suppliers and shops use; a composition in words.
    #[test]
    fn everyday_names_and_plain_mixtures_are_read() {
        for written in
            ["C25", "75/25", "75 % Ar / 25 % CO2", "Ar/CO2 75/25", "argon 75%, CO2 25%", "75Ar-25CO2", "Ar + 25% CO2"]
        {
            assert_eq!(read(written).0, "M21", "{written}");
            let gas = parse(written).unwrap();
            assert!(gas.composition.contains(&("CO2", 25.0)) && gas.composition.contains(&("Ar", 75.0)), "{written}");
        }
        for (written, symbol) in [
            ("Ar", "I1"),
            ("100% argon", "I1"),
            ("Argon 99.99%", "I1"),
            ("100 % CO2", "C1"),
            ("98% Ar 2% O2", "M13"),
            ("CO2 18%, balance Ar", "M21"),
            ("90He-7.5Ar-2.5CO2", "M12"),
            ("25% He 75% Ar", "I3"),
        ] {
            assert_eq!(read(written).0, symbol, "{written}");
        }
        for written in ["75 Ar 20 CO2", "Ar CO2", "tri-mix", "98/2", "CO2 75/25"] {
            assert!(parse(written).is_err(), "{written}");
        }
    }

    #[test]
    fn what_is_no_gas_is_told_why() {
        assert!(matches!(parse(""), Err(Unread::NoSymbol { .. })));
        assert!(matches!(parse("X1"), Err(Unread::NoSymbol { .. })));
        assert!(matches!(parse("ISO 14175"), Err(Unread::NoSymbol { .. })));
        assert_eq!(parse("M20-ArC-18"), Err(Unread::Contradiction { text: "M20-ArC-18".into(), symbol: "M21" }));
        assert!(matches!(parse("M21-ArC"), Err(Unread::Components { .. })));
        assert!(matches!(parse("M21-ArX-18"), Err(Unread::Components { .. })));
        assert!(matches!(parse("M21-ArC-1e999"), Err(Unread::Components { .. })));
        assert!(matches!(parse("M21-ArCO-90/20"), Err(Unread::Sum { .. })));
        assert!(matches!(parse("SG-"), Err(Unread::Components { .. })));
    }

    #[test]
    fn compositions_are_scaled_before_they_are_classified() {
        assert_eq!(classify(&[("Ar", 99.99)]).map(|row| row.symbol), Some("I1"));
        assert_eq!(classify(&[("Ar", 82.0), ("CO2", 18.0)]).map(|row| row.symbol), Some("M21"));
        assert!(
            classify(&[("Ar", f64::NAN)]).is_none() && classify(&[("Ar", -1.0)]).is_none() && classify(&[]).is_none()
        );
    }
}
