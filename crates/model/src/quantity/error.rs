//! Why a text is refused as a quantity, in words.

use super::fault::{Fault, Side};
use super::list;
use super::parse::parse;
use super::unit::{Dimension, Unit};

/// What is wrong with a text that should state a quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ParseErrorKind {
    /// Nothing is written.
    Empty,
    /// The text does not start with a number.
    NoNumber,
    /// The number cannot be read.
    BadNumber,
    /// NaN or infinity.
    NotFinite,
    /// A comma stands where the decimal point is meant.
    DecimalComma,
    /// Thousands are set apart.
    ThousandsSeparator,
    /// More digits than are read.
    TooManyDigits,
    /// The unit is missing.
    MissingUnit,
    /// The unit is not known.
    UnknownUnit,
    /// The unit belongs to another quantity.
    OtherQuantity,
    /// The ends of a range have different units.
    UnitsDiffer,
    /// A range runs from high to low.
    HighToLow,
    /// Below zero, or below absolute zero.
    BelowLowest,
    /// `minimum` or `maximum` stands in the wrong place.
    SidePlace,
    /// More numbers than a range has.
    TooManyNumbers,
    /// Something follows the unit.
    TextAfterUnit,
}

/// Why a text is refused as a quantity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParseError {
    kind: ParseErrorKind,
    message: Box<str>,
    hint: Box<str>,
}

/// A text with a nought before each point that has no digit there, and without points after which none stands.
fn with_digits_around_points(text: &str) -> String {
    let digit = |character: Option<char>| character.is_some_and(|own| own.is_ascii_digit());
    let mut whole = String::new();
    let mut rest = text.chars().peekable();
    while let Some(character) = rest.next() {
        if character != '.' {
            whole.push(character);
        } else if digit(rest.peek().copied()) {
            whole.push_str(if digit(whole.chars().last()) { "." } else { "0." });
        } else if !digit(whole.chars().last()) {
            whole.push('.');
        }
    }
    whole
}

impl ParseError {
    /// What is wrong.
    pub fn kind(&self) -> ParseErrorKind {
        self.kind
    }

    /// What was found, lower case, no full stop.
    pub fn message(&self) -> &str {
        &self.message
    }

    /// What to write, with examples.
    pub fn hint(&self) -> &str {
        &self.hint
    }
}

impl std::fmt::Display for ParseError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}; {}", self.message, self.hint)
    }
}

impl std::error::Error for ParseError {}

