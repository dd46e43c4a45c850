//! What a workshop and a class go by: connectors of cables, rules for a lesson, faults with cause and remedy.

use crate::band::Band;
use crate::find;
use crate::metal_families;
use crate::processes;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(CONNECTORS, connectors, "cable-connectors", ConnectorRow);
table!(LESSON_RULES, lesson_rules, "lesson-rules", Rule);
named!("lesson-rules");
table!(FAULTS, faults, "weld-faults", FaultRow);
table!(MEASURES, measures, "lesson-measures", MeasureRow);

/// A plug connector of welding cables.
#[derive(Debug, Clone, PartialEq)]
pub struct ConnectorRow {
    /// Smallest cable, in square millimetres.
    pub from_mm2: f64,
    /// Largest cable, in square millimetres.
    pub to_mm2: f64,
    /// Current in amperes, lowest and highest of usual markings.
    pub current_a: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A fault of a weld.
#[derive(Debug, Clone, PartialEq)]
pub struct FaultRow {
    /// Its usual name.
    pub fault: &'static str,
    /// ISO 4063 numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub processes: &'static [&'static str],
    /// Families of metal; all where empty.
    #[cfg_attr(false, optional)]
    pub families: &'static [&'static str],
    /// What brings it about.
    pub cause: &'static str,
    /// What to change.
    pub remedy: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A measure on a practice weld, and the imperfection that it shows.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasureRow {
    /// Its names: leg, reinforcement, undercut.
    pub measures: &'static [&'static str],
    /// `butt` or `fillet`; both where absent.
    pub weld: Option<&'static str>,
    /// Number of the imperfection in ISO 5817.
    pub imperfection: &'static str,
    /// Whether the accepted figure is that of the imperfection and not of the whole weld.
    #[cfg_attr(false, optional)]
    pub of_its_own: bool,
    /// What the limit is a limit of.
    pub reads: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The connector for a range of cables as it is marked: `10-25 mm2`, `35/50`. Nothing for another kind of connector.
pub fn connector(marking: &str) -> Option<&'static ConnectorRow> {
    let mut figures = marking
        .split(|letter: char| !letter.is_ascii_digit() && letter != '.')
        .filter_map(|figure| figure.parse::<f64>().ok());
    let (from, to) = (figures.next()?, figures.next()?);
    connectors().iter().find(|row| (row.from_mm2 - from).abs() < 0.5 && (row.to_mm2 - to).abs() < 0.5)
}

/// The faults that a process (number or letters) may show on a family of metal.
pub fn faults_of(process: &str, family: &str) -> Vec<&'static FaultRow> {
    let number = processes::get(process).map_or(process, |row| row.number);
    let on = |row: &&FaultRow| {
        (row.processes.is_empty() || row.processes.contains(&number))
            && (row.families.is_empty() || row.families.iter().any(|own| metal_families::is_in(family, own)))
    };
    faults().iter().filter(on).collect()
}

/// The imperfections of ISO 5817 that a measure (leg, undercut) shows on a `butt` or a `fillet` weld.
pub fn measured(what: &str, weld: &str) -> Vec<&'static MeasureRow> {
    let fits = |row: &&MeasureRow| {
        row.weld.is_none_or(|own| own == weld) && row.measures.iter().any(|own| find::same(own, what))
    };
    measures().iter().filter(fits).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_measure_shows_an_imperfection_of_iso_5817() {
        for row in measures() {
            assert!(crate::iso_5817::rows().iter().any(|known| known.number == row.imperfection), "{row:?}");
        }
        let numbers = |what, weld| measured(what, weld).iter().map(|row| row.imperfection).collect::<Vec<_>>();
        assert_eq!(numbers("Undercut", "butt"), ["1.7"]);
        assert_eq!(numbers("reinforcement", "fillet"), ["1.10"]);
        assert_eq!(numbers("reinforcement", "butt"), ["1.9"]);
        assert!(numbers("arc voltage", "butt").is_empty());
    }

    #[test]
    fn connectors_are_read_as_they_are_marked() {
        assert!(connector("10-25 mm2").unwrap().current_a.contains(200.0));
        assert!(connector("35/50").unwrap().current_a.high > connector("10-25").unwrap().current_a.high);
        assert!(connector("bayonet").is_none() && connector("9-13 mm2").is_none());
    }

    #[test]
    fn processes_and_families_of_faults_exist() {
        for row in faults() {
            assert!(row.processes.iter().all(|number| processes::get(number).is_some()), "{row:?}");
            assert!(row.families.iter().all(|family| !metal_families::chain(family).is_empty()), "{row:?}");
        }
    }

    // The trade's own list: tungsten only where there is a tungsten electrode, slag only where there is slag.
    #[test]
    fn faults_go_with_their_process() {
        let names = |process: &str, family: &str| -> Vec<&str> {
            faults_of(process, family).iter().map(|row| row.fault).collect()
        };
        assert!(names("GTAW", "carbon-steel").contains(&"tungsten inclusion"));
        assert!(!names("GTAW", "carbon-steel").contains(&"slag inclusion"));
        assert!(!names("GTAW", "carbon-steel").contains(&"sugaring"));
        assert!(names("141", "austenitic-stainless").contains(&"sugaring"));
        assert!(names("111", "carbon-steel").contains(&"slag inclusion"));
    }
}
