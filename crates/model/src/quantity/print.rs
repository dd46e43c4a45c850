//! Prints quantities for sheets: as written, converted, or computed.

use super::exact::Exact;
use super::parse::{self, Number, Shape};
use super::range::Extent;
use super::unit::{Dimension, Home, Unit, UnitSystem};

/// Text of what a file states.
pub(super) fn stated(
    dimension: &Dimension,
    spelled: &str,
    unit: &Unit,
    extent: Extent<Exact>,
    system: UnitSystem,
) -> String {
    let written = || as_written(spelled, unit);
    let convert = |target: &Unit| converted(extent, target).unwrap_or_else(written);
    match (system, unit.home) {
        (UnitSystem::Si, Home::Us) => convert(&dimension.si),
        (UnitSystem::Us, Home::Si) => convert(&dimension.us),
        (UnitSystem::Both, Home::Us) => format!("{} ({})", written(), convert(&dimension.si)),
        (UnitSystem::Both, Home::Si) => format!("{} ({})", written(), convert(&dimension.us)),
        _ => written(),
    }
}

/// Text of a computed value, or of a range where `high` is given.
pub(super) fn computed(dimension: &Dimension, low: Exact, high: Option<Exact>, system: UnitSystem) -> String {
    let extent = match high {
        Some(high) if high != low => Extent::Between(low, high),
        _ => Extent::Single(low),
    };
    let in_unit = |unit: &Unit| {
        // The floating value stands in where the exact one is too great: nothing is lost that would be printed.
        converted(extent, unit).unwrap_or_else(|| unit.join(&format!("{:.3e}", low.in_unit(unit))))
    };
    match system {
        UnitSystem::Si => in_unit(&dimension.si),
        UnitSystem::Us => in_unit(&dimension.us),
        UnitSystem::Both if dimension.si == dimension.us => in_unit(&dimension.si),
        UnitSystem::Both => format!("{} ({})", in_unit(&dimension.si), in_unit(&dimension.us)),
    }
}

/// The text as written, with one spelling for dashes, spaces and units.
fn as_written(spelled: &str, unit: &Unit) -> String {
    let Ok(parts) = parse::split(spelled) else { return spelled.to_owned() };
    let first = number(&parts.first);
    let numbers = match &parts.second {
        Some(second) => join_range(&first, &number(second)),
        None => first,
    };
    let text = unit.join(&numbers);
    match parts.side {
        Some(parse::Side::Minimum) => text + " minimum",
        Some(parse::Side::Maximum) => text + " maximum",
        None => text,
    }
}

fn number(number: &Number<'_>) -> String {
    let (sign, digits) = match number.text.char_indices().nth(1) {
        Some((at, _)) if number.numerator < 0 || !number.text.starts_with(|first: char| first.is_ascii_digit()) => {
            ("-", number.text.get(at..).unwrap_or_default())
        }
        _ => ("", number.text),
    };
    match number.shape {
        Shape::Mixed(whole, gap) => {
            let fraction = number.text.get(whole + gap..).unwrap_or_default();
            let whole = number.text.get(number.text.len() - digits.len()..whole).unwrap_or_default();
            format!("{sign}{whole} {fraction}")
        }
        Shape::Decimal | Shape::Fraction => format!("{sign}{digits}"),
    }
}

fn join_range(low: &str, high: &str) -> String {
    if low.starts_with('-') || high.starts_with('-') { format!("{low} to {high}") } else { format!("{low}–{high}") }
}

/// Text in another unit, rounded; `None` where a number does not fit.
fn converted(extent: Extent<Exact>, unit: &Unit) -> Option<String> {
    let extent = extent.try_map(|value| value.into_unit(unit))?;
    Some(match extent {
        Extent::Single(value) => unit.join(&rounded(&[value], unit).concat()),
        Extent::Between(low, high) => match rounded(&[low, high], unit).as_slice() {
            [low, high] if low != high => unit.join(&join_range(low, high)),
            same => unit.join(same.first()?),
        },
        Extent::Minimum(value) => unit.join(&rounded(&[value], unit).concat()) + " minimum",
        Extent::Maximum(value) => unit.join(&rounded(&[value], unit).concat()) + " maximum",
    })
}

/// The numbers as text, all in the same manner: trade fractions for inches where all fit, else decimals.
fn rounded(values: &[Exact], unit: &Unit) -> Vec<String> {
    if unit.symbol == "in"
        && let Some(fractions) = values.iter().map(|value| trade_fraction(*value)).collect::<Option<Vec<_>>>()
    {
        return fractions;
    }
    let decimals = values.iter().map(|value| decimals(*value, unit)).max().unwrap_or(unit.decimals);
    values.iter().map(|value| value.decimal(decimals)).collect()
}

/// How many decimals a value is printed with: all where three digits write it, else as the unit has it.
fn decimals(value: Exact, unit: &Unit) -> u32 {
    let size = value.to_f64().abs();
    if size == 0.0 {
        return 0;
    }
    // The power of ten of the first digit, from -18 to 38: the loop ends.
    let mut first = 0_i32;
    while size >= 10_f64.powi(first + 1) && first < 38 {
        first += 1;
    }
    while size < 10_f64.powi(first) && first > -18 {
        first -= 1;
    }
    let places = |digits: i32| u32::try_from(digits - 1 - first).unwrap_or(0);
    match value.decimals(places(3)) {
        Some(exact) => exact,
        None => unit.decimals.min(places(3)).max(places(2)),
    }
}

/// An inch size as the trade says it: in halves to 1/32, within 1 %, or failing that within 2 %.
fn trade_fraction(inches: Exact) -> Option<String> {
    let size = inches.to_f64();
    if !(0.0..=24.0).contains(&size) {
        return None;
    }
    if inches == Exact::ZERO {
        return Some("0".to_owned());
    }
    for tolerance in [0.01, 0.02] {
        for denominator in [1_u32, 2, 4, 8, 16, 32] {
            let parts = (size * f64::from(denominator)).round();
            if parts >= 1.0 && (parts / f64::from(denominator) - size).abs() <= size * tolerance {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 1 to 768")]
                let parts = parts as u32;
                return Some(match (parts / denominator, parts % denominator) {
                    (whole, 0) => format!("{whole}"),
                    (0, part) => format!("{part}/{denominator}"),
                    (whole, part) => format!("{whole} {part}/{denominator}"),
                });
            }
        }
    }
    None
}
