//! AWS D1.1: essential variables, qualified ranges, preheat, prequalified limits and joints, fillets, fit-up, acceptance.

pub mod welders;

use crate::find;
use crate::iso_15609_1::Row as Item;
use crate::measure::{self, Heat, Inches, MM_IN, Size};
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
table!(CONTENTS, contents, "aws-d1-1-contents", Item);
table!(FILLERS, fillers, "aws-d1-1-fillers", FillerRow);
table!(EXPOSURE, exposures, "electrode-exposure", ExposureRow);
table!(JOINTS, joints, "aws-d1-1-joints", JointRow);
table!(JOINT_MARKS, joint_marks, "aws-joint-marks", JointMarkRow);
table!(ACCEPTANCE, acceptances, "aws-d1-1-acceptance", AcceptanceRow);
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

/// The fillers that match a group of steel.
#[derive(Debug, Clone, PartialEq)]
pub struct FillerRow {
    /// Group of the steel.
    pub group: &'static str,
    /// Least tensile strength of the class, ksi.
    pub strength_min_ksi: f64,
    /// Largest tensile strength of the class, ksi.
    pub strength_max_ksi: f64,
    /// By how much the named strength of a class may differ from its round figure, ksi.
    pub slack_ksi: f64,
    /// Whether covered electrodes have to be of low hydrogen.
    pub low_hydrogen: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// How long a low-hydrogen electrode may lie in the air, and how it is dried and held.
#[derive(Debug, Clone, PartialEq)]
pub struct ExposureRow {
    /// AWS specification of the electrodes.
    pub specification: &'static str,
    /// Least and largest tensile strength of the class, ksi.
    pub strength_ksi: Range,
    /// Whether the class has the mark of resistance to moisture (R), or is E7018M.
    pub resistant: bool,
    /// Longest exposure, h.
    pub exposure_h: f64,
    /// Longest exposure where tests prove it, h.
    pub tested_h: Option<f64>,
    /// Drying, from least to largest in degrees Celsius.
    pub drying_c: Range,
    /// The same in degrees Fahrenheit.
    pub drying_f: Range,
    /// Least time of drying, h.
    pub drying_h: f64,
    /// Least temperature of the holding oven in degrees Celsius.
    pub holding_c: f64,
    /// The same in degrees Fahrenheit.
    pub holding_f: f64,
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

/// A tolerance of fit-up.
#[derive(Debug, Clone, PartialEq)]
pub struct FitUpRow {
    /// `as-detailed`, `as-fit-up` or `fabrication`.
    pub stage: &'static str,
    /// The groove in words.
    pub detail: &'static str,
    /// `root opening`, `root face` or `groove angle`.
    pub dimension: &'static str,
    /// Largest excess, in `unit`.
    pub plus: f64,
    /// Largest shortfall, in `unit`.
    pub minus: f64,
    /// Unit of both.
    pub unit: &'static str,
    /// Largest excess in inches as printed.
    pub plus_in: Option<Inches>,
    /// Largest shortfall in inches as printed.
    pub minus_in: Option<Inches>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A prequalified joint, one choice of opening and angle; lengths in inches and in millimetres as the code prints them.
#[derive(Debug, Clone, PartialEq)]
pub struct JointRow {
    /// Designation, such as `B-U2a`.
    pub designation: &'static str,
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Thickness above which the row holds.
    pub thickness_over_in: Option<Inches>,
    /// The same in millimetres.
    pub thickness_over_mm: Option<f64>,
    /// Least thickness.
    pub thickness_min_in: Option<Inches>,
    /// The same in millimetres.
    pub thickness_min_mm: Option<f64>,
    /// Largest thickness; unlimited where absent.
    pub thickness_max_in: Option<Inches>,
    /// The same in millimetres.
    pub thickness_max_mm: Option<f64>,
    /// Root opening.
    pub root_opening_in: Option<Range>,
    /// The same in millimetres.
    pub root_opening_mm: Option<Range>,
    /// Root opening as a share of the thickness.
    pub root_opening_thicknesses: Option<f64>,
    /// Groove angle in degrees.
    pub angle_deg: Option<f64>,
    /// Groove angle of the other side or member in degrees.
    pub angle_2_deg: Option<Range>,
    /// Root face.
    pub root_face_in: Option<Range>,
    /// The same in millimetres.
    pub root_face_mm: Option<Range>,
    /// Least root face.
    pub root_face_min_in: Option<Inches>,
    /// The same in millimetres.
    pub root_face_min_mm: Option<f64>,
    /// Largest root face.
    pub root_face_max_in: Option<Inches>,
    /// The same in millimetres.
    pub root_face_max_mm: Option<f64>,
    /// Root radius.
    pub root_radius_in: Option<Inches>,
    /// The same in millimetres.
    pub root_radius_mm: Option<f64>,
    /// Size of the spacer, in words.
    pub spacer: Option<&'static str>,
    /// Effective throat of a partial penetration groove, in words.
    pub effective_throat: Option<&'static str>,
    /// Positions permitted: `flat`, `horizontal`, `vertical`, `overhead`.
    pub positions: &'static [&'static str],
    /// `required` where the row holds for flux cored wire with gas only.
    pub gas: Option<&'static str>,
    /// Whether the joint has backing of steel.
    pub backing: bool,
    /// Whether the root is back gouged.
    pub back_gouged: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A length in both units as the code prints it, from least to largest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printed {
    /// Millimetres.
    pub mm: Range,
    /// Inches.
    pub inches: Range,
}

impl Printed {
    /// Wider by what a row of [`fit_up`] allows; no wider where there is none.
    #[must_use]
    pub fn widened(self, by: Option<&FitUpRow>) -> Self {
        let Some(row) = by else { return self };
        let wider = |range: Range, plus: f64, minus: f64| Range::new((range.low - minus).max(0.0), range.high + plus);
        let inches = |figure: Option<Inches>, mm: f64| figure.map_or(mm / MM_IN, |own| own.0);
        Self {
            mm: wider(self.mm, row.plus, row.minus),
            inches: wider(self.inches, inches(row.plus_in, row.plus), inches(row.minus_in, row.minus)),
        }
    }

