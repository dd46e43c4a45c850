//! Splits the text of a quantity into its parts: numbers, then a unit, perhaps `minimum` or `maximum`.
//!
//! It knows no quantity, and allocates nothing.

use super::fault::{Fault, Side};

/// Longest text that is read, in bytes.
const LONGEST: usize = 120;
/// Most digits of a decimal number; with it no ordinary unit can overflow.
const DECIMAL_DIGITS: usize = 12;
/// Most digits of each part of a fraction.
const FRACTION_DIGITS: usize = 6;

/// Fractions that are one character, with their parts.
const FRACTIONS: [(char, i128, i128); 7] =
    [('¼', 1, 4), ('½', 1, 2), ('¾', 3, 4), ('⅛', 1, 8), ('⅜', 3, 8), ('⅝', 5, 8), ('⅞', 7, 8)];

/// A number as written; the denominator is at least one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Number<'t> {
    pub numerator: i128,
    pub denominator: i128,
    pub text: &'t str,
    pub shape: Shape,
}

/// How a number is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    /// A decimal number or a fraction.
    Plain,
    /// A whole number and a fraction, which starts at this byte.
    Mixed { part: usize },
}

/// The parts of a text.
#[derive(Debug, Clone, Copy)]
pub(super) struct Parts<'t> {
    pub first: Number<'t>,
    pub second: Option<Number<'t>>,
    /// The unit after the first number, where it has its own.
    pub first_unit: Option<&'t str>,
    /// The unit; empty where it is missing.
    pub unit: &'t str,
    pub side: Option<Side>,
}

/// Splits a text into numbers, units and side.
pub(super) fn split(text: &str) -> Result<Parts<'_>, Fault> {
    if text.len() > LONGEST {
        return Err(Fault::TooLong);
    }
    let text = unquoted(text.trim());
    if text.is_empty() {
        return Err(Fault::Empty);
    }
    let (first, rest) = number(text)?;
    let rest = rest.trim_start();
    if let Some(after) = after_dash(rest) {
        let (second, rest) = number(after).map_err(|fault| match fault {
            Fault::NoNumber => Fault::NoSecondNumber,
            other => other,
        })?;
        let rest = rest.trim_start();
        if after_dash(rest).is_some_and(starts_number) {
            return Err(Fault::ThreeNumbers);
        }
        let (unit, side) = tail(rest)?;
        return Ok(Parts { first, second: Some(second), first_unit: None, unit, side });
    }
    let (unit, side) = tail(rest)?;
    if let Some((first_unit, second, rest)) = second_after_unit(rest)? {
        let (unit, side) = tail(rest)?;
        return Ok(Parts { first, second: Some(second), first_unit: Some(first_unit), unit, side });
    }
    Ok(Parts { first, second: None, first_unit: None, unit, side })
}

/// The text between the quotation marks that a word processor puts around it: `“2 mm”`.
pub(super) fn unquoted(text: &str) -> &str {
    let inside = text.strip_prefix(['“', '”', '„', '‘', '«']);
    inside.and_then(|inside| inside.strip_suffix(['”', '“', '’', '‘', '»'])).map_or(text, str::trim)
}

/// A unit, the number after it, and the rest.
type UnitNumberRest<'t> = (&'t str, Number<'t>, &'t str);

/// Splits ` A - 120 A` after the first number, if the unit stands on both sides.
fn second_after_unit(tail: &str) -> Result<Option<UnitNumberRest<'_>>, Fault> {
    if !tail.bytes().any(|byte| byte.is_ascii_digit()) {
        return Ok(None);
    }
    for (at, _) in tail.char_indices().skip(1) {
        // `at` is a character boundary: cannot fail.
        let (before, here) = tail.split_at(at);
        let Some(after) = after_dash(here) else { continue };
        // The word `to` needs a space before it, a dash does not.
        if (here.starts_with(['t', 'T']) && !before.ends_with(char::is_whitespace)) || !starts_number(after) {
            continue;
        }
        if before.ends_with(['+', '/']) {
            return Err(Fault::Tolerance);
        }
        let (second, rest) = number(after)?;
        return Ok(Some((before.trim(), second, rest.trim_start())));
    }
    Ok(None)
}

