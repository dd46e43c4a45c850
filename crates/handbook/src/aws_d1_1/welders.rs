//! AWS D1.1: what a welder's test covers. Bounds stand in inches and in millimetres, as the code prints them.

use crate::band::Band;
use crate::find;
use crate::measure::{Inches, Size, converted};
use crate::table::{Origin, table};

table!(POSITIONS, positions, "aws-d1-1-welder-positions", PositionRow);
table!(RANGES, ranges, "aws-d1-1-welder-ranges", RangeRow);
table!(GROUPS, groups, "aws-d1-1-welder-groups", GroupRow);

/// Positions that a test covers: `flat`, `horizontal`, `vertical`, `overhead`.
#[derive(Debug, Clone, PartialEq)]
pub struct PositionRow {
    /// Product of the coupon: `plate` or `pipe`.
    pub product: &'static str,
    /// `groove` or `fillet`.
    pub weld: &'static str,
    /// Positions of the test, all of them together.
    pub tested: &'static [&'static str],
    /// Positions for grooves in plate.
    #[cfg_attr(false, optional)]
    pub plate_groove: &'static [&'static str],
    /// Positions for butt joints of pipe.
    #[cfg_attr(false, optional)]
    pub pipe_groove: &'static [&'static str],
    /// Positions for fillets on plate.
    #[cfg_attr(false, optional)]
    pub plate_fillet: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// Thickness and outside diameter that a coupon covers, in both units of the code.
#[derive(Debug, Clone, PartialEq)]
pub struct RangeRow {
    /// Product of the coupon: `plate` or `pipe`.
    pub product: &'static str,
    /// Weld of the coupon: `groove` or `fillet`.
    pub weld: &'static str,
    /// Production welds that the row is about: `groove` or `fillet`.
    pub covers: &'static str,
    tested_from_in: Option<Inches>,
    tested_from_mm: Option<f64>,
    tested_over_in: Option<Inches>,
    tested_over_mm: Option<f64>,
    tested_up_to_in: Option<Inches>,
    tested_up_to_mm: Option<f64>,
    tested_below_in: Option<Inches>,
    tested_below_mm: Option<f64>,
    diameter_over_in: Option<Inches>,
    diameter_over_mm: Option<f64>,
    diameter_up_to_in: Option<Inches>,
    diameter_up_to_mm: Option<f64>,
    from_in: Option<Inches>,
    from_mm: Option<f64>,
    to_in: Option<Inches>,
    to_mm: Option<f64>,
    to_times: Option<f64>,
    diameter_from_in: Option<Inches>,
    diameter_from_mm: Option<f64>,
    diameter_from_times: Option<f64>,
    diameter_to_in: Option<Inches>,
    diameter_to_mm: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Groups of covered electrodes that a test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupRow {
    /// Group of the test: `F1` to `F4`.
    pub tested: &'static str,
    /// Classes of the group, in words.
    pub classes: &'static str,
    /// Groups covered.
    pub covers: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// The figure that the code prints in the unit of a size.
fn printed(size: Size, mm: Option<f64>, inches: Option<Inches>) -> Option<f64> {
    let (figure, unit) = size.column(mm, inches)?;
    Some(converted(figure, unit, size.unit()))
}

impl RangeRow {
    /// Whether the row holds for a coupon of this thickness, and outside diameter where it is pipe.
    pub fn holds(&self, thickness: Size, diameter: Option<Size>) -> bool {
        thickness.from(self.tested_from_mm, self.tested_from_in)
            && thickness.over(self.tested_over_mm, self.tested_over_in)
            && thickness.up_to(self.tested_up_to_mm, self.tested_up_to_in)
            && thickness.below(self.tested_below_mm, self.tested_below_in)
            && diameter.is_none_or(|own| own.over(self.diameter_over_mm, self.diameter_over_in))
            && diameter.map_or(self.diameter_up_to_mm.is_none(), |own| {
                own.up_to(self.diameter_up_to_mm, self.diameter_up_to_in)
            })
    }

    /// The thickness covered, in the column of the coupon's unit.
    pub fn thickness(&self, tested: Size) -> Band {
        let high = printed(tested, self.to_mm, self.to_in).or(self.to_times.map(|times| times * tested.figure()));
        Band::of((printed(tested, self.from_mm, self.from_in), high))
    }

    /// The outside diameter covered, in the column of `unit`'s unit.
    pub fn diameter(&self, unit: Size, tested: Option<Size>) -> Band {
        let share = self.diameter_from_times.zip(tested).map(|(times, tested)| times * tested.figure());
        let low = printed(unit, self.diameter_from_mm, self.diameter_from_in);
        let high = printed(unit, self.diameter_to_mm, self.diameter_to_in);
        Band::of((low.into_iter().chain(share).reduce(f64::max), high))
    }
}

/// The row for a coupon: its product, its weld, the welds asked about, and its measures.
pub fn range(
    (product, weld, covers): (&str, &str, &str),
    thickness: Size,
    diameter: Option<Size>,
) -> Option<&'static RangeRow> {
    ranges().iter().find(|row| {
        row.product == product && row.weld == weld && row.covers == covers && row.holds(thickness, diameter)
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
    find::by_name(groups(), name, |row| [row.tested])
}

#[cfg(test)]
mod tests {
    use super::*;

    // AWS D1.1 Table 6.11 and Table 10.13: both sides of each bound, in both units.
    #[test]
    fn a_coupon_covers_what_the_column_of_its_unit_says() {
        let groove = |tested: Size| range(("plate", "groove", "groove"), tested, None).map(|row| row.thickness(tested));
        let inches = |figure| Size::from_inches(figure).unwrap();
        let mm = |figure| Size::from_mm(figure).unwrap();
        assert_eq!(groove(inches(0.374)), None);
        assert_eq!(groove(inches(0.375)), Some(Band::new(0.125, 0.75)));
        assert_eq!(groove(inches(0.5)), Some(Band::new(0.125, 1.0)));
        assert_eq!(groove(inches(1.0)), Some(Band::at_least(0.125)));
        assert_eq!(groove(mm(9.9)), None);
        assert_eq!(groove(mm(10.0)), Some(Band::new(3.0, 20.0)));
        assert_eq!(groove(mm(24.9)), Some(Band::new(3.0, 49.8)));
        assert_eq!(groove(mm(25.0)), Some(Band::at_least(3.0)));
        let pipe = |tested: Size, diameter: Size| {
            range(("pipe", "groove", "groove"), tested, Some(diameter))
                .map(|row| (row.thickness(tested), row.diameter(tested, Some(diameter))))
        };
        let small = Band::new(0.125, 0.75);
        assert_eq!(pipe(inches(0.337), inches(4.5)), Some((small, Band::new(1.05, 4.5))));
        assert_eq!(pipe(inches(0.375), inches(6.625)), Some((small, Band::at_least(4.5))));
        assert_eq!(pipe(inches(0.5), inches(12.75)), Some((Band::at_least(0.1875), Band::at_least(6.375))));
        assert_eq!(pipe(mm(11.0), mm(168.3)), Some((Band::at_least(5.0), Band::at_least(114.3))));
        // 3/8 in and 4-1/2 in are on their bounds in inches, 9.525 mm and 114.3 mm in millimetres.
        assert_eq!(pipe(mm(9.525), mm(114.31)), Some((Band::new(3.0, 20.0), Band::at_least(114.3))));
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
