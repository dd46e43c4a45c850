//! Sizes by which sheet and pipe are sold: gauge numbers of sheet, schedules of pipe.

use crate::find;
use crate::table::{Origin, table};

table!(GAUGES, gauges, "sheet-gauges", GaugeRow);
table!(SCHEDULES, schedules, "pipe-schedules", ScheduleRow);

/// A gauge number of a system.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeRow {
    /// `steel`, `galvanized`, `stainless`, `aluminium`, `swg` or `bg`.
    pub system: &'static str,
    /// The number.
    pub gauge: i32,
    /// Thickness in inches, where the gauge defines it so.
    pub thickness_in: Option<f64>,
    /// Thickness in millimetres, where the source prints it so.
    pub thickness_mm: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A pipe of a nominal size and schedule.
#[derive(Debug, Clone, PartialEq)]
pub struct ScheduleRow {
    /// Nominal size, such as `6` or `1-1/2`.
    pub nps: &'static str,
    /// Outside diameter in inches.
    pub od_in: f64,
    /// Outside diameter in millimetres.
    pub od_mm: f64,
    /// Schedule or weight class.
    pub schedule: &'static str,
    /// Wall in inches.
    pub wall_in: f64,
    /// Wall in millimetres.
    pub wall_mm: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The row of a gauge that is defined in inches.
pub fn gauge(system: &str, number: i32) -> Option<&'static GaugeRow> {
    gauges().iter().find(|row| row.gauge == number && row.thickness_in.is_some() && find::same(row.system, system))
}

/// The row of a pipe by nominal size and schedule; `STD` and `XS` are schedules 40 and 80 where the table has no row of theirs,
/// and `40S` and `80S` are the walls of 40 and 80.
pub fn schedule(nps: &str, schedule: &str) -> Option<&'static ScheduleRow> {
    let of = |name: &str| schedules().iter().find(|row| row.nps == nps && row.schedule.eq_ignore_ascii_case(name));
    let other = match schedule.to_ascii_uppercase().as_str() {
        "STD" | "40S" => "40",
        "XS" | "80S" => "80",
        "40" => "STD",
        "80" => "XS",
        _ => "",
    };
    of(schedule).or_else(|| of(other))
}

#[cfg(test)]
mod tests {
    use super::*;

    // ASME B36.10M: NPS 2 schedule 40 is 60.3 x 3.91 mm, NPS 6 schedule 80 is 168.3 x 10.97 mm (from memory).
    #[test]
    fn common_pipes_are_found() {
        let row = schedule("2", "std").unwrap();
        assert!((row.od_mm - 60.3).abs() < 1e-9 && (row.wall_mm - 3.91).abs() < 1e-9, "{row:?}");
        assert!((schedule("6", "XS").unwrap().wall_mm - 10.97).abs() < 1e-9);
        assert!(schedule("6", "41").is_none());
    }

    #[test]
    fn walls_in_both_units_agree_and_gauges_fall() {
        for row in schedules() {
            assert!((row.wall_in * 25.4 - row.wall_mm).abs() < 0.02, "{row:?}");
            assert!((row.od_in * 25.4 - row.od_mm).abs() < 0.5, "{row:?}");
            assert!(row.od_mm > 2.0 * row.wall_mm, "{row:?}");
        }
        for own in gauges() {
            let thinner = gauge(own.system, own.gauge + 1).and_then(|row| row.thickness_in);
            if let (Some(thick), Some(thin)) = (own.thickness_in, thinner) {
                assert!(thin < thick, "{own:?}");
            }
        }
    }
}
