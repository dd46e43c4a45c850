//! Inches: every figure of a page, values and comments alike, in the units of American shops.

use seamwright_calc::band::{whole_down, whole_up};
use seamwright_handbook::measure::{Inches, MM_IN, trimmed};
use seamwright_handbook::nominal_sizes;

/// What stands before the size of a wire, an electrode or a rod in a comment.
const OF_A_SIZE: [&str; 4] = ["wire of ", "electrode of ", "rod of ", "size nearest to "];

/// Units that are turned, the longer before those that begin them.
const UNITS: [&str; 8] = ["mm/min", "mm2", "mm3", "mm", "m/min", "L/min", "kJ/mm", "°C"];

/// A value or a comment with millimetres, litres and degrees Celsius turned into inches, cubic feet an hour and degrees
/// Fahrenheit; the size of a wire, an electrode or a tungsten as it is sold.
pub(crate) fn in_inches(line: &str, size: bool) -> String {
    let mut text = String::with_capacity(line.len());
    let mut rest = line;
    let mut before = ' ';
    while let Some(first) = rest.chars().next() {
        let starts = first.is_ascii_digit() && !before.is_alphanumeric() && !matches!(before, '.' | '-' | '/');
        if let Some((figures, unit, taken)) = starts.then(|| quantity(rest)).flatten() {
            let after = rest.get(taken..).unwrap_or_default();
            let sold = size || OF_A_SIZE.iter().any(|words| text.ends_with(words));
            text.push_str(&said(figures, unit, after, sold));
            rest = after;
            before = 'x';
            continue;
        }
        text.push(first);
        before = first;
        rest = rest.get(first.len_utf8()..).unwrap_or_default();
    }
    text
}

/// A figure, and the other end where it is a range.
type Figures = (f64, Option<f64>);

/// A figure or range at the start of a text, its unit, and how many bytes they take.
fn quantity(text: &str) -> Option<(Figures, &'static str, usize)> {
    let number = |text: &str| {
        let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
        let figures = text.get(..end)?.trim_end_matches('.');
        Some((figures.parse::<f64>().ok()?, figures.len()))
    };
    let (low, mut taken) = number(text)?;
    let mut high = None;
    if let Some(second) = text.get(taken..).and_then(|rest| rest.strip_prefix('-')).and_then(number) {
        high = Some(second.0);
        taken += 1 + second.1;
    }
    let rest = text.get(taken..)?.strip_prefix(' ')?;
    let unit = UNITS.into_iter().find(|unit| {
        rest.strip_prefix(unit).is_some_and(|after| !after.starts_with(|c: char| c.is_alphanumeric() || c == '/'))
    })?;
    Some(((low, high), unit, taken + 1 + unit.len()))
}

/// A quantity in the units of American shops.
fn said((low, high): (f64, Option<f64>), unit: &str, after: &str, size: bool) -> String {
    // The ends of a range are rounded inwards, so that they stay within what the range was held in.
    let ends = |to: &dyn Fn(f64, Towards) -> String, unit: &str| {
        let lowest = if high.is_some() { Towards::Up } else { Towards::Nearest };
        let (first, last) = (to(low, lowest), high.map(|own| to(own, Towards::Down)));
        match last {
            Some(last) if last != first => format!("{first}-{last} {unit}"),
            _ => format!("{first} {unit}"),
        }
    };
    let span = |to: &dyn Fn(f64) -> String, unit: &str| {
        let (first, last) = (to(low), high.map(to));
        match last {
            Some(last) if last != first => format!("{first}-{last} {unit}"),
            _ => format!("{first} {unit}"),
        }
    };
    match unit {
        "mm" if size => span(&sold, "in"),
        "mm" => ends(&|own, towards| fraction(own, if own < 6.0 { Towards::Nearest } else { towards }), "in"),
        "mm2" => span(&|own| trimmed(own / MM_IN.powi(2), 3), "in2"),
        "mm3" => span(&|own| trimmed(own / MM_IN.powi(3), 3), "in3"),
        "mm/min" => span(&|own| stepped(own / MM_IN, speed_step(own)), "in/min"),
        "m/min" => ends(&|own, towards| turned(own / (MM_IN / 1e3), 5.0, towards), "in/min"),
        "L/min" => ends(&|own, towards| turned(own * 2.118_88, 1.0, towards), "ft3/h"),
        "kJ/mm" => span(&|own| stepped(own * MM_IN, 0.5), "kJ/in"),
        _ => {
            let fahrenheit = |own: f64| 1.8 * own + 32.0;
            if after.trim_start().starts_with("minimum") {
                span(&|own| trimmed((fahrenheit(own) / 5.0).ceil() * 5.0, 0), "°F")
            } else if after.trim_start().starts_with("maximum") {
                span(&|own| trimmed((fahrenheit(own) / 10.0).floor() * 10.0, 0), "°F")
            } else {
                ends(&|own, towards| turned(fahrenheit(own), 10.0, towards), "°F")
            }
        }
    }
}