/// The unit, and the side in words after it.
fn tail(rest: &str) -> Result<(&str, Option<Side>), Fault> {
    let rest = rest.trim_end();
    let mut characters = rest.chars();
    match characters.next() {
        Some('±' | '+') => return Err(Fault::Tolerance),
        Some('x' | 'X' | '×') if starts_number(characters.as_str().trim_start()) => {
            return Err(Fault::TwoDimensions);
        }
        Some('.' | '…' | '~' | '/') => return Err(Fault::NotANumber),
        Some(character) if character.is_ascii_digit() => return Err(Fault::NotANumber),
        _ => {}
    }
    let split = rest.char_indices().rev().find(|(_, character)| character.is_whitespace());
    if let Some((at, space)) = split
        && let Some(side) = rest.get(at + space.len_utf8()..).and_then(side_of)
    {
        return Ok((rest.get(..at).unwrap_or_default().trim_end(), Some(side)));
    }
    // `min` alone is the minute; the longer words cannot be a unit.
    match side_of(rest) {
        Some(side) if rest != "min" => Ok(("", Some(side))),
        _ => Ok((rest, None)),
    }
}

pub(super) fn side_of(word: &str) -> Option<Side> {
    const WORDS: [(&str, Side); 6] = [
        ("minimum", Side::Minimum),
        ("min", Side::Minimum),
        ("min.", Side::Minimum),
        ("maximum", Side::Maximum),
        ("max", Side::Maximum),
        ("max.", Side::Maximum),
    ];
    if !word.starts_with(['m', 'M']) {
        return None;
    }
    WORDS.iter().find(|(known, _)| word.eq_ignore_ascii_case(known)).map(|(_, side)| *side)
}

/// Hyphens that may join the parts of a mixed number.
fn is_hyphen(character: char) -> bool {
    matches!(character, '-' | '\u{2010}' | '\u{2011}')
}

pub(super) fn is_minus(character: char) -> bool {
    is_hyphen(character) || matches!(character, '\u{2013}' | '\u{2212}')
}

/// What follows the dash, or the word `to`, of a range; trimmed.
fn after_dash(text: &str) -> Option<&str> {
    let mut characters = text.chars();
    match characters.next()? {
        '-' | '\u{2010}'..='\u{2015}' | '\u{2212}' => Some(characters.as_str().trim_start()),
        't' | 'T' => {
            let rest = characters.as_str().strip_prefix(['o', 'O'])?;
            (rest.starts_with(char::is_whitespace) || starts_number(rest)).then(|| rest.trim_start())
        }
        _ => None,
    }
}

fn starts_number(text: &str) -> bool {
    let text = text.strip_prefix(is_minus).unwrap_or(text);
    starts_digit(text) || decimals_alone(text).is_some() || sign_of_fraction(text).is_some()
}

/// What follows a point that has no digit before it: `.045`.
fn decimals_alone(text: &str) -> Option<&str> {
    text.strip_prefix('.').filter(|rest| starts_digit(rest))
}

/// A fraction of one character at the start of a text: its parts, and the rest.
pub(super) fn sign_of_fraction(text: &str) -> Option<(i128, i128, &str)> {
    let mut after = text.chars();
    let first = after.next()?;
    FRACTIONS.iter().find(|(sign, ..)| *sign == first).map(|(_, above, below)| (*above, *below, after.as_str()))
}

fn starts_digit(text: &str) -> bool {
    text.bytes().next().is_some_and(|byte| byte.is_ascii_digit())
}

