//! Prints quantities for sheets: as written, converted, or computed.

use super::exact::Exact;
use super::extent::Extent;
use super::parse;
use super::parts::{self, Number, Shape};
use super::read::read;
use super::unit::{Dimension, Home, Unit, UnitSystem};

/// Text of what a file states; of several values, of which any may be taken, each by itself.
pub(super) fn any(
    dimension: &'static Dimension,
    spelled: &str,
    unit: &Unit,
    extent: Extent<Exact>,
    system: UnitSystem,
) -> String {
    let each = parse::alternatives(spelled);
    if each.len() < 2 {
        return stated(dimension, spelled, unit, extent, system);
    }
    let each = each.iter().map(|one| match read(dimension, one) {
        Ok((extent, unit)) => any(dimension, parts::unquoted(one.trim()), unit, extent, system),
        Err(_) => one.clone(),
    });
    each.collect::<Vec<_>>().join(" or ")
}

/// Text of what a file states.
pub(super) fn stated(
    dimension: &Dimension,
    spelled: &str,
    unit: &Unit,
    extent: Extent<Exact>,
    system: UnitSystem,
) -> String {
    let written = || as_written(spelled, unit);
    let convert = |target: &Unit| {
        let target = usual(dimension, extent, target);
        in_fives(extent, target).or_else(|| converted(extent, target, Digits::Rounded)).unwrap_or_else(written)
    };
    let text = match (system, unit.home) {
        (UnitSystem::Si, Home::Us) => convert(&dimension.si),
        (UnitSystem::Us, Home::Si) => convert(&dimension.us),
        (UnitSystem::Both, Home::Us) => format!("{} ({})", written(), convert(&dimension.si)),
        (UnitSystem::Both, Home::Si) => format!("{} ({})", written(), convert(&dimension.us)),
        _ => written(),
    };
    match extent {
        Extent::Minimum(_) => text + " minimum",
        Extent::Maximum(_) => text + " maximum",
        Extent::Single(_) | Extent::Between(..) => text,
    }
}

/// The unit that a shop writes a value of this size in: fast wire in m/min, not in thousands of mm/min.
fn usual<'u>(dimension: &'u Dimension, extent: Extent<Exact>, target: &'u Unit) -> &'u Unit {
    /// Slower than any wire, and than most of what travels faster: 60 in/min.
    const FAST: f64 = 1500.0;
    let least = extent.low().or(extent.high());
    match dimension.unit("m/min") {
        Some(fast) if target.symbol == "mm/min" && least.is_some_and(|least| least.to_f64() >= FAST) => fast,
        _ => target,
    }
}

/// Degrees in fives, as shops write preheat and interpass temperatures; nothing for another unit, and where a five would lie too
/// far from the value.
///
/// A low end is rounded up, a high end down, one value to the nearest.
fn in_fives(extent: Extent<Exact>, unit: &Unit) -> Option<String> {
    /// How far a five may lie from its value: of the value in °C, and in °C at least.
    const NEAR: (f64, f64) = (0.04, 1.0);
    if !matches!(unit.symbol, "°F" | "°C") {
        return None;
    }
    let step = Exact::new(5, 1)?;
    let five = |value: Exact, up: Option<bool>| {
        // Colder than frost are temperatures of tests, which stand by the degree.
        if value.is_negative() {
            return None;
        }
        let steps = value.into_unit(unit)?.checked_div(step)?;
        let steps = match up {
            Some(up) => steps.toward(0, up)?,
            None => steps.checked_add(Exact::new(1, 2)?)?.toward(0, false)?,
        };
        let own = steps.checked_mul(step)?;
        let off = (own.into_base(unit)?.to_f64() - value.to_f64()).abs();
        (off <= NEAR.1.max(NEAR.0 * value.to_f64().abs())).then_some(own)
    };
    let text = match extent {
        Extent::Single(value) => five(value, None)?.decimal(0),
        Extent::Between(low, high) if low == high => five(low, None)?.decimal(0),
        Extent::Between(low, high) => {
            let (low, high) = (five(low, Some(true))?, five(high, Some(false))?);
            if high <= low {
                return None;
            }
            join_range(&low.decimal(0), &high.decimal(0))
        }
        Extent::Minimum(low) => five(low, Some(true))?.decimal(0),
        Extent::Maximum(high) => five(high, Some(false))?.decimal(0),
    };
    Some(unit.join(&text))
}

