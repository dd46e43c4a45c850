//! AWS D1.1: what a welder's test covers. Bounds stand in inches and in millimetres, as the code prints them.

use serde::Deserialize;

use crate::find;
use crate::table::{Origin, table};

table!(POSITIONS, positions, "aws-d1-1-welder-positions", PositionRow);
table!(RANGES, ranges, "aws-d1-1-welder-ranges", RangeRow);
table!(GROUPS, groups, "aws-d1-1-welder-groups", GroupRow);

/// Positions that a test covers: `flat`, `horizontal`, `vertical`, `overhead`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct PositionRow {
    /// Product of the coupon: `plate` or `pipe`.
    pub product: String,
    /// `groove` or `fillet`.
    pub weld: String,
    /// Positions of the test, all of them together.
    pub tested: Vec<String>,
    /// Positions for grooves in plate.
    #[serde(default)]
    pub plate_groove: Vec<String>,
    /// Positions for butt joints of pipe.
    #[serde(default)]
    pub pipe_groove: Vec<String>,
    /// Positions for fillets on plate.
    #[serde(default)]
    pub plate_fillet: Vec<String>,
    /// Positions for fillets on pipe.
    #[serde(default)]
    pub pipe_fillet: Vec<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Thickness and outside diameter that a coupon covers, in both units of the code.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct RangeRow {
    /// Product of the coupon: `plate` or `pipe`.
    pub product: String,
    /// Weld of the coupon: `groove` or `fillet`.
    pub weld: String,
    /// Production welds that the row is about: `groove` or `fillet`.
    pub covers: String,
    tested_from_in: Option<f64>,
    tested_from_mm: Option<f64>,
    tested_over_in: Option<f64>,
    tested_over_mm: Option<f64>,
    tested_up_to_in: Option<f64>,
    tested_up_to_mm: Option<f64>,
    tested_below_in: Option<f64>,
    tested_below_mm: Option<f64>,
    diameter_over_in: Option<f64>,
    diameter_over_mm: Option<f64>,
    diameter_up_to_in: Option<f64>,
    diameter_up_to_mm: Option<f64>,
    from_in: Option<f64>,
    from_mm: Option<f64>,
    to_in: Option<f64>,
    to_mm: Option<f64>,
    to_times: Option<f64>,
    diameter_from_in: Option<f64>,
    diameter_from_mm: Option<f64>,
    diameter_from_times: Option<f64>,
    diameter_to_in: Option<f64>,
    diameter_to_mm: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Groups of covered electrodes that a test covers.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct GroupRow {
    /// Group of the test: `F1` to `F4`.
    pub tested: String,
    /// Classes of the group, in words.
    pub classes: String,
    /// Groups covered.
    pub covers: Vec<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The column of the code that a coupon is held against: that of the unit in which it was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    /// Inches.
    Inches,
    /// Millimetres.
    Millimetres,
}

impl Column {
    /// The unit's symbol.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Inches => "in",
            Self::Millimetres => "mm",
        }
    }

    /// The column of the other unit.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Inches => Self::Millimetres,
            Self::Millimetres => Self::Inches,
        }
    }

    fn of(self, inches: Option<f64>, millimetres: Option<f64>) -> Option<f64> {
        match self {
            Self::Inches => inches,
            Self::Millimetres => millimetres,
        }
    }
}

/// Lowest and highest value; an open end has no limit.
pub type Ends = (Option<f64>, Option<f64>);

impl RangeRow {
    /// Whether the row holds for a coupon of this thickness, and outside diameter where it is pipe, in the unit of `column`.
    pub fn holds(&self, column: Column, thickness: f64, diameter: Option<f64>) -> bool {
        let at = |inches, millimetres| column.of(inches, millimetres);
        let across = diameter.unwrap_or(f64::INFINITY);
        at(self.tested_from_in, self.tested_from_mm).is_none_or(|from| from <= thickness)
            && at(self.tested_over_in, self.tested_over_mm).is_none_or(|over| over < thickness)
            && at(self.tested_up_to_in, self.tested_up_to_mm).is_none_or(|up_to| thickness <= up_to)
            && at(self.tested_below_in, self.tested_below_mm).is_none_or(|below| thickness < below)
            && at(self.diameter_over_in, self.diameter_over_mm).is_none_or(|over| over < across)
            && at(self.diameter_up_to_in, self.diameter_up_to_mm).is_none_or(|up_to| across <= up_to)
    }