impl ParseError {
    /// Puts a fault in words; without a dimension any quantity is meant.
    pub(super) fn new(dimension: Option<&'static Dimension>, text: &str, fault: Fault) -> Self {
        use ParseErrorKind as Kind;
        let found = quoted(text);
        let text = text.trim();
        let [one, two] = dimension.map_or(["2.4 mm", "90-120 A"], |dimension| dimension.examples);
        let name = dimension.map_or("quantity", |dimension| dimension.name);
        let a_name = dimension.map_or_else(|| "a quantity".to_owned(), Dimension::with_article);
        let like = format!("for example `{one}` or `{two}`");
        let write = format!("write {a_name}, {like}");
        let (kind, message, hint) = match fault {
            Fault::Empty => (Kind::Empty, format!("nothing is written where {a_name} is meant"), write),
            Fault::TooLong => (Kind::TooManyDigits, format!("{found} is too long for {a_name}"), write),
            Fault::NoNumber => {
                let bare = text.trim_matches(|mark| matches!(mark, '"' | '\'' | '\u{2018}'..='\u{201f}' | '«' | '»'));
                let quoted = bare.len() < text.len() && bare.starts_with(|first: char| first.is_ascii_digit());
                let hint = if quoted { format!("write `{}`", clip(bare.trim())) } else { write };
                (Kind::NoNumber, format!("{found} does not start with a number"), hint)
            }
            Fault::NoSecondNumber => (
                Kind::NoNumber,
                format!("{found} has no number after the dash"),
                format!("write both ends, or one value, {like}"),
            ),
            Fault::NotANumber => (Kind::BadNumber, format!("{found} has a number that cannot be read"), write),
            Fault::NotFinite => (Kind::NotFinite, format!("{found} is not a finite number"), write),
            Fault::BarePoint => (
                Kind::BadNumber,
                format!("{found} has a decimal point without digits on both sides"),
                format!("write `{}`", clip(&with_digits_around_points(text))),
            ),
            Fault::Dots => (
                Kind::BadNumber,
                format!("{found} has dots where a dash is meant"),
                written(dimension, &[dashes(text)])
                    .unwrap_or_else(|| "write a range with a dash or `to`, for example `90-120 A`".to_owned()),
            ),
            Fault::PlusSign => (
                Kind::BadNumber,
                format!("{found} has a plus sign"),
                format!("leave the sign out: write `{}`", clip(text.trim_start_matches('+').trim_start())),
            ),
            Fault::Exponent => (
                Kind::BadNumber,
                format!("{found} has a number with an exponent"),
                "write all the digits, for example `1500` for `1.5e3`".to_owned(),
            ),
            Fault::ImproperFraction => (
                Kind::BadNumber,
                format!("{found} has a fraction of one or more after a whole number"),
                "write a fraction below one after the whole number, for example `1 1/4 in`".to_owned(),
            ),
            Fault::ZeroDenominator => {
                (Kind::BadNumber, format!("{found} has a fraction with nothing below the stroke but zero"), write)
            }
            Fault::Tolerance => (
                Kind::BadNumber,
                format!("{found} has a tolerance"),
                written(dimension, &[both_ends(text).unwrap_or_default()])
                    .unwrap_or_else(|| "write the lowest and the highest value with a dash between them".to_owned()),
            ),
            Fault::Approximate => {
                (Kind::BadNumber, format!("{found} is not exact"), format!("write one value or a range, {like}"))
            }
            Fault::DecimalComma => {
                (Kind::DecimalComma, format!("{found} has a decimal comma"), format!("write `{}`", points(text)))
            }
            Fault::CommaOfThousands => (
                Kind::ThousandsSeparator,
                format!("{found} has a comma that may mean a decimal point or thousands"),
                format!("write `{}` or `{}`", without(text, ','), points(text)),
            ),
            Fault::GapOfThousands => (
                Kind::ThousandsSeparator,
                format!("{found} has a space inside a number"),
                format!("write the digits together, `{}`; a range has a dash", closed(text)),
            ),
            Fault::MarkOfThousands => {
                let together: String =
                    clip(text).chars().filter(|character| !matches!(character, '\'' | '’' | '_')).collect();
                (
                    Kind::ThousandsSeparator,
                    format!("{found} has a mark between thousands"),
                    format!("write the digits together, `{together}`"),
                )
            }
            Fault::TooManyDigits => (
                Kind::TooManyDigits,
                format!("{found} has more digits than a {name} is read with"),
                "write at most 12 digits, and at most 6 in each part of a fraction".to_owned(),
            ),
            Fault::MissingUnit => {
                // Sizes in fractions, and those without a digit before the point, are in inches.
                let inches = name == "length" && (text.contains('/') || text.trim_start().starts_with('.'));
                let part = text.trim().parse::<f64>().ok().filter(|own| *own < 1.0);
                let hint = match (name, part) {
                    _ if inches => format!("write `{}`", with_unit(text, "in")),
                    ("current", _) => format!("write `{}`", with_unit(text, "A")),
                    ("voltage", _) => format!("write `{}`", with_unit(text, "V")),
                    ("share", Some(part)) => format!("write `{} %`", (part * 1e4).round() / 1e2),
                    ("share", None) => format!("write `{} %`", clip(text)),
                    _ => {
                        let both = dimension.and_then(|own| written(Some(own), &with_units(own, text)));
                        let like = both.map_or(like, |both| both.replacen("write", "for example", 1));
                        format!("write {a_name} with its unit, {like}")
                    }
                };
                (Kind::MissingUnit, format!("{found} has no unit"), hint)
            }
            Fault::UnknownUnit(unit) => (
                Kind::UnknownUnit,
                match dimension {
                    Some(dimension) => format!("{found}: {} is not a unit of {}", quoted(&unit), dimension.name),
                    None => format!("{found}: {} is not a unit", quoted(&unit)),
                },
                unit_hint(dimension, &unit, &write),
            ),
            Fault::TextAfterUnit(rest) => (
                Kind::TextAfterUnit,
                format!("{found} has {} after the unit", quoted(&rest)),
                match dimension {
                    Some(dimension) if dimension.format == "length" && of_pipe(&rest) => PIPE.to_owned(),
                    _ => format!("write one value or one range and nothing after it, {like}"),
                },
            ),
            Fault::OtherQuantity(other) => {
                let hint = if text.ends_with("min") && other.format == "time-span" {
                    format!("{write}; for a lowest value write the unit before `minimum`")
                } else {
                    write
                };
                (Kind::OtherQuantity, format!("{found} is {}, {a_name} is meant", other.with_article()), hint)
            }
            Fault::UnitsDiffer => (
                Kind::UnitsDiffer,
                format!("{found} has two different units"),
                format!("write both ends in one unit, and the unit once, {like}"),
            ),
            Fault::FeetAndInches(inches) => (
                Kind::UnitsDiffer,
                format!("{found} is in feet and inches"),
                format!("write it in one unit: `{inches} in`"),
            ),
            Fault::HighToLow(hint) => (Kind::HighToLow, format!("{found} runs from high to low"), hint),
            Fault::BelowLowest => (
                Kind::BelowLowest,
                if dimension.is_some_and(|dimension| dimension.lowest.is_some_and(|(numerator, _)| numerator < 0)) {
                    format!("{found} is below absolute zero")
                } else {
                    format!("{found} is below zero, which {a_name} cannot be")
                },
                write,
            ),
            Fault::SideBeforeUnit => (
                Kind::SidePlace,
                format!("{found} has a word before the unit"),
                "write the unit, then the word, for example `10 °C minimum` or `250 °C maximum`".to_owned(),
            ),
            Fault::SideInFront(side) => {
                let value = text.trim_start_matches(|character: char| !character.is_ascii_digit());
                let word = if side == Side::Minimum { "minimum" } else { "maximum" };
                let hint = if value.is_empty() { write } else { format!("write `{} {word}`", clip(value)) };
                (Kind::SidePlace, format!("{found} has a limit before the number"), hint)
            }
            Fault::SideOnRange => (
                Kind::SidePlace,
                format!("{found} has both ends, and a word for an open end"),
                format!("write a range without the word, or one value with it, {like}"),
            ),
            Fault::TwoDimensions => (
                Kind::TooManyNumbers,
                format!("{found} has two sizes where {a_name} is meant"),
                format!("write one size here, {like}"),
            ),
            Fault::TwoNumbers => (
                Kind::TooManyNumbers,
                format!("{found} has two numbers side by side"),
                format!("write one value, or a range with a dash, {like}"),
            ),
            Fault::ThreeNumbers => (
                Kind::TooManyNumbers,
                format!("{found} has more than two numbers"),
                format!("write one value or one range, {like}"),
            ),
        };
        Self { kind, message: message.into(), hint: hint.into() }
    }

