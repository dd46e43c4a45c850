//! Post-weld heat treatment by code of construction: holding, exemptions, lower temperatures, rates.

use crate::bounds::Bounds;
use crate::find;
use crate::measure::{Heat, Inches, Size};
use crate::table::{Origin, table};

table!(HOLDING, holdings, "treatment-holding", HoldingRow);
table!(EXEMPTIONS, exemptions, "treatment-exemptions", ExemptionRow);
table!(LOWERED, lowereds, "treatment-lowered", LoweredRow);
table!(RATES, rates, "treatment-rates", RateRow);
table!(THICKNESSES, thicknesses, "treatment-thickness", ThicknessRow);

/// What a code counts as the thickness of a weld that is no groove through its parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Governs {
    /// The depth of the groove or of the cavity.
    Depth,
    /// The throat.
    Throat,
    /// The greater of depth and throat.
    Greater,
}

/// The thickness that governs a weld.
#[derive(Debug, Clone, PartialEq)]
pub struct ThicknessRow {
    /// Code of construction.
    pub code: &'static str,
    /// `partial`, `fillet`, `groove-and-fillet` or `cavity`.
    pub weld: &'static str,
    /// What counts.
    pub counts: Governs,
    /// Where the row comes from.
    pub origin: Origin,
}

/// What a code counts as the thickness of a weld.
pub fn governs(code: &str, weld: &str) -> Option<Governs> {
    thicknesses().iter().find(|row| row.code == code && row.weld == weld).map(|row| row.counts)
}

/// Temperature and time of a metal and thickness under a code.
#[derive(Debug, Clone, PartialEq)]
pub struct HoldingRow {
    /// Code of construction, as a procedure names it.
    pub code: &'static str,
    /// P-Number.
    pub p_number: &'static str,
    /// Group numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub groups: &'static [u32],
    /// Least holding temperature in degrees Celsius.
    pub hold_min_c: f64,
    /// The same in degrees Fahrenheit.
    pub hold_min_f: f64,
    /// Largest holding temperature in degrees Celsius.
    pub hold_max_c: Option<f64>,
    /// The same in degrees Fahrenheit.
    pub hold_max_f: Option<f64>,
    /// Thickness for which the row holds.
    #[cfg_attr(false, prefix = "")]
    pub thickness: Bounds,
    /// Hours for each 25 mm.
    pub h_per_25mm: Option<f64>,
    /// Hours for each inch.
    pub h_per_in: Option<f64>,
    /// Least minutes.
    pub least_min: Option<f64>,
    /// Hours at the low bound.
    pub base_h: Option<f64>,
    /// Minutes for each 25 mm above the low bound.
    pub extra_min_per_25mm: Option<f64>,
    /// Minutes for each inch above the low bound.
    pub extra_min_per_in: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// When a code asks for heat treatment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    /// At every thickness.
    Always,
    /// Above a thickness, or above a lesser one without preheat.
    Above,
    /// Never.
    Never,
}

/// When a code asks for the heat treatment of a metal.
#[derive(Debug, Clone, PartialEq)]
pub struct ExemptionRow {
    /// Code of construction.
    pub code: &'static str,
    /// P-Number.
    pub p_number: &'static str,
    /// Group numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub groups: &'static [u32],
    /// When it is asked for.
    pub asked: Asked,
    /// Thickness above which it is asked for, in millimetres.
    pub over_mm: Option<f64>,
    /// The same in inches.
    pub over_in: Option<Inches>,
    /// Thickness above which metal without preheat is treated, in millimetres.
    pub cold_over_mm: Option<f64>,
    /// The same in inches.
    pub cold_over_in: Option<Inches>,
    /// Preheat that spares it, in degrees Celsius.
    pub preheat_c: Option<f64>,
    /// The same in degrees Fahrenheit.
    pub preheat_f: Option<f64>,
    /// Most carbon of metal that is spared, percent.
    pub carbon_max_pct: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Longer holding at a lower temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct LoweredRow {
    /// Code of construction.
    pub code: &'static str,
    /// P-Number.
    pub p_number: &'static str,
    /// Group numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub groups: &'static [u32],
    /// How far under the least temperature, kelvins.
    pub below_c: f64,
    /// The same in degrees Fahrenheit.
    pub below_f: f64,
    /// Hours for the first 25 mm or inch.
    pub first_h: f64,
    /// Minutes for each further 25 mm.
    pub extra_min_per_25mm: f64,
    /// Minutes for each further inch.
    pub extra_min_per_in: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A largest rate of heating or cooling.
#[derive(Debug, Clone, PartialEq)]
pub struct RateRow {
    /// Code of construction.
    pub code: &'static str,
    /// `heating` or `cooling`.
    pub change: &'static str,
    /// P-Numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub p_numbers: &'static [&'static str],
    /// Temperature above which the rate is limited, in degrees Celsius.
    pub above_c: f64,
    /// The same in degrees Fahrenheit.
    pub above_f: f64,
    /// Largest rate, °C/h.
    pub rate_c_h: f64,
    /// Largest rate, °F/h.
    pub rate_f_h: f64,
    /// The rate is divided by the thickness over this many inches, where that is more than one.
    pub over_thickness_in: Option<f64>,
    /// Rate that need not be gone under, °C/h.
    pub least_c_h: Option<f64>,
    /// Rate that need not be gone under, °F/h.
    pub least_f_h: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A metal as the tables name it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Numbered<'a> {
    /// P-Number, such as `1` or `15E`.
    pub p_number: &'a str,
    /// Group number, where it is known.
    pub group: Option<u32>,
}

impl Numbered<'_> {
    fn fits(self, p_number: &str, groups: &[u32]) -> bool {
        find::same(p_number, self.p_number)
            && (groups.is_empty() || self.group.is_none_or(|group| groups.contains(&group)))
    }
}

impl HoldingRow {
    /// The least holding temperature.
    pub fn least(&self) -> Heat {
        Heat::new(self.hold_min_c, Some(self.hold_min_f))
    }

