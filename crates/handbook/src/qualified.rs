//! Ranges that a test qualifies: the row type that all tables named `*-ranges` share.
//!
//! A row says for which tested values it holds, and gives each end of the qualified range as a multiple of the tested
//! value, as a fixed value, or both: the larger rules at the lower end. An end that has neither is open.

use seamwright_model::finding::Limit;

use crate::band::Band;
use crate::find;
use crate::measure::{self, Inches, Size};
use crate::processes;
use crate::table::Origin;

/// What a change of a variable means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Category {
    /// Needs a new test.
    Essential,
    /// Needs a new test where impact tests are needed.
    Supplementary,
    /// Needs a new revision, no test.
    Nonessential,
    /// Supplementary where impact tests are needed, else nonessential.
    SupplementaryOrNonessential,
}

impl Category {
    /// The word of the table.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Essential => "essential",
            Self::Supplementary => "supplementary",
            Self::Nonessential => "nonessential",
            Self::SupplementaryOrNonessential => "supplementary-or-nonessential",
        }
    }
}

/// One variable of a part of ISO 15614.
#[derive(Debug, Clone, PartialEq)]
pub struct Variable {
    /// Name of the variable in qualified ranges.
    pub variable: &'static str,
    /// ISO 4063 numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub processes: &'static [&'static str],
    /// Clause that defines it.
    pub paragraph: &'static str,
    /// What a change outside the range means.
    pub category: Category,
    /// The variable in words.
    pub wording: &'static str,
    /// Keys of a procedure that state it; `settings` stands for processes and runs.
    pub keys: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// The variables of a process (number or letters).
pub fn variables_of(rows: &'static [Variable], process: &str) -> Vec<&'static Variable> {
    let number = processes::get(process).map_or(process, |row| row.number);
    rows.iter().filter(|row| row.processes.is_empty() || row.processes.contains(&number)).collect()
}

/// One row of a code's table of ranges, in millimetres and, where the code prints them, in inches.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What is tested and qualified, kebab-case.
    pub quantity: &'static str,
    /// Edition of the standard, where rows differ by it.
    pub edition: Option<&'static str>,
    /// Level of qualification.
    pub level: Option<&'static str>,
    /// `plate` or `pipe`.
    pub product: Option<&'static str>,
    /// `single` or `multiple`; both where absent.
    pub runs: Option<&'static str>,
    /// `transverse` or `longitudinal` bend specimens.
    pub bends: Option<&'static str>,
    /// When the row holds, in words.
    pub condition: Option<&'static str>,
    /// Tested value from which the row holds.
    pub tested_from_mm: Option<f64>,
    /// The same in inches.
    pub tested_from_in: Option<Inches>,
    /// Tested value above which the row holds.
    pub tested_over_mm: Option<f64>,
    /// The same in inches.
    pub tested_over_in: Option<Inches>,
    /// Tested value up to which the row holds.
    pub tested_up_to_mm: Option<f64>,
    /// The same in inches.
    pub tested_up_to_in: Option<Inches>,
    /// Tested value below which the row holds.
    pub tested_below_mm: Option<f64>,
    /// The same in inches.
    pub tested_below_in: Option<Inches>,
    /// Lowest qualified value as a multiple of the tested one.
    pub from_times: Option<f64>,
    /// Lowest qualified value.
    pub from_mm: Option<f64>,
    /// The same in inches.
    pub from_in: Option<Inches>,
    /// The lowest qualified value is never less.
    pub from_least_mm: Option<f64>,
    /// Highest qualified value as a multiple of the tested one.
    pub to_times: Option<f64>,
    /// Highest qualified value.
    pub to_mm: Option<f64>,
    /// The same in inches.
    pub to_in: Option<Inches>,
    /// The highest qualified value is never less.
    pub to_least_mm: Option<f64>,
    /// Tested outside diameter from which the row holds.
    pub diameter_tested_from_mm: Option<f64>,
    /// The same in inches.
    pub diameter_tested_from_in: Option<Inches>,
    /// Tested outside diameter below which the row holds.
    pub diameter_tested_below_mm: Option<f64>,
    /// The same in inches.
    pub diameter_tested_below_in: Option<Inches>,
    /// Lowest qualified outside diameter as a multiple of the tested one.
    pub diameter_from_times: Option<f64>,
    /// Lowest qualified outside diameter.
    pub diameter_from_mm: Option<f64>,
    /// The same in inches.
    pub diameter_from_in: Option<Inches>,
    /// Highest qualified outside diameter.
    pub diameter_to_mm: Option<f64>,
    /// The same in inches.
    pub diameter_to_in: Option<Inches>,
    /// Specimens of the test.
    pub tests: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A qualified range; an open end has no limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// From the lowest to the highest qualified value.
    pub band: Band,
    /// Unit of both: `mm` or `in` of a size.
    pub unit: &'static str,
}

impl Span {
    /// Whether a size lies in the range, ends included.
    pub fn contains(&self, size: Size) -> bool {
        !Band::at(measure::converted(size.mm(), "mm", self.unit)).outside(self.band).either()
    }

    /// The range in words: `5-52.4 mm`, `1/8 to 3/4 in`, `250 °C maximum`.
    pub fn text(self) -> String {
        self.limit().text
    }

    /// The range as a limit.
    pub fn limit(self) -> Limit {
        measure::length_limit(self.band, self.unit)
    }
}

impl Row {
    /// Whether the row holds for a tested value.
    pub fn holds(&self, tested: Size) -> bool {
        tested.from(self.tested_from_mm, self.tested_from_in)
            && tested.over(self.tested_over_mm, self.tested_over_in)
            && tested.up_to(self.tested_up_to_mm, self.tested_up_to_in)
            && tested.below(self.tested_below_mm, self.tested_below_in)
    }

