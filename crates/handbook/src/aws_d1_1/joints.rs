//! AWS D1.1: prequalified joints, the marks of their designations, and fit-up.

use seamwright_model::finding::Limit;

use crate::band::Band;
use crate::find;
use crate::measure::{self, Inches, MM_IN, Size};
use crate::processes;
use crate::table::{Origin, table};

table!(JOINTS, joints, "aws-d1-1-joints", JointRow);
table!(JOINT_MARKS, joint_marks, "aws-joint-marks", JointMarkRow);
table!(FIT_UP, fit_ups, "aws-d1-1-fit-up", FitUpRow);

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
    pub root_opening_in: Option<Band>,
    /// The same in millimetres.
    pub root_opening_mm: Option<Band>,
    /// Root opening as a share of the thickness.
    pub root_opening_thicknesses: Option<f64>,
    /// Groove angle in degrees.
    pub angle_deg: Option<f64>,
    /// Groove angle of the other side or member in degrees.
    pub angle_2_deg: Option<Band>,
    /// Root face.
    pub root_face_in: Option<Band>,
    /// The same in millimetres.
    pub root_face_mm: Option<Band>,
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

/// A length in both units as the code prints it, from least to largest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printed {
    /// Millimetres.
    pub mm: Band,
    /// Inches.
    pub inches: Band,
}

impl Printed {
    /// Wider by what a row of [`fit_up`] allows; no wider where there is none.
    #[must_use]
    pub fn widened(self, by: Option<&FitUpRow>) -> Self {
        let Some(row) = by else { return self };
        let wider = |range: Band, plus: f64, minus: f64| Band::new((range.low - minus).max(0.0), range.high + plus);
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
        } else if range.is_single() {
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
            return Some(Printed { mm: Band::at(share * own.mm()), inches: Band::at(share * own.inches()) });
        }
        Some(Printed { mm: self.root_opening_mm?, inches: self.root_opening_in? })
    }

    /// The root face; none where the edge runs out sharp, nothing where the table says nothing of it.
    pub fn root_face(&self) -> Option<Printed> {
        if let (Some(mm), Some(inches)) = (self.root_face_mm, self.root_face_in) {
            return Some(Printed { mm, inches });
        }
        if let (Some(mm), Some(inches)) = (self.root_face_min_mm, self.root_face_min_in) {
            return Some(Printed { mm: Band::at_least(mm), inches: Band::at_least(inches.0) });
        }
        if let (Some(mm), Some(inches)) = (self.root_face_max_mm, self.root_face_max_in) {
            return Some(Printed { mm: Band::new(0.0, mm), inches: Band::new(0.0, inches.0) });
        }
        // A bevel without root face ends in a feather edge.
        let none = Band::at(0.0);
        (self.backing && self.groove() > 1).then_some(Printed { mm: none, inches: none })
    }

    /// Whether a thickness lies within the row, in the unit that it is stated in.
    pub fn takes(&self, thickness: Size) -> bool {
        thickness.over(self.thickness_over_mm, self.thickness_over_in)
            && thickness.from(self.thickness_min_mm, self.thickness_min_in)
            && thickness.up_to(self.thickness_max_mm, self.thickness_max_in)
    }

    /// The thicknesses of the row; nothing where it takes all.
    pub fn thicknesses(&self, customary: bool) -> Option<Limit> {
        let unit = if customary { "in" } else { "mm" };
        let figure = |mm: Option<f64>, inches: Option<Inches>| if customary { inches.map(|own| own.0) } else { mm };
        let end = |figure: Option<f64>, of: fn(f64) -> Band| figure.map(|own| measure::length_limit(of(own), unit));
        let over = figure(self.thickness_over_mm, self.thickness_over_in)
            .map(|own| Limit::from(format!("over {}", measure::length_text(own, unit))));
        let least = end(figure(self.thickness_min_mm, self.thickness_min_in), Band::at_least);
        let most = end(figure(self.thickness_max_mm, self.thickness_max_in), Band::at_most);
        match (over.or(least), most) {
            (Some(low), Some(high)) => Some(format!("{low}, {high}").into()),
            (low, high) => low.or(high),
        }
    }
}

/// The choices of a prequalified joint.
pub fn joint(designation: &str) -> Vec<&'static JointRow> {
    joints().iter().filter(|row| find::same(row.designation, designation)).collect()
}

/// Designations of joints that are spelt most like this one.
pub fn nearest_joints(designation: &str) -> Vec<&'static str> {
    find::nearest(designation, joints().iter().map(|row| row.designation))
}

/// How far a dimension of a kind of groove may lie from its figure at a stage; what holds for any groove where the kind has none.
pub fn fit_up(stage: &str, detail: &str, dimension: &str) -> Option<&'static FitUpRow> {
    let of = |detail: &str| {
        fit_ups().iter().find(|row| row.stage == stage && row.detail == detail && row.dimension == dimension)
    };
    of(detail).or_else(|| of("any"))
}