    /// The largest holding temperature.
    pub fn most(&self) -> Option<Heat> {
        self.hold_max_c.map(|celsius| Heat::new(celsius, self.hold_max_f))
    }

    /// Hours for each inch or 25 mm, in the unit of the thickness.
    pub fn hours_for_each(&self, thickness: Size) -> Option<f64> {
        if thickness.is_customary() { self.h_per_in } else { self.h_per_25mm }
    }

    /// Minutes for each inch or 25 mm above the low bound, in the unit of the thickness.
    pub fn more_for_each(&self, thickness: Size) -> Option<f64> {
        if thickness.is_customary() { self.extra_min_per_in } else { self.extra_min_per_25mm }
    }

    /// The low bound of the row in inches or in 25 mm, in the unit of the thickness.
    pub fn from(&self, thickness: Size) -> f64 {
        steps(
            thickness.column(self.thickness.over_mm, self.thickness.over_in).map_or(0.0, |(figure, _)| figure),
            thickness,
        )
    }
}

impl LoweredRow {
    /// How far under the least temperature, in the unit of a temperature: kelvins or degrees Fahrenheit.
    pub fn below(&self, customary: bool) -> f64 {
        if customary { self.below_f } else { self.below_c }
    }

    /// Minutes for each further inch or 25 mm, in the unit of the thickness.
    pub fn more_for_each(&self, thickness: Size) -> f64 {
        if thickness.is_customary() { self.extra_min_per_in } else { self.extra_min_per_25mm }
    }
}

impl ExemptionRow {
    /// The preheat that spares metal, where there is one.
    pub fn preheat(&self) -> Option<Heat> {
        self.preheat_c.map(|celsius| Heat::new(celsius, self.preheat_f))
    }

    /// Whether a thickness is treated whatever its preheat.
    pub fn asks(&self, thickness: Size) -> bool {
        match self.asked {
            Asked::Always => true,
            Asked::Never => false,
            Asked::Above => self.over_mm.is_some() && thickness.over(self.over_mm, self.over_in),
        }
    }

    /// Whether a thickness is treated where it has not been preheated.
    pub fn asks_cold(&self, thickness: Size) -> bool {
        self.asked == Asked::Above
            && self.cold_over_mm.is_some()
            && thickness.over(self.cold_over_mm, self.cold_over_in)
    }
}

impl RateRow {
    /// Rate and the rate that need not be gone under, in °F/h or °C/h.
    pub fn figures(&self, customary: bool) -> (f64, Option<f64>, &'static str) {
        if customary { (self.rate_f_h, self.least_f_h, "°F/h") } else { (self.rate_c_h, self.least_c_h, "°C/h") }
    }

    /// The temperature above which the rate is limited.
    pub fn above(&self) -> Heat {
        Heat::new(self.above_c, Some(self.above_f))
    }
}

/// A thickness in inches, or in 25 mm where it is stated in millimetres: what holding times are counted by.
pub fn in_steps(thickness: Size) -> f64 {
    steps(thickness.figure(), thickness)
}

fn steps(figure: f64, unit: Size) -> f64 {
    if unit.is_customary() { figure } else { figure / STEP_MM }
}

/// Millimetres that stand for an inch in holding times.
const STEP_MM: f64 = 25.0;

/// The row of a code for a metal and thickness.
pub fn holding(code: &str, metal: Numbered<'_>, thickness: Size) -> Option<&'static HoldingRow> {
    let own =
        |row: &&HoldingRow| row.code == code && metal.fits(row.p_number, row.groups) && row.thickness.hold(thickness);
    holdings().iter().find(own)
}

/// When a code asks for the treatment of a metal.
pub fn exemption(code: &str, metal: Numbered<'_>) -> Option<&'static ExemptionRow> {
    exemptions().iter().find(|row| row.code == code && metal.fits(row.p_number, row.groups))
}

/// The steps of lower temperature of a code for a metal, the least first.
pub fn lowered(code: &str, metal: Numbered<'_>) -> Vec<&'static LoweredRow> {
    lowereds().iter().filter(|row| row.code == code && metal.fits(row.p_number, row.groups)).collect()
}

/// The limit of `heating` or `cooling` of a code for a P-Number; that of the P-Number goes before that of all.
pub fn rate(code: &str, change: &str, p_number: &str) -> Option<&'static RateRow> {
    let own = |row: &&RateRow| row.code == code && row.change == change;
    let of = rates().iter().filter(own).find(|row| row.p_numbers.iter().any(|one| find::same(one, p_number)));
    of.or_else(|| rates().iter().filter(own).find(|row| row.p_numbers.is_empty()))
}

/// The codes of construction that have holding times.
pub fn codes() -> Vec<&'static str> {
    let mut codes: Vec<&str> = holdings().iter().map(|row| row.code).collect();
    codes.dedup();
    codes
}

/// The P-Numbers that a code has, for messages.
pub fn p_numbers(code: &str) -> Vec<&'static str> {
    let mut numbers: Vec<&str> = holdings().iter().filter(|row| row.code == code).map(|row| row.p_number).collect();
    numbers.dedup();
    numbers
}
