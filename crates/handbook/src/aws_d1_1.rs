//! AWS D1.1: essential variables, qualified ranges, preheat, prequalified limits and joints, fillets, fit-up, acceptance.

use serde::Deserialize;

use crate::find;
use crate::processes;
use crate::qualified::{self, Row as RangeRow, Span};
use crate::range::Range;
use crate::rule::{self, Rule};
use crate::table::{Origin, table};

table!(VARIABLES, variables, "aws-d1-1-variables", VariableRow);
table!(RANGES, ranges, "aws-d1-1-ranges", RangeRow);
table!(RULES, rules, "aws-d1-1-rules", Rule);
table!(PREHEAT, preheats, "aws-d1-1-preheat", PreheatRow);
table!(PREQUALIFIED, prequalified, "aws-d1-1-prequalified", PrequalifiedRow);
table!(MINIMUM_FILLET, minimum_fillets, "aws-d1-1-minimum-fillet", MinimumFilletRow);
table!(FIT_UP, fit_ups, "aws-d1-1-fit-up", FitUpRow);
table!(JOINTS, joints, "aws-d1-1-joints", JointRow);
table!(JOINT_MARKS, joint_marks, "aws-joint-marks", JointMarkRow);
table!(ACCEPTANCE, acceptances, "aws-d1-1-acceptance", AcceptanceRow);
table!(POSITIONS, positions, "aws-d1-1-positions", PositionRow);
table!(GROUPS, groups, "aws-d1-1-groups", GroupRow);