    /// The thickness covered, in the unit of `column`.
    pub fn thickness(&self, column: Column, tested: f64) -> Ends {
        let high = column.of(self.to_in, self.to_mm).or(self.to_times.map(|times| times * tested));
        (column.of(self.from_in, self.from_mm), high)
    }

    /// The outside diameter covered, in the unit of `column`.
    pub fn diameter(&self, column: Column, tested: Option<f64>) -> Ends {
        let share = self.diameter_from_times.zip(tested).map(|(times, tested)| times * tested);
        let low = column.of(self.diameter_from_in, self.diameter_from_mm);
        (low.into_iter().chain(share).reduce(f64::max), column.of(self.diameter_to_in, self.diameter_to_mm))
    }
}

/// The row for a coupon: its product, its weld, the welds asked about, and its measures in the unit of `column`.
pub fn range(
    (product, weld, covers): (&str, &str, &str),
    column: Column,
    thickness: f64,
    diameter: Option<f64>,
) -> Option<&'static RangeRow> {
    ranges().iter().find(|row| {
        row.product == product && row.weld == weld && row.covers == covers && row.holds(column, thickness, diameter)
    })
}

/// The rows of positions whose tests were all made, for `plate` or `pipe` and `groove` or `fillet`.
pub fn positions_covered(product: &str, weld: &str, tested: &[&str]) -> Vec<&'static PositionRow> {
    positions()
        .iter()
        .filter(|row| row.product == product && row.weld == weld)
        .filter(|row| row.tested.iter().all(|own| tested.iter().any(|test| crate::positions::same(own, test))))
        .collect()
}

/// The group of a covered electrode with this name, `F1` to `F4`.
pub fn group(name: &str) -> Option<&'static GroupRow> {
    find::by_name(groups(), name, |row| [row.tested.as_str()])
}

#[cfg(test)]
mod tests {
    use super::*;

    // AWS D1.1 Table 6.11 and Table 10.13: both sides of each bound, in both units.
    #[test]
    fn a_coupon_covers_what_the_column_of_its_unit_says() {
        use Column::{Inches, Millimetres};
        let groove = |column, tested: f64| {
            range(("plate", "groove", "groove"), column, tested, None).map(|row| row.thickness(column, tested))
        };
        assert_eq!(groove(Inches, 0.374), None);
        assert_eq!(groove(Inches, 0.375), Some((Some(0.125), Some(0.75))));
        assert_eq!(groove(Inches, 0.5), Some((Some(0.125), Some(1.0))));
        assert_eq!(groove(Inches, 1.0), Some((Some(0.125), None)));
        assert_eq!(groove(Millimetres, 9.9), None);
        assert_eq!(groove(Millimetres, 10.0), Some((Some(3.0), Some(20.0))));
        assert_eq!(groove(Millimetres, 24.9), Some((Some(3.0), Some(49.8))));
        assert_eq!(groove(Millimetres, 25.0), Some((Some(3.0), None)));
        let pipe = |column, tested: f64, diameter: f64| {
            range(("pipe", "groove", "groove"), column, tested, Some(diameter))
                .map(|row| (row.thickness(column, tested), row.diameter(column, Some(diameter))))
        };
        assert_eq!(pipe(Inches, 0.337, 4.5), Some(((Some(0.125), Some(0.75)), (Some(1.05), Some(4.5)))));
        assert_eq!(pipe(Inches, 0.375, 6.625), Some(((Some(0.125), Some(0.75)), (Some(4.5), None))));
        assert_eq!(pipe(Inches, 0.5, 12.75), Some(((Some(0.1875), None), (Some(6.375), None))));
        assert_eq!(pipe(Millimetres, 11.0, 168.3), Some(((Some(5.0), None), (Some(114.3), None))));
    }

    // AWS D1.1 Table 6.10: 3G covers flat, horizontal and vertical; 3G and 4G together all; 4F flat, horizontal, overhead.
    #[test]
    fn positions_add_up() {
        let plate = |tested: &[&str], weld: &str| positions_covered("plate", weld, tested);
        assert_eq!(plate(&["3G"], "groove")[0].plate_groove, ["flat", "horizontal", "vertical"]);
        assert!(plate(&["3G", "4G"], "groove").iter().any(|row| row.plate_groove.len() == 4));
        assert_eq!(plate(&["4F"], "fillet")[0].plate_fillet, ["flat", "horizontal", "overhead"]);
        assert_eq!(group("f4").unwrap().covers.len(), 4);
        assert_eq!(group("F1").unwrap().covers, ["F1"]);
    }
}
