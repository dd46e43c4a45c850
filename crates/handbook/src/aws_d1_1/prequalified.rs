//! AWS D1.1: limits of prequalified procedures, and the least fillet.

use crate::find;
use crate::measure::{Inches, Size};
use crate::processes;
use crate::table::{Origin, table};

table!(PREQUALIFIED, prequalified, "aws-d1-1-prequalified", PrequalifiedRow);
table!(MINIMUM_FILLET, minimum_fillets, "aws-d1-1-minimum-fillet", MinimumFilletRow);

/// What prequalified procedures are limited in, by name.
pub mod quantity {
    crate::table::named!("aws-d1-1-prequalified");
}

/// A limit of prequalified procedures.
#[derive(Debug, Clone, PartialEq)]
pub struct PrequalifiedRow {
    /// `electrode-diameter`, `current`, `root-pass-thickness`, `fill-pass-thickness` or `single-pass-fillet`.
    pub quantity: &'static str,
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// `flat`, `horizontal`, `vertical` or `overhead`; all where absent.
    pub position: Option<&'static str>,
    /// Kind of weld; all where absent.
    pub weld: Option<&'static str>,
    /// `single`, `parallel` or `multiple` electrodes.
    pub electrodes: Option<&'static str>,
    /// Largest value, in `unit`; unlimited where absent.
    pub maximum: Option<f64>,
    /// Largest length in inches as printed.
    pub maximum_in: Option<Inches>,
    /// Unit of the largest value.
    pub unit: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Least fillet by thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct MinimumFilletRow {
    /// Thickness above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// Thickness up to which the row holds, in millimetres.
    pub up_to_mm: Option<f64>,
    /// Thickness above which the row holds, in inches as printed.
    pub over_in: Option<Inches>,
    /// Thickness up to which the row holds, in inches as printed.
    pub up_to_in: Option<Inches>,
    /// Least leg in millimetres.
    pub leg_min_mm: f64,
    /// Least leg in inches, as printed.
    pub leg_min_in: Inches,
    /// Where the row comes from.
    pub origin: Origin,
}

impl PrequalifiedRow {
    /// Whether a size is within the limit of the unit that it is stated in.
    pub fn permits(&self, size: Size) -> bool {
        size.up_to(self.maximum, self.maximum_in)
    }
}

/// Limits of a quantity for a process (number or letters) and a position; rows without a position hold in all.
pub fn limits(quantity: &str, process: &str, position: &str) -> Vec<&'static PrequalifiedRow> {
    let number = processes::number_of(process);
    prequalified()
        .iter()
        .filter(|row| find::same(row.quantity, quantity) && row.processes.contains(&number))
        .filter(|row| row.position.is_none_or(|own| find::same(own, position)))
        .collect()
}

/// The least fillet for a base metal thickness.
pub fn minimum_fillet(thickness: Size) -> Option<&'static MinimumFilletRow> {
    minimum_fillets()
        .iter()
        .find(|row| thickness.over(row.over_mm, row.over_in) && thickness.up_to(row.up_to_mm, row.up_to_in))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::sizes::{inches, mm};

    // AWS D1.1, least fillet: 3 mm to 6 mm, 5 mm to 12 mm, 6 mm to 20 mm, 8 mm above.
    #[test]
    fn least_fillet_steps_with_thickness() {
        let leg = |thickness| minimum_fillet(mm(thickness)).unwrap().leg_min_mm;
        assert!(
            [(6.0, 3.0), (6.1, 5.0), (12.0, 5.0), (20.0, 6.0), (20.1, 8.0)]
                .iter()
                .all(|(t, l): &(f64, f64)| (leg(*t) - l).abs() < 1e-9)
        );
    }

    // AWS D1.1:2020 Table 7.7: up to 1/4, 1/2, 3/4 in and above 1/8, 3/16, 1/4, 5/16 in.
    #[test]
    fn least_fillet_in_inches_has_the_bounds_in_inches() {
        let leg = |text| minimum_fillet(inches(text)).unwrap().leg_min_in.to_string();
        for (thickness, least) in [("1/4", "1/8"), ("1/2", "3/16"), ("3/4", "1/4"), ("1-1/2", "5/16"), ("5/16", "3/16")]
        {
            assert_eq!(leg(thickness), least, "{thickness}");
        }
    }

    // AWS D1.1, prequalified limits: covered electrodes 8.0 mm in flat fillets, 4.8 mm overhead.
    #[test]
    fn prequalified_limits_are_found_by_process_and_position() {
        let largest = |process, position, weld: &str| {
            let rows = limits("electrode-diameter", process, position);
            rows.into_iter().find(|row| row.weld.is_none_or(|own| own == weld)).and_then(|row| row.maximum)
        };
        assert_eq!(largest("SMAW", "flat", "fillet"), Some(8.0));
        assert_eq!(largest("SMAW", "overhead", "groove"), Some(4.8));
        assert_eq!(largest("FCAW-G", "vertical", "groove"), Some(2.4));
    }

    // AWS D1.1 Table 5.1: 5/16, 1/4, 3/16 in of covered electrodes; 3/8 in is no larger than the limit of 3/8 in (10 mm).
    #[test]
    fn prequalified_limits_hold_in_the_stated_unit() {
        let row = |quantity, position| limits(quantity, "SMAW", position).into_iter().next().unwrap();
        assert!(row("electrode-diameter", "overhead").permits(inches("3/16")));
        assert!(!row("electrode-diameter", "overhead").permits(inches("7/32")));
        assert!(row("electrode-diameter", "flat").permits(inches("5/16")));
        assert!(
            row("root-pass-thickness", "flat").permits(inches("3/8"))
                && row("root-pass-thickness", "flat").permits(mm(10.0))
        );
        assert!(!row("root-pass-thickness", "flat").permits(inches("13/32")));
    }
}