/// Positions that a procedure test covers: `flat`, `horizontal`, `vertical`, `overhead`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct PositionRow {
    /// Product of the coupon: `plate` or `pipe`.
    pub product: String,
    /// `groove` or `fillet`.
    pub weld: String,
    /// Positions of the test, all of them together.
    pub tested: Vec<String>,
    /// Positions covered.
    pub covers: Vec<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Groups of base metal that a procedure test covers.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct GroupRow {
    /// Group of the tested metal.
    pub tested: String,
    /// Groups covered.
    pub covers: Vec<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A change that needs a new test.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct VariableRow {
    /// What changes.
    pub variable: String,
    /// ISO 4063 numbers; all where empty.
    #[serde(default)]
    pub processes: Vec<String>,
    /// The change that counts, in words.
    pub change: String,
    /// Increase above which the change counts, in `unit`.
    pub increase_over: Option<f64>,
    /// Decrease above which the change counts, in `unit`.
    pub decrease_over: Option<f64>,
    /// Unit of these figures: `%` of the tested value, `mm`, `°C` or `°`.
    pub unit: Option<String>,
    /// Whether it counts only where impact tests are needed.
    pub toughness: bool,
    /// Keys of a procedure that state it; `settings` stands for processes and runs.
    pub keys: Vec<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Least preheat of a category and thickness.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct PreheatRow {
    /// Category `A` to `D`.
    pub category: String,
    /// Processes and electrodes in words.
    #[serde(rename = "for")]
    pub label: String,
    /// Thickness above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// Thickness up to which the row holds, in millimetres.
    pub up_to_mm: Option<f64>,
    /// Least preheat and interpass temperature, in degrees Celsius.
    pub preheat_min_c: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A limit of prequalified procedures.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct PrequalifiedRow {
    /// `electrode-diameter`, `current`, `root-pass-thickness`, `fill-pass-thickness` or `single-pass-fillet`.
    pub quantity: String,
    /// ISO 4063 numbers.
    pub processes: Vec<String>,
    /// `flat`, `horizontal`, `vertical` or `overhead`; all where absent.
    pub position: Option<String>,
    /// Kind of weld; all where absent.
    pub weld: Option<String>,
    /// `single`, `parallel` or `multiple` electrodes.
    pub electrodes: Option<String>,
    /// Largest value, in `unit`; unlimited where absent.
    pub maximum: Option<f64>,
    /// Unit of the largest value.
    pub unit: String,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Least fillet by thickness.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct MinimumFilletRow {
    /// Thickness above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// Thickness up to which the row holds, in millimetres.
    pub up_to_mm: Option<f64>,
    /// Least leg in millimetres.
    pub leg_min_mm: f64,
    /// Least leg in inches, as printed.
    pub leg_min_in: String,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A tolerance of fit-up.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct FitUpRow {
    /// `as-detailed`, `as-fit-up` or `fabrication`.
    pub stage: String,
    /// The groove in words.
    pub detail: String,
    /// `root opening`, `root face` or `groove angle`.
    pub dimension: String,
    /// Largest excess, in `unit`.
    pub plus: f64,
    /// Largest shortfall, in `unit`.
    pub minus: f64,
    /// Unit of both.
    pub unit: String,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A prequalified joint, one choice of opening and angle.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct JointRow {
    /// Designation, such as `B-U2a`.
    pub designation: String,
    /// ISO 4063 numbers.
    pub processes: Vec<String>,
    /// When the row holds, in words.
    pub condition: Option<String>,
    /// Least thickness in inches.
    pub thickness_min_in: Option<f64>,
    /// Largest thickness in inches; unlimited where absent.
    pub thickness_max_in: Option<f64>,
    /// Largest thickness in millimetres, as the metric edition prints it.
    pub thickness_max_mm: Option<f64>,
    /// Root opening in inches.
    pub root_opening_in: Option<Range>,
    /// Root opening as a share of the thickness.
    pub root_opening_thicknesses: Option<f64>,
    /// Groove angle in degrees.
    pub angle_deg: Option<f64>,
    /// Root face in inches.
    pub root_face_in: Option<Range>,
    /// Least root face in inches.
    pub root_face_min_in: Option<f64>,
    /// Root radius in inches.
    pub root_radius_in: Option<f64>,
    /// Effective throat of a partial penetration groove, in words.
    pub effective_throat: Option<String>,
    /// Positions permitted; all where empty.
    #[serde(default)]
    pub positions: Vec<String>,
    /// Whether the joint has backing.
    pub backing: bool,
    /// Whether the root is back gouged.
    pub back_gouged: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A mark in a joint designation.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct JointMarkRow {
    /// The letter or digit.
    pub mark: String,
    /// `letter` or `digit`.
    pub place: String,
    /// What it says.
    pub means: String,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A limit of visual inspection.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct AcceptanceRow {
    /// The imperfection in words.
    pub imperfection: String,
    /// When the row holds.
    pub condition: Option<String>,
    /// The limit in words.
    pub limit: String,
    /// The limit in millimetres, where it is one figure.
    pub maximum_mm: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

fn number(process: &str) -> &str {
    processes::get(process).map_or(process, |row| row.number.as_str())
}

fn between(over_mm: Option<f64>, up_to_mm: Option<f64>, thickness_mm: f64) -> bool {
    over_mm.is_none_or(|over| over < thickness_mm) && up_to_mm.is_none_or(|up_to| thickness_mm <= up_to)
}

/// The essential variables of a process (number or letters).
pub fn variables_of(process: &str) -> Vec<&'static VariableRow> {
    let number = number(process);
    variables().iter().filter(|row| row.processes.is_empty() || row.processes.iter().any(|own| own == number)).collect()
}

/// The thickness that a plate test of this thickness in millimetres qualifies.
pub fn plate_range(tested_mm: f64) -> Option<(Span, &'static RangeRow)> {
    qualified::holding(ranges(), "groove-thickness", tested_mm)
        .find(|row| row.product.as_deref() == Some("plate"))
        .map(|row| (row.span(tested_mm), row))
}

/// The thickness and the outside diameter that a pipe test qualifies, by thickness and outside diameter in millimetres.
pub fn pipe_range(tested_mm: f64, diameter_mm: f64) -> Option<(Span, Span, &'static RangeRow)> {
    qualified::holding(ranges(), "groove-thickness", tested_mm)
        .find(|row| row.product.as_deref() == Some("pipe") && row.holds_diameter(diameter_mm))
        .map(|row| (row.span(tested_mm), row.diameter_span(diameter_mm), row))
}

/// The rows of positions whose tests were all made, for `plate` or `pipe` and `groove` or `fillet`.
pub fn positions_covered(product: &str, weld: &str, tested: &[&str]) -> Vec<&'static PositionRow> {
    positions()
        .iter()
        .filter(|row| find::same(&row.product, product) && find::same(&row.weld, weld))
        .filter(|row| row.tested.iter().all(|own| tested.iter().any(|test| crate::positions::same(own, test))))
        .collect()
}

/// The groups that a test in a group covers.
pub fn group(tested: &str) -> Option<&'static GroupRow> {
    find::by_name(groups(), tested, |row| [row.tested.as_str()])
}

/// The least preheat of a category (`A` to `D`) for a thickness in millimetres.
pub fn preheat(category: &str, thickness_mm: f64) -> Option<&'static PreheatRow> {
    preheats()
        .iter()
        .find(|row| find::same(&row.category, category) && between(row.over_mm, row.up_to_mm, thickness_mm))
}

/// Limits of a quantity for a process (number or letters) and a position; rows without a position hold in all.
pub fn limits(quantity: &str, process: &str, position: &str) -> Vec<&'static PrequalifiedRow> {
    let number = number(process);
    prequalified()
        .iter()
        .filter(|row| find::same(&row.quantity, quantity) && row.processes.iter().any(|own| own == number))
        .filter(|row| row.position.as_deref().is_none_or(|own| find::same(own, position)))
        .collect()
}

/// The least fillet for a base metal thickness in millimetres.
pub fn minimum_fillet(thickness_mm: f64) -> Option<&'static MinimumFilletRow> {
    minimum_fillets().iter().find(|row| between(row.over_mm, row.up_to_mm, thickness_mm))
}

/// The choices of a prequalified joint.
pub fn joint(designation: &str) -> Vec<&'static JointRow> {
    joints().iter().filter(|row| find::same(&row.designation, designation)).collect()
}

/// Designations of joints that are spelt most like this one.
pub fn nearest_joints(designation: &str) -> Vec<&'static str> {
    find::nearest(designation, joints().iter().map(|row| row.designation.as_str()))
}

/// The rule with this name, such as `fillet-gap`, `butt-offset` or `inspection-wait`.
pub fn rule(name: &str) -> Option<&'static Rule> {
    rule::get(rules(), name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_are_sound() {
        qualified::tests::no_two_rows_hold(ranges());
        qualified::tests::a_test_covers_itself(ranges(), 3.0);
    }

    // AWS D1.1, preheat table: category B, 25 mm, 10 °C; category A, 25 mm, 65 °C; category C over 65 mm, 150 °C.
    #[test]
    fn preheat_rises_with_category_and_thickness() {
        let least = |category, thickness| preheat(category, thickness).map(|row| row.preheat_min_c);
        assert_eq!(least("B", 25.0), Some(10.0));
        assert_eq!(least("a", 25.0), Some(65.0));
        assert_eq!(least("C", 80.0), Some(150.0));
        assert_eq!(least("D", 80.0), Some(0.0));
        assert_eq!(least("E", 10.0), None);
    }

    // AWS D1.1, least fillet: 3 mm to 6 mm, 5 mm to 12 mm, 6 mm to 20 mm, 8 mm above.
    #[test]
    fn least_fillet_steps_with_thickness() {
        let leg = |thickness| minimum_fillet(thickness).unwrap().leg_min_mm;
        assert!(
            [(6.0, 3.0), (6.1, 5.0), (12.0, 5.0), (20.0, 6.0), (20.1, 8.0)]
                .iter()
                .all(|(t, l): &(f64, f64)| (leg(*t) - l).abs() < 1e-9)
        );
    }

    // AWS D1.1, prequalified limits: covered electrodes 8.0 mm in flat fillets, 4.8 mm overhead.
    #[test]
    fn prequalified_limits_are_found_by_process_and_position() {
        let largest = |process, position, weld: &str| {
            let rows = limits("electrode-diameter", process, position);
            rows.into_iter().find(|row| row.weld.as_deref().is_none_or(|own| own == weld)).and_then(|row| row.maximum)
        };
        assert_eq!(largest("SMAW", "flat", "fillet"), Some(8.0));
        assert_eq!(largest("SMAW", "overhead", "groove"), Some(4.8));
        assert_eq!(largest("FCAW-G", "vertical", "groove"), Some(2.4));
    }

    #[test]
    fn pipe_tests_qualify_diameter_beside_thickness() {
        let (thickness, diameter, _) = pipe_range(12.0, 273.0).unwrap();
        assert_eq!((thickness.low_mm, thickness.high_mm), (Some(6.0), Some(24.0)));
        assert_eq!((diameter.low_mm, diameter.high_mm), (Some(273.0), None));
        assert_eq!(pipe_range(12.0, 700.0).unwrap().1.low_mm, Some(600.0));
        assert!(plate_range(25.0).unwrap().0.high_mm.is_none());
    }

    #[test]
    fn joints_and_variables_name_processes_that_exist() {
        for number in
            joints().iter().flat_map(|row| &row.processes).chain(variables().iter().flat_map(|row| &row.processes))
        {
            assert!(processes::get(number).is_some(), "{number}");
        }
        assert_eq!(joint("b-u2a").len(), 3);
        assert!(variables_of("GTAW").iter().any(|row| row.variable == "current" && row.increase_over == Some(25.0)));
    }
}
