//! AWS D1.1: what a procedure test covers, and which change needs a new one.

use crate::find;
use crate::measure::Size;
use crate::processes;
use crate::qualified::{self, Row as RangeRow};
use crate::table::{Origin, table};

table!(VARIABLES, variables, "aws-d1-1-variables", VariableRow);
table!(RANGES, ranges, "aws-d1-1-ranges", RangeRow);
table!(POSITIONS, positions, "aws-d1-1-positions", PositionRow);
table!(GROUPS, groups, "aws-d1-1-groups", GroupRow);

/// Positions that a procedure test covers: `flat`, `horizontal`, `vertical`, `overhead`.
#[derive(Debug, Clone, PartialEq)]
pub struct PositionRow {
    /// Product of the coupon: `plate` or `pipe`.
    pub product: &'static str,
    /// `groove` or `fillet`.
    pub weld: &'static str,
    /// Positions of the test, all of them together.
    pub tested: &'static [&'static str],
    /// Positions covered.
    pub covers: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// Groups of base metal that a procedure test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupRow {
    /// Group of the tested metal.
    pub tested: &'static str,
    /// Groups covered.
    pub covers: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// A change that needs a new test.
#[derive(Debug, Clone, PartialEq)]
pub struct VariableRow {
    /// What changes.
    pub variable: &'static str,
    /// ISO 4063 numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub processes: &'static [&'static str],
    /// The change that counts, in words.
    pub change: &'static str,
    /// Increase above which the change counts, in `unit`.
    pub increase_over: Option<f64>,
    /// Decrease above which the change counts, in `unit`.
    pub decrease_over: Option<f64>,
    /// Unit of these figures: `%` of the tested value, `mm`, `°C` or `°`.
    pub unit: Option<&'static str>,
    /// The same figure in degrees Fahrenheit as printed, for a temperature.
    pub customary: Option<f64>,
    /// Whether it counts only where impact tests are needed.
    pub toughness: bool,
    /// Keys of a procedure that state it; `settings` stands for processes and runs.
    pub keys: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// The essential variables of a process (number or letters).
pub fn variables_of(process: &str) -> Vec<&'static VariableRow> {
    let number = processes::number_of(process);
    variables().iter().filter(|row| row.processes.is_empty() || row.processes.contains(&number)).collect()
}

/// The row of Table 6.2 for a plate test of this thickness.
pub fn plate_range(tested: Size) -> Option<&'static RangeRow> {
    qualified::holding(ranges(), "groove-thickness", tested).find(|row| row.product == Some("plate"))
}

/// The row of Table 6.2 for a pipe test of this thickness and outside diameter.
pub fn pipe_range(tested: Size, diameter: Size) -> Option<&'static RangeRow> {
    qualified::holding(ranges(), "groove-thickness", tested)
        .find(|row| row.product == Some("pipe") && row.holds_diameter(diameter))
}

/// The rows of positions whose tests were all made, for `plate` or `pipe` and `groove` or `fillet`.
pub fn positions_covered(product: &str, weld: &str, tested: &[&str]) -> Vec<&'static PositionRow> {
    positions()
        .iter()
        .filter(|row| find::same(row.product, product) && find::same(row.weld, weld))
        .filter(|row| row.tested.iter().all(|own| tested.iter().any(|test| crate::positions::same(own, test))))
        .collect()
}

/// The groups that a test in a group covers.
pub fn group(tested: &str) -> Option<&'static GroupRow> {
    find::by_name(groups(), tested, |row| [row.tested])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::band::Band;
    use crate::measure::sizes::{inches, mm};
    use crate::qualified::Span;

    #[test]
    fn ranges_are_sound() {
        qualified::tests::no_two_rows_hold(ranges());
        qualified::tests::a_test_covers_itself(ranges(), 3.0);
    }

    #[test]
    fn pipe_tests_qualify_diameter_beside_thickness() {
        let row = pipe_range(mm(12.0), mm(273.0)).unwrap();
        let (thickness, diameter) = (row.span(mm(12.0)), row.diameter_span(mm(273.0)));
        assert_eq!(thickness.band, Band::new(6.0, 24.0));
        assert_eq!(diameter.band, Band::at_least(273.0));
        let wide = pipe_range(mm(12.0), mm(700.0)).unwrap();
        assert_eq!(wide.diameter_span(mm(700.0)).band.low_end(), Some(600.0));
        assert!(plate_range(mm(25.0)).unwrap().span(mm(25.0)).band.high.is_infinite());
    }

    // AWS D1.1 Table 6.2: pipe of 3/4 in and more covers 3/8 in (10 mm) without upper limit; plate from 1 in has none either.
    #[test]
    fn tests_in_inches_qualify_in_inches() {
        let row = pipe_range(inches("3/4"), inches("6")).unwrap();
        let span = row.span(inches("3/4"));
        assert_eq!(span, Span { band: Band::at_least(0.375), unit: "in" });
        let other = row.other_span(inches("3/4"));
        assert_eq!(other, Span { band: Band::at_least(10.0), unit: "mm" });
        assert_eq!(row.diameter_span(inches("6")).band.low_end(), Some(6.0));
        assert!(plate_range(inches("1")).unwrap().span(inches("1")).band.high.is_infinite());
        let thin = plate_range(inches("3/8")).unwrap().span(inches("3/8"));
        assert_eq!(thin, Span { band: Band::new(0.125, 0.75), unit: "in" });
        assert_eq!(
            pipe_range(inches("1/2"), inches("24")).unwrap().diameter_span(inches("24")).band.low_end(),
            Some(24.0)
        );
    }
}