    /// The refusal of a unit in which `dimension` cannot be given.
    pub(super) fn target_unit(dimension: &'static Dimension, unit: &str) -> Self {
        let units = list(dimension);
        let message = match list::find_unit(unit) {
            Some((other, _)) => format!("{} is a unit of {}, not of {}", quoted(unit), other.name, dimension.name),
            None => format!("{} is not a unit of {}", quoted(unit), dimension.name),
        };
        let kind =
            if list::find_unit(unit).is_some() { ParseErrorKind::OtherQuantity } else { ParseErrorKind::UnknownUnit };
        Self { kind, message: message.into(), hint: format!("the units of {} are {units}", dimension.name).into() }
    }

    /// The refusal of a value too great to convert.
    pub(super) fn overflow(text: &str) -> Self {
        Self::new(None, text, Fault::TooManyDigits)
    }
}

const PIPE: &str = "write the wall itself, for example `7.1 mm` or `0.280 in`, and the outside diameter; `seamwright table pipe-schedules` lists pipes";

/// Whether a word is one of a pipe's designation.
fn of_pipe(word: &str) -> bool {
    let word = word.to_ascii_lowercase();
    word.starts_with("sch") || word.contains(" sch") || word.starts_with("nps") || word.starts_with("dn")
}

fn unit_hint(dimension: Option<&'static Dimension>, unit: &str, write: &str) -> String {
    // Sizes by number stand in tables: the same number is another thickness for another metal or diameter.
    let word = unit.to_ascii_lowercase();
    if dimension.is_some_and(|dimension| dimension.format == "length") {
        if word.starts_with("ga") || word.starts_with("swg") {
            return "write the thickness itself, for example `1.5 mm` or `0.060 in`; `seamwright table sheet-gauges` lists gauges".to_owned();
        }
        if of_pipe(&word) {
            return PIPE.to_owned();
        }
    }
    let of_clock = word.starts_with(':') || ["am", "pm", "a.m", "p.m"].iter().any(|own| word.starts_with(own));
    if of_clock && dimension.is_some_and(|dimension| dimension.format == "time-span") {
        return "write how long it is, for example `8.5 h`, and not from when to when".to_owned();
    }
    if let Some(hint) = dimension.and_then(|dimension| stranger(dimension, &word)) {
        return hint;
    }
    let nearest = match dimension {
        Some(dimension) => known_slip(dimension, unit).or_else(|| nearest(dimension, unit)),
        None => list::DIMENSIONS
            .iter()
            .find_map(|dimension| known_slip(dimension, unit))
            .or_else(|| list::DIMENSIONS.iter().find_map(|dimension| nearest(dimension, unit))),
    };
    let (write, units) = match (dimension, nearest) {
        (Some(dimension), Some(near)) if dimension.units.len() == 1 => return format!("write `{near}`"),
        (Some(dimension), Some(near)) => (format!("write `{near}`"), list(dimension)),
        (Some(dimension), None) => (write.to_owned(), list(dimension)),
        (None, Some(near)) => return format!("write `{near}`"),
        (None, None) => return write.to_owned(),
    };
    match dimension {
        Some(dimension) if dimension.units.len() > 1 => {
            format!("{write}; the units of {} are {units}", dimension.name)
        }
        Some(dimension) => format!("{write}; the unit of {} is {units}", dimension.name),
        None => write,
    }
}

