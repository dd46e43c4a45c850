//! Usual and widest settings by process: speed, angles, widths, pulse, diameters, thicknesses.

use crate::band::{Band, Limits};
use crate::find;
use crate::table::{Origin, named, table};

table!("setting-limits", Row);
named!("setting-limits");

/// The two ranges of a setting.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Name that a check asks for.
    pub quantity: &'static str,
    /// ISO 4063 numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub processes: &'static [&'static str],
    /// Usual range, in `unit`.
    pub usual: Band,
    /// Widest range, in `unit`.
    pub widest: Band,
    /// Unit of both, or what they are a ratio to.
    pub unit: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// The two ranges as limits.
    pub fn limits(&self) -> Limits {
        Limits {
            envelope: self.widest,
            usual: Some(self.usual),
            source: self.origin.source_ref(),
            doubt: self.origin.doubt,
        }
    }
}

/// The row of a quantity for a process (ISO 4063 number); a row without processes holds for all.
pub fn get(quantity: &str, process: &str) -> Option<&'static Row> {
    rows().iter().find(|row| {
        find::same(row.quantity, quantity) && (row.processes.is_empty() || row.processes.contains(&process))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{electrode_current, fcaw_parameters, gmaw_parameters, gtaw_starting_points, tungsten_current};

    #[test]
    fn the_usual_range_lies_in_the_widest() {
        for row in rows() {
            assert!(row.widest.covers(row.usual), "{} {:?}", row.quantity, row.processes);
        }
    }

    #[test]
    fn a_process_has_one_row_for_a_quantity() {
        for (index, row) in rows().iter().enumerate() {
            for other in rows().iter().skip(index + 1).filter(|other| other.quantity == row.quantity) {
                assert!(!row.processes.is_empty() && !other.processes.is_empty(), "{}", row.quantity);
                assert!(row.processes.iter().all(|own| !other.processes.contains(own)), "{}", row.quantity);
            }
        }
    }

    /// The row of a quantity for a process.
    fn row(quantity: &str, process: &str) -> &'static Row {
        get(quantity, process).unwrap_or_else(|| panic!("{quantity} {process}"))
    }

    // The settings in the tables of the handbook are good practice: a limit that they leave would cry wolf.
    #[test]
    fn travel_speeds_of_the_tables_are_usual() {
        let tungsten = gtaw_starting_points::rows().iter().filter_map(|row| Some(("141", row.travel_mm_min?)));
        let wire = gmaw_parameters::rows().iter().filter_map(|row| Some(("135", row.travel_mm_min?)));
        let first = gmaw_parameters::starting_points().iter().map(|row| ("135", row.travel_mm_min));
        let cored = fcaw_parameters::rows().iter().filter_map(|row| Some(("136", row.travel_mm_min?)));
        let all: Vec<_> = tungsten.chain(wire).chain(first).chain(cored).collect();
        for wanted in ["135", "136", "141"] {
            assert!(all.iter().any(|(process, _)| *process == wanted), "{wanted}");
        }
        for (process, speed) in all {
            assert!(row("travel-speed", process).usual.covers(speed), "{process} {speed:?}");
        }
    }

    // As above: the middle of current and rod of each starting point, as the check takes them.
    #[test]
    fn rods_of_the_starting_points_are_usual() {
        assert!(!gtaw_starting_points::rows().is_empty());
        for point in gtaw_starting_points::rows() {
            let ratio = point.current_a.middle() / point.filler_mm.middle();
            assert!(row("rod-for-current", "141").usual.contains(ratio), "{ratio} {point:?}");
        }
    }

    // As above, for the current of each electrode, wire and tungsten.
    #[test]
    fn currents_of_the_tables_are_usual() {
        for table in electrode_current::rows() {
            assert!(row("current", "111").usual.covers(table.envelope_a), "{table:?}");
        }
        for table in gmaw_parameters::rows() {
            assert!(row("current", "135").usual.covers(table.current_a), "{table:?}");
        }
        for table in fcaw_parameters::rows() {
            assert!(row("current", "136").usual.covers(table.current_a), "{table:?}");
        }
        for table in tungsten_current::rows() {
            assert!(row("current", "141").usual.covers(table.envelope_a), "{table:?}");
        }
    }

    // The diameters for which the handbook has a current are on sale.
    #[test]
    fn tungsten_electrodes_of_the_tables_are_made() {
        for table in tungsten_current::rows() {
            assert!(row("tungsten-diameter", "141").usual.contains(table.diameter_mm), "{table:?}");
        }
    }
}