    /// Whether the row holds for a tested outside diameter.
    pub fn holds_diameter(&self, tested: Size) -> bool {
        tested.from(self.diameter_tested_from_mm, self.diameter_tested_from_in)
            && tested.below(self.diameter_tested_below_mm, self.diameter_tested_below_in)
    }

    /// The range that a tested value qualifies, in the unit that the value is stated in where the code prints it.
    pub fn span(&self, tested: Size) -> Span {
        self.span_in(tested, tested.is_customary())
    }

    /// The same range in the other unit that the code prints.
    pub fn other_span(&self, tested: Size) -> Span {
        self.span_in(tested, !tested.is_customary())
    }

    fn span_in(&self, tested: Size, customary: bool) -> Span {
        let (from, to) = ((self.from_mm, self.from_in), (self.to_mm, self.to_in));
        let unit = unit_of(customary, &[from, to]);
        let end = |factor: Option<f64>, fixed, least: Option<f64>| {
            let value = factor.and_then(|factor| times_in(tested, factor, unit)).or_else(|| in_column(unit, fixed));
            value.map(|value| least.map_or(value, |least| value.max(measure::converted(least, "mm", unit))))
        };
        let ends = (end(self.from_times, from, self.from_least_mm), end(self.to_times, to, self.to_least_mm));
        Span { band: Band::of(ends), unit }
    }

    /// The range of outside diameter that a tested diameter qualifies beside the thickness.
    pub fn diameter_span(&self, tested: Size) -> Span {
        self.diameter_span_in(tested, tested.is_customary())
    }

    /// The same range in the other unit that the code prints.
    pub fn other_diameter_span(&self, tested: Size) -> Span {
        self.diameter_span_in(tested, !tested.is_customary())
    }

    fn diameter_span_in(&self, tested: Size, customary: bool) -> Span {
        let (from, to) = ((self.diameter_from_mm, self.diameter_from_in), (self.diameter_to_mm, self.diameter_to_in));
        let unit = unit_of(customary, &[from, to]);
        let low = self.diameter_from_times.and_then(|factor| times_in(tested, factor, unit));
        Span { band: Band::of((low.or_else(|| in_column(unit, from)), in_column(unit, to))), unit }
    }
}

/// Inches where they are asked for and every fixed figure has them.
fn unit_of(customary: bool, figures: &[(Option<f64>, Option<Inches>)]) -> &'static str {
    if customary && figures.iter().all(|(mm, inches)| mm.is_none() || inches.is_some()) { "in" } else { "mm" }
}

fn in_column(unit: &str, (mm, inches): (Option<f64>, Option<Inches>)) -> Option<f64> {
    if unit == "in" { inches.map(|inches| inches.0) } else { mm }
}

fn times_in(tested: Size, factor: f64, unit: &'static str) -> Option<f64> {
    let own = measure::times(tested, factor)?;
    Some(measure::converted(own, tested.unit(), unit))
}

/// The rows of a quantity that hold for a tested value.
pub(crate) fn holding<'r>(rows: &'r [Row], quantity: &str, tested: Size) -> impl Iterator<Item = &'r Row> {
    rows.iter().filter(move |row| find::same(row.quantity, quantity) && row.holds(tested))
}

/// The range of a quantity that a tested value in millimetres qualifies, with the row that says so; for a code that prints
/// millimetres only.
pub fn in_mm(rows: &'static [Row], quantity: &str, tested_mm: f64) -> Option<(Span, &'static Row)> {
    let tested = Size::from_mm(tested_mm)?;
    holding(rows, quantity, tested).next().map(|row| (row.span(tested), row))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// Each tested value has one row at most for the same quantity, edition, level, product, runs, bends and condition.
    pub(crate) fn no_two_rows_hold(rows: &[Row]) {
        for (index, row) in rows.iter().enumerate() {
            let probes = [row.tested_from_mm, row.tested_over_mm, row.tested_up_to_mm, row.tested_below_mm];
            let printed = [row.tested_from_in, row.tested_over_in, row.tested_up_to_in, row.tested_below_in];
            let about = |bound: f64| [bound - 0.01, bound, bound + 0.01];
            let in_mm = probes.into_iter().flatten().flat_map(about).filter_map(Size::from_mm);
            let in_inches =
                printed.into_iter().flatten().flat_map(|bound| about(bound.0)).filter_map(Size::from_inches);
            for value in in_mm.chain(in_inches) {
                for other in &rows[index + 1..] {
                    let alike = row.quantity == other.quantity
                        && row.edition == other.edition
                        && row.level == other.level
                        && row.product == other.product
                        && row.runs == other.runs
                        && row.bends == other.bends
                        && row.condition == other.condition
                        && row.diameter_tested_from_mm == other.diameter_tested_from_mm;
                    assert!(!(alike && row.holds(value) && other.holds(value)), "{value:?}: {row:?} {other:?}");
                }
            }
        }
    }

    /// A tested value lies in the range that it qualifies.
    pub(crate) fn a_test_covers_itself(rows: &[Row], at_least_mm: f64) {
        for row in rows {
            let low = row.tested_from_mm.or(row.tested_over_mm.map(|over| over + 0.01)).unwrap_or(at_least_mm);
            let high = row.tested_up_to_mm.or(row.tested_below_mm.map(|below| below - 0.01)).unwrap_or(low + 50.0);
            for tested in [low, f64::midpoint(low, high), high].into_iter().filter_map(Size::from_mm) {
                assert!(row.holds(tested), "{tested:?} {row:?}");
                let span = row.span(tested);
                assert!(
                    row.condition.is_some() && row.quantity.starts_with("job") || span.contains(tested),
                    "{tested:?} {row:?}"
                );
            }
        }
    }
}