fn spellings(unit: &Unit) -> impl Iterator<Item = &'static str> {
    std::iter::once(unit.symbol).chain(unit.aliases.iter().copied())
}

/// The unit that a well-known wrong spelling means.
fn known_slip(dimension: &Dimension, text: &str) -> Option<&'static str> {
    let slip =
        |unit: &&Unit| unit.near.contains(&text) || spellings(unit).any(|known| known.eq_ignore_ascii_case(text));
    dimension.units.iter().find(slip).map(|unit| unit.symbol)
}

/// The unit that a wrong spelling comes nearest to, if any comes near.
fn nearest(dimension: &Dimension, text: &str) -> Option<&'static str> {
    let text: String = text.chars().take(24).collect();
    // One slip in three characters; shorter spellings are all near to each other.
    let near = |unit: &'static Unit| {
        spellings(unit).chain(unit.near.iter().copied()).filter_map(|known| {
            let distance = strsim::osa_distance(known, &text);
            (distance * 3 <= known.chars().count()).then_some((distance, unit.symbol))
        })
    };
    // A mark for inches never means a metric unit.
    let inches = text.starts_with(['"', '″', '“', '”']) || text.starts_with("''");
    let units = dimension.units.iter().filter(|unit| !inches || unit.symbol.starts_with("in"));
    let all: Vec<(usize, &'static str)> = units.flat_map(near).collect();
    let (least, symbol) = *all.iter().min_by_key(|(distance, _)| *distance)?;
    // As near to another unit: nobody knows which is meant.
    let others =
        dimension.units.iter().filter(|unit| unit.symbol != symbol && (!inches || unit.symbol.starts_with("in")));
    let others = others.flat_map(spellings);
    { others }.all(|known| strsim::osa_distance(known, &text) > least).then_some(symbol)
}

/// Units in use that are not read, with one that is and what they are in it, exactly; none of them is a slip for another.
const STRANGERS: &[(&[&str], &str, &str)] = &[
    (&["ft/min", "fpm", "'/min", "feet/min", "ft/m"], "in/min", "1 ft/min is 12 in/min"),
    (&["in/s", "ips", "in/sec", "\"/s", "inch/s"], "in/min", "1 in/s is 60 in/min"),
    (&["m/s", "m/sec"], "m/min", "1 m/s is 60 m/min"),
    (&["mm/h", "in/h", "m/h"], "mm/min", "60 in an hour are 1 in a minute"),
    (&["cfm", "scfm", "ft3/min", "ft\u{b3}/min"], "cfh", "1 cfm is 60 cfh"),
    (&["l/h", "l/hr", "lph"], "L/min", "60 L/h are 1 L/min"),
    (&["yd", "yard", "yards"], "ft", "1 yd is 3 ft"),
    (&["mil", "mils", "thou"], "in", "1 thou is 0.001 in"),
    (&["\u{b5}m", "\u{3bc}m", "um", "micron", "microns"], "mm", "1 micron is 0.001 mm"),
    (&["ka"], "A", "1 kA is 1000 A"),
    (&["ma"], "A", "1000 mA are 1 A"),
    (&["kv"], "V", "1 kV is 1000 V"),
    (&["mv"], "V", "1000 mV are 1 V"),
    (&["oz", "ounce", "ounces"], "lb", "16 oz are 1 lb"),
    (&["gal", "gallon", "gallons"], "L", "1 US gallon is 3.785 L"),
];