/// Text of a range or limit in a unit, never outside it; nothing where it does not fit.
pub(super) fn in_unit(extent: Extent<Exact>, unit: &Unit) -> Option<String> {
    let text = converted(extent, unit, Digits::Rounded)?;
    Some(match extent {
        Extent::Minimum(_) => text + " minimum",
        Extent::Maximum(_) => text + " maximum",
        Extent::Single(_) | Extent::Between(..) => text,
    })
}

/// Text of a computed value, or of a range where `high` is given.
pub(super) fn computed(dimension: &Dimension, low: Exact, high: Option<Exact>, system: UnitSystem) -> String {
    let extent = match high {
        Some(high) if high != low => Extent::Between(low, high),
        _ => Extent::Single(low),
    };
    let in_unit = |unit: &Unit, digits| {
        // A figure stands in where the exact number is too great; a sheet prints no more of it.
        converted(extent, unit, digits).unwrap_or_else(|| unit.join(&format!("{:.3e}", low.in_unit(unit))))
    };
    match system {
        UnitSystem::Si => in_unit(&dimension.si, Digits::Short),
        UnitSystem::Us => in_unit(&dimension.us, Digits::Short),
        UnitSystem::Both if dimension.si == dimension.us => in_unit(&dimension.si, Digits::Short),
        UnitSystem::Both => {
            format!("{} ({})", in_unit(&dimension.si, Digits::Short), in_unit(&dimension.us, Digits::Rounded))
        }
    }
}

/// The numbers and the unit as written, with one spelling for dashes, spaces and units.
fn as_written(spelled: &str, unit: &Unit) -> String {
    let Ok(parts) = parts::split(spelled) else { return spelled.to_owned() };
    let first = number(&parts.first);
    unit.join(&match &parts.second {
        Some(second) => join_range(&first, &number(second)),
        None => first,
    })
}

fn number(number: &Number<'_>) -> String {
    let unsigned = number.text.strip_prefix(parts::is_minus).unwrap_or(number.text);
    let sign = if unsigned.len() < number.text.len() { "-" } else { "" };
    match number.shape {
        Shape::Mixed { part } => {
            let whole = unsigned.split(|character: char| !character.is_ascii_digit()).next().unwrap_or_default();
            let fraction = plain(number.text.get(part..).unwrap_or_default());
            format!("{sign}{whole} {fraction}")
        }
        Shape::Plain => format!("{sign}{}", plain(unsigned)),
    }
}

/// A number with a digit before its point, and with a stroke in a fraction.
fn plain(number: &str) -> String {
    match parts::sign_of_fraction(number) {
        Some((above, below, _)) => format!("{above}/{below}"),
        None if number.starts_with('.') => format!("0{number}"),
        None => number.to_owned(),
    }
}

fn join_range(low: &str, high: &str) -> String {
    if low.starts_with('-') || high.starts_with('-') { format!("{low} to {high}") } else { format!("{low}–{high}") }
}

/// Which digits a number keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Digits {
    /// Those that the unit has.
    Rounded,
    /// All, where three write the number exactly.
    Short,
}

/// Numbers in another unit, rounded; `None` where one does not fit.
///
/// What is printed of a stated range or limit never lies outside it: a low end is rounded up, a high end down.
fn converted(extent: Extent<Exact>, unit: &Unit, digits: Digits) -> Option<String> {
    let extent = extent.try_map(|value| value.into_unit(unit))?;
    if digits == Digits::Rounded
        && let Some(inside) = inside(extent, unit)
    {
        return Some(inside);
    }
    Some(match extent {
        Extent::Single(value) | Extent::Minimum(value) | Extent::Maximum(value) => {
            unit.join(&rounded(&[value], unit, digits).concat())
        }
        Extent::Between(low, high) => match rounded(&[low, high], unit, digits).as_slice() {
            [low, high] if low != high => unit.join(&join_range(low, high)),
            same => unit.join(same.first()?),
        },
    })
}

