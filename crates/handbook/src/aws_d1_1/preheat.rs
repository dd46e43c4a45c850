//! AWS D1.1: least preheat by category and thickness.

use crate::find;
use crate::measure::{Heat, Inches, Size};
use crate::table::{Origin, table};

table!(PREHEAT, preheats, "aws-d1-1-preheat", PreheatRow);

/// Least preheat of a category and thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct PreheatRow {
    /// Category `A` to `D`.
    pub category: &'static str,
    /// Processes and electrodes in words.
    #[cfg_attr(false, key = "for")]
    pub label: &'static str,
    /// Thickness above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// Thickness up to which the row holds, in millimetres.
    pub up_to_mm: Option<f64>,
    /// Thickness above which the row holds, in inches as printed.
    pub over_in: Option<Inches>,
    /// Thickness up to which the row holds, in inches as printed.
    pub up_to_in: Option<Inches>,
    /// Least preheat and interpass temperature, in degrees Celsius.
    pub preheat_min_c: f64,
    /// Least preheat and interpass temperature, in degrees Fahrenheit as printed.
    pub preheat_min_f: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl PreheatRow {
    /// The least preheat in both units.
    pub fn heat(&self) -> Heat {
        Heat::new(self.preheat_min_c, self.preheat_min_f)
    }
}

/// The least preheat of a category (`A` to `D`) for a thickness.
pub fn preheat(category: &str, thickness: Size) -> Option<&'static PreheatRow> {
    preheats().iter().find(|row| {
        find::same(row.category, category)
            && thickness.over(row.over_mm, row.over_in)
            && thickness.up_to(row.up_to_mm, row.up_to_in)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::sizes::{inches, mm};

    // AWS D1.1, preheat table: category B, 25 mm, 10 °C; category A, 25 mm, 65 °C; category C over 65 mm, 150 °C.
    #[test]
    fn preheat_rises_with_category_and_thickness() {
        let least = |category, thickness| preheat(category, mm(thickness)).map(|row| row.preheat_min_c);
        assert_eq!(least("B", 25.0), Some(10.0));
        assert_eq!(least("a", 25.0), Some(65.0));
        assert_eq!(least("C", 80.0), Some(150.0));
        assert_eq!(least("D", 80.0), Some(0.0));
        assert_eq!(least("E", 10.0), None);
    }

    // AWS D1.1 Table 5.8 with TI 809-26 Table 3-1: 1-1/2 in stands in the row 3/4 through 1-1/2 in.
    #[test]
    fn preheat_in_inches_has_the_bounds_in_inches() {
        let least = |category, text| preheat(category, inches(text)).map(|row| row.heat().column(true));
        assert_eq!(least("B", "1-1/2"), Some((50.0, "°F")));
        assert_eq!(least("A", "1-1/2"), Some((150.0, "°F")));
        assert_eq!(least("C", "3/4"), Some((50.0, "°F")));
        assert_eq!(least("B", "2-1/2"), Some((150.0, "°F")));
        assert_eq!(preheat("B", mm(38.1)).unwrap().heat().column(false), (65.0, "°C"));
    }
}
