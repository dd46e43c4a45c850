//! Reads the text of a quantity; nothing is allocated unless the text is refused.

use super::exact::{Exact, into_base};
use super::extent::Extent;
use super::fault::{Fault, Side};
use super::list;
use super::parts::{Number, Parts, is_minus, number, side_of, split, unquoted};
use super::unit::{Dimension, Unit};

/// Reads `text` as a value or range of `dimension`: extent in base units, and the unit that was written.
pub(super) fn parse(dimension: &'static Dimension, text: &str) -> Result<(Extent<Exact>, &'static Unit), Fault> {
    let read = if text.contains(OR) { one_of(dimension, text) } else { read_one(dimension, text) };
    read.map_err(|fault| feet_and_inches(dimension, text).unwrap_or(fault))
}

fn read_one(dimension: &'static Dimension, text: &str) -> Result<(Extent<Exact>, &'static Unit), Fault> {
    let parts = split(text)?;
    let unit = find_unit(dimension, &parts)?;
    Ok((extent(&parts, unit, dimension)?, unit))
}

/// What stands between values of which any may be taken.
const OR: &str = " or ";

/// The values of which any may be taken, each with its unit: `3.2 mm` and `4.0 mm` of `3.2 or 4.0 mm`; the whole text where
/// there is but one.
pub fn alternatives(text: &str) -> Vec<String> {
    let text = unquoted(text.trim());
    let Some((before, last)) = text.rsplit_once(OR) else { return vec![text.to_owned()] };
    let unit = split(last).map(|parts| parts.unit).unwrap_or_default();
    let parts = before.split(OR).flat_map(|part| part.split(", ")).map(str::trim);
    let with_unit = |part: &str| match split(part) {
        Ok(own) if own.unit.is_empty() && !unit.is_empty() => format!("{part} {unit}"),
        _ => part.to_owned(),
    };
    parts.map(with_unit).chain([last.trim().to_owned()]).collect()
}

/// Reads values of which any may be taken: from the least to the greatest of them.
fn one_of(dimension: &'static Dimension, text: &str) -> Result<(Extent<Exact>, &'static Unit), Fault> {
    let mut found: Option<(Exact, Exact, &'static Unit)> = None;
    for part in alternatives(text) {
        let (extent, unit) = read_one(dimension, &part)?;
        let Extent::Single(value) = extent else { return Err(Fault::TextAfterUnit(format!("or {part}"))) };
        found = Some(match found {
            Some((_, _, before)) if before != unit => return Err(Fault::UnitsDiffer),
            Some((low, high, _)) => (low.min(value), high.max(value), unit),
            None => (value, value, unit),
        });
    }
    let (low, high, unit) = found.ok_or(Fault::Empty)?;
    Ok((if low == high { Extent::Single(low) } else { Extent::Between(low, high) }, unit))
}

fn find_unit(dimension: &'static Dimension, parts: &Parts<'_>) -> Result<&'static Unit, Fault> {
    let find = |text: &str| dimension.unit(text).ok_or_else(|| unknown_unit(Some(dimension), text));
    let first = parts.first_unit.map(find).transpose()?;
    let unit = find(parts.unit)?;
    if first.is_some_and(|first| first != unit) { Err(Fault::UnitsDiffer) } else { Ok(unit) }
}

/// What feet and inches such as `4'-6"` are in inches.
fn feet_and_inches(dimension: &Dimension, text: &str) -> Option<Fault> {
    let text = text.to_lowercase();
    let (feet, rest) = ["feet", "foot", "ft.", "ft", "'", "′", "’"].iter().find_map(|mark| text.split_once(mark))?;
    let rest = rest.trim_start();
    let (inches, unit) = number(rest.strip_prefix(is_minus).unwrap_or(rest).trim_start()).ok()?;
    let (feet, none) = number(feet.trim()).ok()?;
    let inch = dimension.unit(unit.trim()).is_some_and(|unit| unit.symbol == "in");
    if !inch || !none.is_empty() {
        return None;
    }
    let exact = |number: &Number<'_>| Exact::new(number.numerator, number.denominator);
    let whole = exact(&feet)?.checked_mul(Exact::new(12, 1)?)?.checked_add(exact(&inches)?)?;
    Some(Fault::FeetAndInches(whole.decimal(whole.decimals(6).unwrap_or(6))))
}

/// The fault of a text that is no unit of the quantity that is meant.
pub(super) fn unknown_unit(dimension: Option<&Dimension>, text: &str) -> Fault {
    if text.is_empty() {
        return Fault::MissingUnit;
    }
    if let Some((other, _)) = list::find_unit(text) {
        return Fault::OtherQuantity(other);
    }
    let first =
        text.split(|character: char| character.is_whitespace() || matches!(character, ',' | ';' | '(' | '+' | '±'));
    let first = first.into_iter().next().unwrap_or_default();
    if side_of(first).is_some() {
        return Fault::SideBeforeUnit;
    }
    let rest = text.get(first.len()..).unwrap_or_default().trim_start();
    if rest.starts_with(['±', '+']) {
        return Fault::Tolerance;
    }
    let known = match dimension {
        Some(dimension) => dimension.unit(first).is_some(),
        None => list::find_unit(first).is_some(),
    };
    if known { Fault::TextAfterUnit(rest.to_owned()) } else { Fault::UnknownUnit(text.to_owned()) }
}

/// The extent that `parts` state, in base units.
pub(super) fn extent(parts: &Parts<'_>, unit: &Unit, dimension: &Dimension) -> Result<Extent<Exact>, Fault> {
    let value = |number: &Number<'_>| {
        let exact = into_base(number.numerator, number.denominator, unit).ok_or(Fault::TooManyDigits)?;
        let too_low = match dimension.lowest {
            Some((0, _)) => exact.is_negative(),
            Some((numerator, denominator)) => Exact::new(numerator, denominator).is_some_and(|lowest| exact < lowest),
            None => false,
        };
        if too_low { Err(Fault::BelowLowest) } else { Ok(exact) }
    };
    let first = value(&parts.first)?;
    Ok(match (&parts.second, parts.side) {
        (Some(_), Some(_)) => return Err(Fault::SideOnRange),
        (Some(second), None) => {
            let second_value = value(second)?;
            if first > second_value {
                return Err(Fault::HighToLow(rising(parts, second)));
            }
            Extent::Between(first, second_value)
        }
        (None, Some(Side::Minimum)) => Extent::Minimum(first),
        (None, Some(Side::Maximum)) => Extent::Maximum(first),
        (None, None) => Extent::Single(first),
    })
}

/// What to write for a range that falls.
fn rising(parts: &Parts<'_>, second: &Number<'_>) -> String {
    let (low, high, unit) = (second.text, parts.first.text, parts.unit);
    let dash = if low.starts_with(is_minus) || high.starts_with(is_minus) { " to " } else { "-" };
    let swapped = format!("write the low end first: `{low}{dash}{high} {unit}`");
    // `1 - 1/4 in` may mean either.
    if parts.first.denominator == 1 && second.text.contains('/') && second.numerator < second.denominator {
        format!("{swapped}; a whole and a part are written `{high} {low} {unit}`")
    } else {
        swapped
    }
}
