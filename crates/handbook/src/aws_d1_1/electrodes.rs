//! AWS D1.1: fillers that match a steel, and how long a low-hydrogen electrode may lie in the air.

use crate::band::Band;
use crate::find;
use crate::table::{Origin, table};

table!(FILLERS, fillers, "aws-d1-1-fillers", FillerRow);
table!(EXPOSURE, exposures, "electrode-exposure", ExposureRow);

/// The fillers that match a group of steel.
#[derive(Debug, Clone, PartialEq)]
pub struct FillerRow {
    /// Group of the steel.
    pub group: &'static str,
    /// Least tensile strength of the class, ksi.
    pub strength_min_ksi: f64,
    /// Largest tensile strength of the class, ksi.
    pub strength_max_ksi: f64,
    /// By how much the named strength of a class may differ from its round figure, ksi.
    pub slack_ksi: f64,
    /// Whether covered electrodes have to be of low hydrogen.
    pub low_hydrogen: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// How long a low-hydrogen electrode may lie in the air, and how it is dried and held.
#[derive(Debug, Clone, PartialEq)]
pub struct ExposureRow {
    /// AWS specification of the electrodes.
    pub specification: &'static str,
    /// Least and largest tensile strength of the class, ksi.
    pub strength_ksi: Band,
    /// Whether the class has the mark of resistance to moisture (R), or is E7018M.
    pub resistant: bool,
    /// Longest exposure, h.
    pub exposure_h: f64,
    /// Longest exposure where tests prove it, h.
    pub tested_h: Option<f64>,
    /// Temperature of drying in degrees Celsius.
    pub drying_c: Band,
    /// Temperature of drying in degrees Fahrenheit, as the code prints it.
    pub drying_f: Band,
    /// Least time of drying, h.
    pub drying_h: f64,
    /// Least temperature of the holding oven in degrees Celsius.
    pub holding_c: f64,
    /// Least temperature of the holding oven in degrees Fahrenheit, as the code prints it.
    pub holding_f: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The fillers that match a group of steel.
pub fn filler_group(group: &str) -> Option<&'static FillerRow> {
    find::by_name(fillers(), group, |row| [row.group])
}

/// Exposure, drying and holding of a low-hydrogen electrode by its AWS class (`E7018`, `E8018-C3`, `E7018-1H4R`); nothing for
/// other classes.
pub fn exposure(class: &str) -> Option<&'static ExposureRow> {
    let class = class.trim().to_uppercase();
    let digits: String = class.strip_prefix('E')?.chars().take_while(char::is_ascii_digit).collect();
    let (strength, kind) = digits.split_at_checked(digits.len().checked_sub(2)?)?;
    let strength: f64 = strength.parse().ok()?;
    if !matches!(kind, "15" | "16" | "18" | "28" | "48") {
        return None;
    }
    let rest = &class[1 + digits.len()..];
    // A5.5 names its alloys behind a hyphen; -1 and the marks of hydrogen (H4, H4R) are of A5.1.
    let alloy = rest.strip_prefix('-').is_some_and(|own| own.starts_with(|c: char| c.is_ascii_uppercase() && c != 'H'));
    let resistant = rest.ends_with('R') || rest.trim_start().starts_with('M') && !alloy;
    let specification = if alloy || rest.starts_with("-M") { "A5.5" } else { "A5.1" };
    let fits = |row: &&ExposureRow| {
        row.specification == specification && (row.strength_ksi.low..=row.strength_ksi.high).contains(&strength)
    };
    let own = |row: &&ExposureRow| fits(row) && row.resistant == resistant;
    exposures().iter().find(own).or_else(|| exposures().iter().find(fits))
}