/// What a unit is that is in use and not read, in one that is.
fn stranger(dimension: &Dimension, word: &str) -> Option<String> {
    let of_kind = |own: &&(&[&str], &str, &str)| own.0.contains(&word) && dimension.unit(own.1).is_some();
    let (_, unit, what) = STRANGERS.iter().find(of_kind)?;
    Some(format!("write it in `{unit}`: {what}"))
}

fn list(dimension: &Dimension) -> String {
    let names: Vec<String> = dimension.units.iter().map(|unit| format!("`{}`", unit.symbol)).collect();
    match names.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}

/// What can be written: the texts that are read as they stand; nothing where one of them is not.
fn written(dimension: Option<&'static Dimension>, texts: &[String]) -> Option<String> {
    let read = |text: &String| match dimension {
        Some(dimension) => parse(dimension, text).is_ok(),
        None => false,
    };
    let quoted: Vec<String> = texts.iter().map(|text| format!("`{text}`")).collect();
    texts.iter().all(read).then(|| format!("write {}", quoted.join(" or ")))
}

/// A number with a unit, and the word for an open end behind both: `1/8 max` is `1/8 in maximum`.
fn with_unit(text: &str, unit: &str) -> String {
    let figures = text.trim_end_matches(|own: char| !own.is_ascii_digit());
    match text.get(figures.len()..).unwrap_or_default().trim() {
        "max" | "max." | "maximum" => format!("{} {unit} maximum", clip(figures)),
        "min" | "min." | "minimum" => format!("{} {unit} minimum", clip(figures)),
        _ => format!("{} {unit}", clip(text)),
    }
}

/// A number without a unit in those of both systems: `3 mm` and `3 in`.
fn with_units(dimension: &Dimension, text: &str) -> Vec<String> {
    let figures = clip(text.trim_end_matches(|own: char| !own.is_ascii_digit()));
    let side = text.get(figures.len()..).unwrap_or_default();
    let mut units = vec![dimension.si.symbol, dimension.us.symbol];
    units.dedup();
    units.iter().map(|unit| format!("{figures} {unit}{side}")).collect()
}

/// A range with dots between its ends as one with a dash.
fn dashes(text: &str) -> String {
    let (low, high) = text.split_once("..").unwrap_or((text, ""));
    format!("{}-{}", low.trim(), high.trim_start_matches('.').trim())
}

/// A value and how far it may be off as the range that both mean: `2 mm +/- 0.1` is `1.9-2.1 mm`.
fn both_ends(text: &str) -> Option<String> {
    let text = text.replace("+/-", "±").replace("+-", "±");
    let (value, off) = text.split_once('±')?;
    let parts = |text: &str| {
        let text = text.trim();
        let end = text.find(|own: char| !own.is_ascii_digit() && own != '.').unwrap_or(text.len());
        let (figures, unit) = text.split_at_checked(end)?;
        let places = figures.split_once('.').map_or(0, |(_, after)| after.len());
        Some((figures.parse::<f64>().ok()?, places, unit.trim().to_owned()))
    };
    let ((value, one, unit), (off, other, second)) = (parts(value)?, parts(off)?);
    let unit = match (unit.as_str(), second.as_str()) {
        ("", own) | (own, "") => own,
        (own, other) if own == other => own,
        _ => return None,
    };
    let places = one.max(other);
    Some(format!("{:.places$}-{:.places$} {unit}", value - off, value + off))
}

/// At most 40 characters, none of which moves the cursor or the reading direction.
fn clip(text: &str) -> String {
    let mut clipped: String = text
        .chars()
        .take(40)
        .map(|character| if crate::source::hidden(character) { '\u{fffd}' } else { character })
        .collect();
    if text.chars().nth(40).is_some() {
        clipped.push('…');
    }
    clipped
}

fn quoted(text: &str) -> String {
    format!("`{}`", clip(text.trim()))
}

/// The text with points for commas.
fn points(text: &str) -> String {
    clip(text).replace(',', ".")
}

fn without(text: &str, mark: char) -> String {
    clip(text).replace(mark, "")
}

/// The text without white space between digits.
fn closed(text: &str) -> String {
    let clipped = clip(text);
    let mut result = String::new();
    let mut rest = clipped.as_str();
    while let Some(character) = rest.chars().next() {
        rest = rest.get(character.len_utf8()..).unwrap_or_default();
        let between = character.is_whitespace()
            && result.ends_with(|last: char| last.is_ascii_digit())
            && rest.starts_with(|next: char| next.is_ascii_digit());
        if !between {
            result.push(character);
        }
    }
    result
}