/// A travel speed, mm/min, as a page in inches writes it.
pub(crate) fn written_speed(mm_min: f64) -> f64 {
    let inches = mm_min / MM_IN;
    let step = speed_step(mm_min);
    (inches / step).round() * step * MM_IN
}

/// Step of a travel speed in inches a minute, finer for slow ones in mm/min.
fn speed_step(mm_min: f64) -> f64 {
    if mm_min < 500.0 { 0.5 } else { 1.0 }
}

/// Which way a figure is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Towards {
    Nearest,
    Up,
    Down,
}

fn whole(value: f64, towards: Towards) -> f64 {
    match towards {
        Towards::Nearest => value.round(),
        Towards::Up => whole_up(value),
        Towards::Down => whole_down(value),
    }
}

fn turned(value: f64, step: f64, towards: Towards) -> String {
    trimmed(whole(value / step, towards) * step, 2)
}

fn stepped(value: f64, step: f64) -> String {
    trimmed((value / step).round() * step, 2)
}

/// The size in inches by which an electrode, a wire or a tungsten of a metric size is sold.
fn sold(mm: f64) -> String {
    nominal_sizes::inches(mm).map_or_else(|| fraction(mm, Towards::Nearest), ToOwned::to_owned)
}

/// Inches as a rule shows them: thirty-seconds up to half an inch, sixteenths above; decimals of great lengths.
fn fraction(mm: f64, towards: Towards) -> String {
    let inches = mm / MM_IN;
    if inches > 12.0 {
        return stepped(inches, 0.5);
    }
    let parts = if mm < 6.0 { 32.0 } else { 16.0 };
    let counted = whole(inches * parts, towards).max(0.0);
    if counted < 1.0 && mm > 0.0 { trimmed(inches, 3) } else { Inches(counted / parts).to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    // 1 in = 25.4 mm, 1 ft3 = 28.3168 L (NIST SP 811).
    #[test]
    fn figures_are_written_as_american_shops_do() {
        for (metric, inches) in [
            ("leg: 3.17 mm", "leg: 1/8 in"),
            ("  diameter: 2.5 mm", "  diameter: 3/32 in"),
            ("diameter: 1.2 mm  # line of tee 6 mm", "diameter: 0.045 in  # line of tee 1/4 in"),
            ("travel_speed: 100-130 mm/min", "travel_speed: 4-5 in/min"),
            ("wire_feed_speed: 9-10 m/min", "wire_feed_speed: 355-390 in/min"),
            ("flow: 12-15 L/min", "flow: 26-31 ft3/h"),
            ("contact_tip_to_work: 13-25 mm", "contact_tip_to_work: 9/16-15/16 in"),
            ("drying: 260-430 °C", "drying: 500-800 °F"),
            ("preheating: 10 °C minimum", "preheating: 50 °F minimum"),
            ("interpass: 250 °C maximum", "interpass: 480 °F maximum"),
            ("drying: 350 °C for 2 h", "drying: 660 °F for 2 h"),
            ("root_gap: 2.4-3.2 mm", "root_gap: 3/32-1/8 in"),
            ("root_face: 0 mm", "root_face: 0 in"),
            ("current: 120-140 A", "current: 120-140 A"),
            ("within ISO 9692-1 number 1.3", "within ISO 9692-1 number 1.3"),
            ("thickness: 1/4 in", "thickness: 1/4 in"),
            ("5 ml/100 g", "5 ml/100 g"),
            ("the size nearest to 1.2 mm that has settings", "the size nearest to 0.045 in that has settings"),
        ] {
            assert_eq!(in_inches(metric, metric.trim_start().starts_with("diameter")), inches);
        }
    }
}
