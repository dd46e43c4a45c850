//! Designations of consumables, read by the systems of AWS A5 and ISO.
//!
//! [`parse`] reads the designation of a filler, [`gas::parse`] that of a shielding gas, [`tungsten::parse`] that of a
//! tungsten electrode. The grammar of each system stands in [`aws`] and [`iso`]; what a symbol means stands in the table
//! `designation-symbols`, so that a new alloy or covering is a row. To read another system, add a parser to `aws` or
//! `iso` and its line in `SYSTEMS`.

use std::fmt;

use crate::find;

pub mod aws;
mod filler;
pub mod gas;
pub mod iso;
mod listed;
mod reader;
pub mod symbols;
pub mod tungsten;

pub use filler::{Filler, Form, Shielding};

use filler::Stop;
use reader::Reader;

/// Why a designation could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unread {
    /// Nothing was written.
    Empty,
    /// No system that is known here begins like this.
    NoSystem {
        /// What was written.
        text: String,
    },
    /// A system was recognized, but something in it is not of that system.
    At {
        /// The standard.
        standard: &'static str,
        /// What was written.
        text: String,
        /// What is left from the place on that cannot be read; empty at the end.
        rest: String,
        /// What should stand there.
        expected: &'static str,
    },
}

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("the designation is empty"),
            Self::NoSystem { text } => write!(f, "`{text}` is no designation of AWS A5 or ISO that is known here"),
            Self::At { standard, text, rest, expected } if rest.is_empty() => {
                write!(f, "`{text}` ends where {standard} asks for {expected}")
            }
            Self::At { standard, text, rest, expected } => {
                write!(f, "`{text}` has `{rest}` where {standard} asks for {expected}")
            }
        }
    }
}

impl std::error::Error for Unread {}

type Parser = fn(&mut Reader) -> Result<Filler, Stop>;

/// One system: the standards that it reads, and how. A designation that two systems could read goes to the first.
struct System {
    standards: &'static [&'static str],
    parser: Parser,
}

const SYSTEMS: &[System] = &[
    System { standards: &["AWS A5.4"], parser: aws::stainless_covered },
    System { standards: &["ISO 2560-B"], parser: iso::covered_by_tensile },
    System { standards: &["AWS A5.1", "AWS A5.5"], parser: aws::covered },
    System { standards: &["AWS A5.18", "AWS A5.28"], parser: aws::steel_wire },
    System { standards: &["AWS A5.20", "AWS A5.29", "AWS A5.36"], parser: aws::steel_cored },
    System { standards: &["AWS A5.22"], parser: aws::stainless_cored },
    System { standards: &["AWS A5.17", "AWS A5.23"], parser: aws::wire_and_flux },
    System { standards: &["ISO 14172"], parser: iso::nickel_covered },
    System {
        standards: &[
            "AWS A5.7",
            "AWS A5.9",
            "AWS A5.10",
            "AWS A5.14",
            "AWS A5.15",
            "AWS A5.16",
            "AWS A5.19",
            "AWS A5.21",
            "AWS A5.24",
        ],
        parser: aws::bare,
    },
    System { standards: &["AWS A5.3", "AWS A5.6", "AWS A5.11", "AWS A5.15"], parser: aws::non_ferrous_covered },
    System { standards: &["ISO 2560-A", "ISO 18275-A"], parser: iso::covered },
    System { standards: &["ISO 3580-A"], parser: iso::creep_covered },
    System { standards: &["ISO 3581-A"], parser: iso::stainless_covered },
    System { standards: &["ISO 14341-A", "ISO 16834-A"], parser: iso::wire },
    System { standards: &["ISO 14341-B"], parser: iso::wire_by_tensile },
    System { standards: &["ISO 636-A"], parser: iso::rod },
    System { standards: &["ISO 21952-A"], parser: iso::creep_wire },
    System { standards: &["ISO 14343-A"], parser: iso::stainless_wire },
    System { standards: &["ISO 17632-A", "ISO 18276-A"], parser: iso::cored },
    System { standards: &["ISO 17632-B"], parser: iso::cored_by_tensile },
    System { standards: &["ISO 17634-A"], parser: iso::creep_cored },
    System { standards: &["ISO 17633-A"], parser: iso::stainless_cored },
    System { standards: &["ISO 14171-A"], parser: iso::wire_and_flux },
    System { standards: &["ISO 18273", "ISO 18274", "ISO 24034", "ISO 24373"], parser: iso::non_ferrous },
    System { standards: &["ISO 1071"], parser: iso::cast_iron },
];

/// Reads the designation of a filler, forgiving case, spaces and hyphens; the standard may stand before it.
///
/// Errors name the place that could not be read. Sources: the classification clauses of AWS A5.1 to A5.36 and of the ISO
/// standards that `SYSTEMS` lists, as the table `designation-symbols` gives them.
pub fn parse(text: &str) -> Result<Filler, Unread> {
    static KNOWN: find::Known<Result<Filler, Unread>> = find::Known::new();
    let text = find::first(text);
    KNOWN.of(text, || parse_anew(text))
}