/// A range or limit rounded inwards, with as many decimals as that needs; nothing for a single value.
fn inside(extent: Extent<Exact>, unit: &Unit) -> Option<String> {
    /// More decimals than a value of its size is printed with.
    const MORE: u32 = 3;
    /// How far from its value an end is printed, of the value.
    const NEAR: f64 = 0.03;
    let ends = [extent.low(), extent.high()];
    let single = matches!(extent, Extent::Single(_)) || extent.low() == extent.high();
    if single {
        return None;
    }
    let fraction = |value: Exact, up: bool| {
        let (text, size) = trade_size(value).filter(|_| unit.symbol == "in")?;
        (if up { size >= value } else { size <= value }).then_some(text)
    };
    let texts: Option<Vec<String>> =
        [true, false].into_iter().zip(ends).filter_map(|(up, end)| Some(fraction(end?, up))).collect();
    let texts = texts.or_else(|| {
        let values: Vec<Exact> = ends.into_iter().flatten().collect();
        let usual = values.iter().map(|value| decimals(*value, unit, Digits::Rounded)).max()?;
        (usual..=usual + MORE).find_map(|decimals| {
            let low = ends[0].map(|low| low.toward(decimals, true));
            let high = ends[1].map(|high| high.toward(decimals, false));
            let (low, high) =
                (low.map_or(Some(None), |low| low.map(Some))?, high.map_or(Some(None), |high| high.map(Some))?);
            let crossed = matches!((low, high), (Some(low), Some(high)) if high < low);
            // Rounded to one side only, a small number keeps a digit more than it would to the nearest.
            let far = [low, high].into_iter().flatten().zip(&values).any(|(printed, value)| {
                let off = (printed.to_f64() - value.to_f64()).abs();
                !unit.fixed && off > NEAR * value.to_f64().abs()
            });
            if crossed || far {
                return None;
            }
            let text = |value: Exact| value.decimal(if value == Exact::ZERO { 0 } else { decimals });
            Some([low, high].into_iter().flatten().map(text).collect::<Vec<_>>())
        })
    })?;
    match texts.as_slice() {
        [low, high] if low != high => Some(unit.join(&join_range(low, high))),
        [one, ..] => Some(unit.join(one)),
        [] => None,
    }
}

/// The numbers as text, all in the same manner: trade fractions for inches where all fit, else decimals.
fn rounded(values: &[Exact], unit: &Unit, digits: Digits) -> Vec<String> {
    if unit.symbol == "in"
        && let Some(fractions) = values.iter().map(|value| trade_fraction(*value)).collect::<Option<Vec<_>>>()
    {
        return fractions;
    }
    let decimals = values.iter().map(|value| decimals(*value, unit, digits)).max().unwrap_or(unit.decimals);
    values.iter().map(|value| value.decimal(if *value == Exact::ZERO { 0 } else { decimals })).collect()
}

/// How many decimals a value is printed with.
fn decimals(value: Exact, unit: &Unit, digits: Digits) -> u32 {
    let size = value.to_f64().abs();
    if size == 0.0 {
        return 0;
    }
    // The power of ten of the first digit, from -18 to 38: the loops end.
    let mut first = 0_i32;
    while size >= 10_f64.powi(first + 1) && first < 38 {
        first += 1;
    }
    while size < 10_f64.powi(first) && first > -18 {
        first -= 1;
    }
    let places = |digits: i32| u32::try_from(digits - 1 - first).unwrap_or(0);
    if digits == Digits::Short
        && let Some(exact) = value.decimals(places(3))
    {
        return exact;
    }
    let least = if unit.fixed { 0 } else { places(2) };
    unit.decimals.min(places(3)).max(least)
}

/// An inch size as the trade says it: in halves to 1/32, within 1 %, or failing that within 2 %.
fn trade_fraction(inches: Exact) -> Option<String> {
    trade_size(inches).map(|(text, _)| text)
}

/// An inch size as the trade says it, as text and as a number.
fn trade_size(inches: Exact) -> Option<(String, Exact)> {
    let size = inches.to_f64();
    if !(0.0..=24.0).contains(&size) {
        return None;
    }
    if inches == Exact::ZERO {
        return Some(("0".to_owned(), inches));
    }
    for tolerance in [0.01, 0.02] {
        for denominator in [1_u32, 2, 4, 8, 16, 32] {
            let parts = (size * f64::from(denominator)).round();
            if parts >= 1.0 && (parts / f64::from(denominator) - size).abs() <= size * tolerance {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 1 to 768")]
                let parts = parts as u32;
                let text = match (parts / denominator, parts % denominator) {
                    (whole, 0) => format!("{whole}"),
                    (0, part) => format!("{part}/{denominator}"),
                    (whole, part) => format!("{whole} {part}/{denominator}"),
                };
                return Some((text, Exact::new(parts.into(), denominator.into())?));
            }
        }
    }
    None
}
