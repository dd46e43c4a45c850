//! AWS D1.1: essential variables, qualified ranges, preheat, prequalified limits and joints, fillets, fit-up, acceptance.

pub mod welders;

use serde::Deserialize;

use crate::find;
use crate::measure::{Heat, Inches, Size};
use crate::processes;
use crate::qualified::{self, Row as RangeRow};
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
    /// The same figure in degrees Fahrenheit as printed, for a temperature.
    pub customary: Option<f64>,
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
    /// Largest length in inches as printed.
    pub maximum_in: Option<Inches>,
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
    /// Largest excess in inches as printed.
    pub plus_in: Option<Inches>,
    /// Largest shortfall in inches as printed.
    pub minus_in: Option<Inches>,
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

impl PreheatRow {
    /// The least preheat in both units.
    pub fn heat(&self) -> Heat {
        Heat::new(self.preheat_min_c, self.preheat_min_f)
    }
}

impl PrequalifiedRow {
    /// Whether a size is within the limit of the unit that it is stated in.
    pub fn permits(&self, size: Size) -> bool {
        size.up_to(self.maximum, self.maximum_in)
    }
}

/// The essential variables of a process (number or letters).
pub fn variables_of(process: &str) -> Vec<&'static VariableRow> {
    let number = number(process);
    variables().iter().filter(|row| row.processes.is_empty() || row.processes.iter().any(|own| own == number)).collect()
}

/// The row of Table 6.2 for a plate test of this thickness.
pub fn plate_range(tested: Size) -> Option<&'static RangeRow> {
    qualified::holding(ranges(), "groove-thickness", tested).find(|row| row.product.as_deref() == Some("plate"))
}

/// The row of Table 6.2 for a pipe test of this thickness and outside diameter.
pub fn pipe_range(tested: Size, diameter: Size) -> Option<&'static RangeRow> {
    qualified::holding(ranges(), "groove-thickness", tested)
        .find(|row| row.product.as_deref() == Some("pipe") && row.holds_diameter(diameter))
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

/// The least preheat of a category (`A` to `D`) for a thickness.
pub fn preheat(category: &str, thickness: Size) -> Option<&'static PreheatRow> {
    preheats().iter().find(|row| {
        find::same(&row.category, category)
            && thickness.over(row.over_mm, row.over_in)
            && thickness.up_to(row.up_to_mm, row.up_to_in)
    })
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

/// The least fillet for a base metal thickness.
pub fn minimum_fillet(thickness: Size) -> Option<&'static MinimumFilletRow> {
    minimum_fillets()
        .iter()
        .find(|row| thickness.over(row.over_mm, row.over_in) && thickness.up_to(row.up_to_mm, row.up_to_in))
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

    fn mm(figure: f64) -> Size {
        Size::from_mm(figure).unwrap()
    }

    fn inches(text: &str) -> Size {
        Size::from_inches(Inches::read(text).unwrap().0).unwrap()
    }

    #[test]
    fn ranges_are_sound() {
        qualified::tests::no_two_rows_hold(ranges());
        qualified::tests::a_test_covers_itself(ranges(), 3.0);
    }

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

    // AWS D1.1:2020 Table 7.7: up to 1/4, 1/2, 3/4 in and above 1/8, 3/16, 1/4, 5/16 in.
    #[test]
    fn least_fillet_in_inches_has_the_bounds_in_inches() {
        let leg = |text| minimum_fillet(inches(text)).unwrap().leg_min_in.to_string();
        for (thickness, least) in [("1/4", "1/8"), ("1/2", "3/16"), ("3/4", "1/4"), ("1-1/2", "5/16"), ("5/16", "3/16")]
        {
            assert_eq!(leg(thickness), least, "{thickness}");
        }
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

    #[test]
    fn pipe_tests_qualify_diameter_beside_thickness() {
        let row = pipe_range(mm(12.0), mm(273.0)).unwrap();
        let (thickness, diameter) = (row.span(mm(12.0)), row.diameter_span(mm(273.0)));
        assert_eq!((thickness.low, thickness.high), (Some(6.0), Some(24.0)));
        assert_eq!((diameter.low, diameter.high), (Some(273.0), None));
        let wide = pipe_range(mm(12.0), mm(700.0)).unwrap();
        assert_eq!(wide.diameter_span(mm(700.0)).low, Some(600.0));
        assert!(plate_range(mm(25.0)).unwrap().span(mm(25.0)).high.is_none());
    }

    // AWS D1.1 Table 6.2: pipe of 3/4 in and more covers 3/8 in (10 mm) without upper limit; plate from 1 in has none either.
    #[test]
    fn tests_in_inches_qualify_in_inches() {
        let row = pipe_range(inches("3/4"), inches("6")).unwrap();
        let span = row.span(inches("3/4"));
        assert_eq!((span.low, span.high, span.unit), (Some(0.375), None, "in"));
        let other = row.other_span(inches("3/4"));
        assert_eq!((other.low, other.high, other.unit), (Some(10.0), None, "mm"));
        assert_eq!(row.diameter_span(inches("6")).low, Some(6.0));
        assert!(plate_range(inches("1")).unwrap().span(inches("1")).high.is_none());
        let thin = plate_range(inches("3/8")).unwrap().span(inches("3/8"));
        assert_eq!((thin.low, thin.high, thin.unit), (Some(0.125), Some(0.75), "in"));
        assert_eq!(pipe_range(inches("1/2"), inches("24")).unwrap().diameter_span(inches("24")).low, Some(24.0));
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