    /// Whether a size reaches its low end, in the unit that it is stated in.
    pub fn reached_by(&self, size: Size) -> bool {
        size.from(Some(self.mm.low), Some(Inches(self.inches.low)))
    }

    /// Whether a size is within its high end, in the unit that it is stated in.
    pub fn holds(&self, size: Size) -> bool {
        !self.mm.high.is_finite() || size.up_to(Some(self.mm.high), Some(Inches(self.inches.high)))
    }

    /// In words, in inches or in millimetres.
    pub fn text(&self, customary: bool) -> String {
        let (range, unit) = if customary { (self.inches, "in") } else { (self.mm, "mm") };
        let end = |figure| measure::length_text(figure, unit);
        let bare = |figure| end(figure).trim_end_matches(unit).trim_end().to_owned();
        if !range.high.is_finite() {
            format!("{} minimum", end(range.low))
        } else if (range.low - range.high).abs() < f64::EPSILON {
            end(range.high)
        } else {
            format!("{} to {}", bare(range.low), end(range.high))
        }
    }
}

impl JointRow {
    /// The digit of the groove: 1 square, 2 and 3 single and double V, 4 and 5 bevel, 6 and 7 U, 8 and 9 J, 10 and 11 flared.
    pub fn groove(&self) -> u32 {
        let digits = self.designation.chars().skip_while(|c| !c.is_ascii_digit()).take_while(char::is_ascii_digit);
        digits.collect::<String>().parse().unwrap_or(0)
    }

    /// Whether it is a joint of partial penetration.
    pub fn partial(&self) -> bool {
        self.designation.split('-').nth(1).is_some_and(|part| part.starts_with('P'))
    }

    /// Whether it may be a butt (`B`), corner (`C`) or tee (`T`) joint.
    pub fn joins(&self, letter: char) -> bool {
        self.designation.split('-').next().is_some_and(|part| part.contains(letter))
    }

    /// Whether it is welded under flux.
    pub fn under_flux(&self) -> bool {
        self.processes.iter().any(|own| processes::get(own).is_some_and(|row| row.uses_flux))
    }