fn parse_anew(text: &str) -> Result<Filler, Unread> {
    if text.trim().is_empty() {
        return Err(Unread::Empty);
    }
    let (standard, rest) = split_standard(text);
    if rest.is_empty() {
        return Err(Unread::NoSystem { text: text.trim().to_owned() });
    }
    let mut furthest: Option<(usize, Unread)> = None;
    for system in SYSTEMS.iter().filter(|system| standard.as_deref().is_none_or(|standard| system.is(standard))) {
        let mut reader = Reader::new(rest);
        match (system.parser)(&mut reader) {
            Ok(filler) => return Ok(filler),
            Err(stop) => {
                let unread = Unread::At {
                    standard: stop.standard,
                    text: text.trim().to_owned(),
                    rest: reader.rest(),
                    expected: stop.expected,
                };
                // A parser that read only a letter or two says nothing about the text.
                let told = standard.is_some() || reader.read() > 2;
                if told && furthest.as_ref().is_none_or(|(read, _)| *read < reader.read()) {
                    furthest = Some((reader.read(), unread));
                }
            }
        }
    }
    Err(furthest.map_or_else(|| Unread::NoSystem { text: text.trim().to_owned() }, |(_, unread)| unread))
}

impl System {
    /// Whether a standard as written, such as `ISO 2560` or `AWS A5.1`, means this system.
    fn is(&self, written: &str) -> bool {
        self.standards
            .iter()
            .any(|own| *own == written || own.strip_prefix(written).is_some_and(|part| part.starts_with('-')))
    }
}

/// The standard before a designation, normalized, and the designation: `EN ISO 2560-A - E 42 4 B 42 H5`.
fn split_standard(text: &str) -> (Option<String>, &str) {
    let text = text.trim();
    let strip = |text: &'_ str, word: &str| -> Option<usize> {
        text.get(..word.len()).filter(|head| head.eq_ignore_ascii_case(word)).map(|_| word.len())
    };
    let separators = |rest: &str| rest.len() - rest.trim_start_matches([' ', '-', ':', '/', '_', ',']).len();
    let mut at = 0;
    let mut named = false;
    loop {
        let rest = text.get(at..).unwrap_or_default();
        let Some(length) = ["ASME", "AWS", "SFA", "DIN", "BS", "EN", "ISO"].iter().find_map(|word| {
            let length = strip(rest, word)?;
            // `ENi-1` begins like `EN`: only a separator or a figure may follow, and after SFA a point or hyphen.
            let next = rest.get(length..)?.chars().next()?;
            (!next.is_alphabetic() || *word == "AWS").then_some(length)
        }) else {
            break;
        };
        at += length;
        at += separators(text.get(at..).unwrap_or_default());
        named = true;
    }
    let rest = text.get(at..).unwrap_or_default();
    let figures = |rest: &str| rest.chars().take_while(|c| c.is_ascii_digit() || *c == '.').count();
    // AWS A5.18, SFA-5.18, A5.18/A5.18M:2005
    let letter = usize::from(rest.starts_with(['A', 'a']));
    let number = figures(rest.get(letter..).unwrap_or_default());
    let written = rest.get(letter..letter + number).unwrap_or_default();
    if written.starts_with("5.") && (letter == 1 || named) {
        let mut end = letter + number;
        let tail = rest.get(end..).unwrap_or_default();
        if let Some(metric) = tail.find(['M', 'm']).filter(|metric| {
            tail.get(..*metric).is_some_and(|between| between.chars().all(|c| "/A.a0123456789".contains(c)))
        }) {
            end += metric + 1;
        }
        return (
            Some(format!("AWS A{}", written.trim_end_matches('.'))),
            after_year(rest.get(end..).unwrap_or_default()),
        );
    }
    if named {
        let number = rest.chars().take_while(char::is_ascii_digit).count();
        let mut standard = format!("ISO {}", rest.get(..number).unwrap_or_default());
        let mut tail = rest.get(number..).unwrap_or_default();
        if number >= 3 {
            for system in ["-A", "-B"] {
                if let Some(after) = tail.strip_prefix(system).filter(|after| !after.starts_with(char::is_alphanumeric))
                {
                    standard.push_str(system);
                    tail = after;
                    break;
                }
            }
            return (Some(standard), after_year(tail));
        }
        return (None, rest);
    }
    // The number alone: `2560-A E 42 4 B 42 H5`.
    let number = text.chars().take_while(char::is_ascii_digit).count();
    if number >= 3
        && let Some(tail) = text.get(number..)
        && let Some(system) = ["-A", "-B"].iter().find(|system| tail.starts_with(**system))
        && let Some(after) = tail.get(system.len()..).filter(|after| !after.starts_with(char::is_alphanumeric))
    {
        return (Some(format!("ISO {}{system}", text.get(..number).unwrap_or_default())), after_year(after));
    }
    if (4..=5).contains(&number) && text.get(number..).is_some_and(|tail| tail.starts_with(' ')) {
        return (
            Some(format!("ISO {}", text.get(..number).unwrap_or_default())),
            after_year(text.get(number..).unwrap_or_default()),
        );
    }
    (None, text)
}

/// A text without the year of an edition and the separators before it.
fn after_year(text: &str) -> &str {
    let text = match text.strip_prefix(':') {
        Some(rest) => rest.trim_start().trim_start_matches(|c: char| c.is_ascii_digit()),
        None => text,
    };
    text.trim_start_matches([' ', '-', ':', ','])
}

#[cfg(test)]
mod tests;