/// Reads digits: their value, how many there are without leading zeros, and the rest.
fn digits(text: &str, most: usize) -> Result<(i128, &str), Fault> {
    let count = text.bytes().take_while(u8::is_ascii_digit).count();
    // ASCII digits end at a character boundary: cannot fail.
    let (run, rest) = text.split_at(count);
    let mut value: i64 = 0;
    let mut significant = 0;
    for byte in run.bytes() {
        significant += usize::from(significant > 0 || byte != b'0');
        if significant > most {
            return Err(Fault::TooManyDigits);
        }
        value = value * 10 + i64::from(byte - b'0');
    }
    Ok((i128::from(value), rest))
}

fn length_to(text: &str, rest: &str) -> usize {
    text.len().saturating_sub(rest.len())
}

/// Reads one number from the start of `text`; gives it and the rest.
pub(super) fn number(text: &str) -> Result<(Number<'_>, &str), Fault> {
    let unsigned = text.strip_prefix(is_minus).unwrap_or(text);
    let sign = if unsigned.len() < text.len() { -1 } else { 1 };
    let made = |numerator: i128, denominator: i128, shape: Shape, rest| {
        let (text, rest): (&str, &str) = text.split_at(length_to(text, rest));
        (Number { numerator: sign * numerator, denominator, text, shape }, rest)
    };
    if let Some((above, below, rest)) = sign_of_fraction(unsigned) {
        end_of_number(rest)?;
        return Ok(made(above, below, Shape::Plain, rest));
    }
    if !starts_digit(unsigned) && decimals_alone(unsigned).is_none() {
        return Err(no_number(unsigned));
    }
    let (whole, rest) = digits(unsigned, DECIMAL_DIGITS)?;
    let part = rest.strip_prefix(is_hyphen).unwrap_or_else(|| rest.trim_start());
    if let Some((above, below, end)) = sign_of_fraction(part) {
        end_of_number(end)?;
        if whole >= 1_000_000 {
            return Err(Fault::TooManyDigits);
        }
        let shape = Shape::Mixed { part: length_to(text, part) };
        return Ok(made(whole * below + above, below, shape, end));
    }
    let mut after = rest.chars();
    let next = after.next();
    match next {
        Some('.') => {
            let rest = after.as_str();
            let places = rest.bytes().take_while(u8::is_ascii_digit).count();
            if places == 0 {
                return Err(if rest.starts_with('.') { Fault::Dots } else { Fault::BarePoint });
            }
            if places + decimal_length(whole) > DECIMAL_DIGITS {
                return Err(Fault::TooManyDigits);
            }
            let (decimals, rest) = digits(rest, DECIMAL_DIGITS)?;
            end_of_number(rest)?;
            // At most 12 places: cannot overflow.
            let power = 10_i128.pow(u32::try_from(places).unwrap_or(0));
            Ok(made(whole * power + decimals, power, Shape::Plain, rest))
        }
        Some(',') if starts_digit(after.as_str()) => {
            let decimals = after.as_str().bytes().take_while(u8::is_ascii_digit).count();
            Err(if decimals == 3 { Fault::CommaOfThousands } else { Fault::DecimalComma })
        }
        Some('/') if starts_digit(after.as_str()) => {
            let (denominator, rest) = denominator(after.as_str())?;
            if whole >= 1_000_000 {
                return Err(Fault::TooManyDigits);
            }
            Ok(made(whole, denominator, Shape::Plain, rest))
        }
        Some(gap) if gap.is_whitespace() || is_hyphen(gap) => {
            let spaced = gap.is_whitespace();
            let part = if spaced { after.as_str().trim_start() } else { after.as_str() };
            if spaced && let Some(below) = stroke(part) {
                let (denominator, rest) = denominator(below)?;
                if whole >= 1_000_000 {
                    return Err(Fault::TooManyDigits);
                }
                return Ok(made(whole, denominator, Shape::Plain, rest));
            }
            let Some((numerator, slash)) = leading_fraction(part)? else {
                return if spaced && starts_digit(part) {
                    Err(if part.bytes().take_while(u8::is_ascii_digit).count() == 3 {
                        Fault::GapOfThousands
                    } else {
                        Fault::TwoNumbers
                    })
                } else {
                    Ok(made(whole, 1, Shape::Plain, rest))
                };
            };
            let (denominator, end) = denominator(slash)?;
            if numerator >= denominator || (!spaced && whole == 0) {
                return if spaced { Err(Fault::ImproperFraction) } else { Ok(made(whole, 1, Shape::Plain, rest)) };
            }
            if whole >= 1_000_000 {
                return Err(Fault::TooManyDigits);
            }
            let shape = Shape::Mixed { part: length_to(text, part) };
            Ok(made(whole * denominator + numerator, denominator, shape, end))
        }
        _ => {
            end_of_number(rest)?;
            Ok(made(whole, 1, Shape::Plain, rest))
        }
    }
}