    /// Its kind in the words of [`FitUpRow::detail`].
    fn kind(&self) -> &'static str {
        let flux = self.under_flux();
        match (self.partial(), self.backing, self.back_gouged) {
            (true, ..) => "partial penetration",
            (_, true, _) => "with backing",
            (_, _, true) if flux => "submerged arc, back gouged",
            (_, _, true) => "back gouged",
            _ => "no backing",
        }
    }

    /// How far a dimension may lie from the row: as detailed or as fitted up, for `root opening`, `root face`, `groove angle` or
    /// `groove radius`.
    pub fn tolerance(&self, stage: &str, dimension: &str) -> Option<&'static FitUpRow> {
        fit_up(stage, self.kind(), dimension)
    }

    /// The root opening for a thickness.
    pub fn root_opening(&self, thickness: Option<Size>) -> Option<Printed> {
        if let Some(share) = self.root_opening_thicknesses {
            let own = thickness?.length();
            return Some(Printed {
                mm: Range::new(share * own.mm(), share * own.mm()),
                inches: Range::new(share * own.inches(), share * own.inches()),
            });
        }
        Some(Printed { mm: self.root_opening_mm?, inches: self.root_opening_in? })
    }

    /// The root face; none where the edge runs out sharp, nothing where the table says nothing of it.
    pub fn root_face(&self) -> Option<Printed> {
        if let (Some(mm), Some(inches)) = (self.root_face_mm, self.root_face_in) {
            return Some(Printed { mm, inches });
        }
        let open = |low: f64| Range::new(low, f64::INFINITY);
        if let (Some(mm), Some(inches)) = (self.root_face_min_mm, self.root_face_min_in) {
            return Some(Printed { mm: open(mm), inches: open(inches.0) });
        }
        if let (Some(mm), Some(inches)) = (self.root_face_max_mm, self.root_face_max_in) {
            return Some(Printed { mm: Range::new(0.0, mm), inches: Range::new(0.0, inches.0) });
        }
        // A bevel without root face ends in a feather edge.
        let none = Range::new(0.0, 0.0);
        (self.backing && self.groove() > 1).then_some(Printed { mm: none, inches: none })
    }

    /// Whether a thickness lies within the row, in the unit that it is stated in.
    pub fn takes(&self, thickness: Size) -> bool {
        thickness.over(self.thickness_over_mm, self.thickness_over_in)
            && thickness.from(self.thickness_min_mm, self.thickness_min_in)
            && thickness.up_to(self.thickness_max_mm, self.thickness_max_in)
    }

