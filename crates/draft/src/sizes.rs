//! Thickness as shops name it: with a unit, as a gauge of sheet, or as pipe of a nominal size and schedule.

use seamwright_handbook::measure::trimmed;
use seamwright_handbook::{base_metals, metal_families, sheet_sizes};
use seamwright_model::quantity::{Length, Range};

use crate::refused::Refused;

/// A thickness that was read, with the pipe that a schedule names.
pub(crate) struct Size {
    pub(crate) thickness: String,
    pub(crate) thickness_mm: f64,
    /// Whether it was stated in inches, by gauge or by schedule.
    pub(crate) inches: bool,
    /// Outside diameter of the pipe, as written and in mm.
    pub(crate) diameter: Option<(String, f64)>,
    /// What a gauge or schedule was taken for.
    pub(crate) said: Option<String>,
}

/// A thickness as it stands in a document: with its unit, and with what a gauge or a schedule was taken for; the gauge of a
/// sheet goes by its metal.
pub fn thickness(text: &str, metal: &str) -> Result<(String, Option<String>), Refused> {
    Size::read(text, metal).map(|size| (size.thickness, size.said))
}

impl Size {
    /// Reads a thickness; the gauge of a sheet goes by its metal.
    pub(crate) fn read(text: &str, metal: &str) -> Result<Self, Refused> {
        let plain = text.trim().to_lowercase();
        if let Some(gauge) = gauge(&plain) {
            return Self::by_gauge(gauge, text, metal);
        }
        if let Some((nominal, schedule)) = pipe(&plain) {
            return Self::by_schedule(&nominal, &schedule, text);
        }
        let (thickness, thickness_mm) = length("thickness", text)?;
        let inches = thickness.ends_with("in") || thickness.ends_with('"');
        Ok(Self { thickness, thickness_mm, inches, diameter: None, said: None })
    }

    fn by_gauge(gauge: i32, text: &str, metal: &str) -> Result<Self, Refused> {
        let family = base_metals::find(metal).map_or("carbon-steel", |row| row.family);
        let is = |wanted: &str| metal_families::is_in(family, wanted);
        let lower = metal.to_lowercase();
        let system = if lower.contains("galvan") {
            "galvanized"
        } else if is("stainless") || lower.contains("stainless") {
            "stainless"
        } else if is("aluminium") || lower.contains("alumin") {
            "aluminium"
        } else {
            "steel"
        };
        let row = sheet_sizes::gauge(system, gauge).ok_or_else(|| Refused::Quantity {
            what: "thickness",
            reason: format!(
                "sheet-gauges has no {} for {system} sheet; `seamwright table sheet-gauges` lists them",
                text.trim()
            ),
        })?;
        let thickness = format!("{} in", trimmed(row.thickness_in.unwrap_or_default(), 4));
        let (thickness, thickness_mm) = length("thickness", &thickness)?;
        let said =
            format!("{} of {system} sheet is {thickness} (sheet-gauges, {})", text.trim(), row.origin.basis.as_str());
        Ok(Self { thickness, thickness_mm, inches: true, diameter: None, said: Some(said) })
    }

    fn by_schedule(nominal: &str, schedule: &str, text: &str) -> Result<Self, Refused> {
        let row = sheet_sizes::schedule(nominal, schedule).ok_or_else(|| Refused::Quantity {
            what: "thickness",
            reason: format!(
                "pipe-schedules has no `{}`: write it as `6 in sch 40`, or give wall and diameter",
                text.trim()
            ),
        })?;
        let (thickness, thickness_mm) = length("thickness", &format!("{} in", trimmed(row.wall_in, 4)))?;
        let diameter = length("diameter", &format!("{} in", trimmed(row.od_in, 4)))?;
        let said = format!(
            "{} is pipe of {} outside with a wall of {thickness} (pipe-schedules, {})",
            text.trim(),
            diameter.0,
            row.origin.basis.as_str()
        );
        Ok(Self { thickness, thickness_mm, inches: true, diameter: Some(diameter), said: Some(said) })
    }
}

/// The number in `16 ga`, `16ga`, `16 gauge`.
fn gauge(text: &str) -> Option<i32> {
    let number = ["gauge", "gage", "ga.", "ga"].iter().find_map(|word| text.strip_suffix(word))?;
    number.trim().trim_end_matches('-').parse().ok()
}

/// Nominal size and schedule of `6 in sch 40`, `nps 2 xs`, `1-1/2" schedule 10s`.
fn pipe(text: &str) -> Option<(String, String)> {
    let spread = text.replace('"', " in ").replace("sch.", "sch ").replace("schedule", "sch ").replace("sch", " sch ");
    let mut words: Vec<&str> = spread
        .split_whitespace()
        .filter(|word| !["in", "inch", "nps", "pipe", "sch", "x", "wall"].contains(word))
        .collect();
    let marked =
        text.contains("sch") || text.contains("nps") || words.iter().any(|own| ["std", "xs", "xxs"].contains(own));
    let schedule = words.pop()?;
    let nominal = words.join("-");
    (marked && !nominal.is_empty()).then(|| (nominal, schedule.to_uppercase()))
}

/// A quantity with a space before its unit, as documents have it: `3mm` is `3 mm`.
fn spaced(text: &str) -> String {
    let unit = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (figures, unit) = text.split_at(unit);
    if figures.is_empty() || unit.is_empty() { text.to_owned() } else { format!("{} {unit}", figures.trim_end()) }
}

/// A single length: as written, and in millimetres.
pub(crate) fn length(what: &'static str, text: &str) -> Result<(String, f64), Refused> {
    let refused = |reason: String| Refused::Quantity { what, reason };
    let text = spaced(text.trim());
    let range: Range<Length> = text.parse().map_err(|error| refused(format!("{error}")))?;
    match range.single().map(Length::mm) {
        Some(mm) if mm > 0.0 => Ok((range.spelled().to_owned(), mm)),
        Some(_) => Err(refused(format!("`{text}` is not more than nothing"))),
        None => Err(refused(format!("`{text}` is a range: give one value, such as `3 mm`"))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Manufacturers' Standard gauge 16 is 0.0598 in, Brown and Sharpe 16 is 0.0508 in; NPS 6 schedule 40 is 6.625 x 0.280 in
    // (ASME B36.10M), all from memory.
    #[test]
    fn gauges_and_schedules_are_read_as_shops_write_them() {
        for text in ["16 ga", "16ga", "16 gauge", "16 GA"] {
            assert_eq!(Size::read(text, "A36").unwrap().thickness, "0.0598 in");
        }
        assert_eq!(Size::read("16 ga", "6061-T6").unwrap().thickness, "0.0508 in");
        for text in ["6 in sch 40", "NPS 6 sch 40", "6\" schedule 40", "6 in SCH40", "NPS 6 STD"] {
            let size = Size::read(text, "A106-B").unwrap();
            assert_eq!((size.thickness.as_str(), size.diameter.unwrap().0.as_str()), ("0.28 in", "6.625 in"), "{text}");
        }
        for text in ["99 ga", "6 in sch 41", "sch 40", "NPS"] {
            assert!(Size::read(text, "A36").is_err(), "{text}");
        }
        assert!(!Size::read("3 mm", "A36").unwrap().inches);
    }
}