fn decimal_length(whole: i128) -> usize {
    whole.checked_ilog10().map_or(0, |power| power as usize + 1)
}

/// The numerator of a fraction at the start of `text` and what follows the stroke.
fn leading_fraction(text: &str) -> Result<Option<(i128, &str)>, Fault> {
    let count = text.bytes().take_while(u8::is_ascii_digit).count();
    match stroke(text.split_at(count).1.trim_start()) {
        Some(rest) if count > 0 => Ok(Some((digits(text, FRACTION_DIGITS)?.0, rest))),
        _ => Ok(None),
    }
}

/// The digits below the stroke of a fraction that begins `text`.
fn stroke(text: &str) -> Option<&str> {
    text.strip_prefix('/').map(str::trim_start).filter(|rest| starts_digit(rest))
}

/// Reads the denominator below a numerator.
fn denominator(text: &str) -> Result<(i128, &str), Fault> {
    let (denominator, rest) = digits(text, FRACTION_DIGITS)?;
    if denominator == 0 {
        return Err(Fault::ZeroDenominator);
    }
    if rest.starts_with(['.', ',', '/']) {
        return Err(Fault::NotANumber);
    }
    end_of_number(rest)?;
    Ok((denominator, rest))
}

/// Refuses what would make a number read as another.
fn end_of_number(rest: &str) -> Result<(), Fault> {
    let mut after = rest.chars();
    let Some(next) = after.next() else { return Ok(()) };
    let digit_follows = starts_digit(after.as_str());
    match next {
        '\'' | '’' | '_' if digit_follows => Err(Fault::MarkOfThousands),
        '.' => Err(if after.as_str().starts_with('.') { Fault::Dots } else { Fault::NotANumber }),
        ',' if digit_follows => Err(Fault::NotANumber),
        'e' | 'E' if digit_follows || after.as_str().starts_with(['+', '-']) => Err(Fault::Exponent),
        _ if sign_of_fraction(rest).is_some() => Err(Fault::NotANumber),
        _ => Ok(()),
    }
}

/// Why no number starts here.
fn no_number(text: &str) -> Fault {
    let word = text
        .split(|character: char| character.is_whitespace() || character.is_ascii_digit())
        .next()
        .unwrap_or_default();
    if let Some(side) = side_of(word) {
        return Fault::SideInFront(side);
    }
    match word {
        "." => Fault::BarePoint,
        "~" | "≈" | "about" | "approx" | "approx." | "ca" | "ca." | "c." => Fault::Approximate,
        "<" | "≤" | "<=" | "up" | "under" | "below" => Fault::SideInFront(Side::Maximum),
        ">" | "≥" | ">=" | "over" | "above" | "from" => Fault::SideInFront(Side::Minimum),
        "+" => Fault::PlusSign,
        _ if ["nan", ".nan", "inf", ".inf", "infinity", "∞"].iter().any(|known| word.eq_ignore_ascii_case(known)) => {
            Fault::NotFinite
        }
        _ => Fault::NoNumber,
    }
}