    /// The thicknesses of the row in words; nothing where it takes all.
    pub fn thicknesses(&self, customary: bool) -> Option<String> {
        let text = |mm: Option<f64>, inches: Option<Inches>| {
            let (figure, unit) = if customary { (inches?.0, "in") } else { (mm?, "mm") };
            Some(measure::length_text(figure, unit))
        };
        let over = text(self.thickness_over_mm, self.thickness_over_in).map(|own| format!("over {own}"));
        let least = text(self.thickness_min_mm, self.thickness_min_in).map(|own| format!("{own} minimum"));
        let most = text(self.thickness_max_mm, self.thickness_max_in).map(|own| format!("{own} maximum"));
        let parts: Vec<String> = over.or(least).into_iter().chain(most).collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }
}

/// A mark in a joint designation.
#[derive(Debug, Clone, PartialEq)]
pub struct JointMarkRow {
    /// The letter or digit.
    pub mark: &'static str,
    /// `letter` or `digit`.
    pub place: &'static str,
    /// What it says.
    pub means: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A limit of visual inspection.
#[derive(Debug, Clone, PartialEq)]
pub struct AcceptanceRow {
    /// The imperfection in words.
    pub imperfection: &'static str,
    /// When the row holds.
    pub condition: Option<&'static str>,
    /// The limit in words.
    pub limit: &'static str,
    /// The limit in millimetres, where it is one figure.
    pub maximum_mm: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

fn number(process: &str) -> &str {
    processes::get(process).map_or(process, |row| row.number)
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

/// The least preheat of a category (`A` to `D`) for a thickness.
pub fn preheat(category: &str, thickness: Size) -> Option<&'static PreheatRow> {
    preheats().iter().find(|row| {
        find::same(row.category, category)
            && thickness.over(row.over_mm, row.over_in)
            && thickness.up_to(row.up_to_mm, row.up_to_in)
    })
}

/// Limits of a quantity for a process (number or letters) and a position; rows without a position hold in all.
pub fn limits(quantity: &str, process: &str, position: &str) -> Vec<&'static PrequalifiedRow> {
    let number = number(process);
    prequalified()
        .iter()
        .filter(|row| find::same(row.quantity, quantity) && row.processes.contains(&number))
        .filter(|row| row.position.is_none_or(|own| find::same(own, position)))
        .collect()
}

/// The fillers that match a group of steel.
pub fn filler_group(group: &str) -> Option<&'static FillerRow> {
    find::by_name(fillers(), group, |row| [row.group])
}

/// Exposure, drying and holding of a low-hydrogen electrode by its AWS class (`E7018`, `E8018-C3`, `E7018-1H4R`); nothing for
/// other classes.
pub fn exposure(class: &str) -> Option<&'static ExposureRow> {
    let class = class.trim().to_uppercase();
    let digits: String = class.strip_prefix('E')?.chars().take_while(char::is_ascii_digit).collect();
    let (strength, kind) = digits.split_at_checked(digits.len().checked_sub(2)?)?;
    let strength: f64 = strength.parse().ok()?;
    if !matches!(kind, "15" | "16" | "18" | "28" | "48") {
        return None;
    }
    let rest = &class[1 + digits.len()..];
    // A5.5 names its alloys behind a hyphen; -1 and the marks of hydrogen (H4, H4R) are of A5.1.
    let alloy = rest.strip_prefix('-').is_some_and(|own| own.starts_with(|c: char| c.is_ascii_uppercase() && c != 'H'));
    let resistant = rest.ends_with('R') || rest.trim_start().starts_with('M') && !alloy;
    let specification = if alloy || rest.starts_with("-M") { "A5.5" } else { "A5.1" };
    let fits = |row: &&ExposureRow| {
        row.specification == specification && (row.strength_ksi.low..=row.strength_ksi.high).contains(&strength)
    };
    let own = |row: &&ExposureRow| fits(row) && row.resistant == resistant;
    exposures().iter().find(own).or_else(|| exposures().iter().find(fits))
}

/// The least fillet for a base metal thickness.
pub fn minimum_fillet(thickness: Size) -> Option<&'static MinimumFilletRow> {
    minimum_fillets()
        .iter()
        .find(|row| thickness.over(row.over_mm, row.over_in) && thickness.up_to(row.up_to_mm, row.up_to_in))
}

/// How far a dimension of a kind of groove may lie from its figure at a stage; what holds for any groove where the kind has none.
pub fn fit_up(stage: &str, detail: &str, dimension: &str) -> Option<&'static FitUpRow> {
    let of = |detail: &str| {
        fit_ups().iter().find(|row| row.stage == stage && row.detail == detail && row.dimension == dimension)
    };
    of(detail).or_else(|| of("any"))
}

/// The choices of a prequalified joint.
pub fn joint(designation: &str) -> Vec<&'static JointRow> {
    joints().iter().filter(|row| find::same(row.designation, designation)).collect()
}

/// Designations of joints that are spelt most like this one.
pub fn nearest_joints(designation: &str) -> Vec<&'static str> {
    find::nearest(designation, joints().iter().map(|row| row.designation))
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
            rows.into_iter().find(|row| row.weld.is_none_or(|own| own == weld)).and_then(|row| row.maximum)
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
            joints().iter().flat_map(|row| row.processes).chain(variables().iter().flat_map(|row| row.processes))
        {
            assert!(processes::get(number).is_some(), "{number}");
        }
        assert_eq!(joint("b-u2a").len(), 3);
        assert!(variables_of("GTAW").iter().any(|row| row.variable == "current" && row.increase_over == Some(25.0)));
    }
}
