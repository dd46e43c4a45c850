//! Ranges that a test qualifies: the row type that all tables named `*-ranges` share.
//!
//! A row says for which tested values it holds, and gives each end of the qualified range as a multiple of the tested
//! value, as a fixed value, or both: the larger rules at the lower end. An end that has neither is open.

use serde::Deserialize;

use crate::find;
use crate::table::Origin;

/// One row of a code's table of ranges; values in millimetres.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// What is tested and qualified, kebab-case.
    pub quantity: String,
    /// Edition of the standard, where rows differ by it.
    pub edition: Option<String>,
    /// Level of qualification.
    pub level: Option<String>,
    /// `plate` or `pipe`.
    pub product: Option<String>,
    /// `single` or `multiple`; both where absent.
    pub runs: Option<String>,
    /// `transverse` or `longitudinal` bend specimens.
    pub bends: Option<String>,
    /// When the row holds, in words.
    pub condition: Option<String>,
    /// Tested value from which the row holds.
    pub tested_from_mm: Option<f64>,
    /// Tested value above which the row holds.
    pub tested_over_mm: Option<f64>,
    /// Tested value up to which the row holds.
    pub tested_up_to_mm: Option<f64>,
    /// Tested value below which the row holds.
    pub tested_below_mm: Option<f64>,
    /// Lowest qualified value as a multiple of the tested one.
    pub from_times: Option<f64>,
    /// Lowest qualified value.
    pub from_mm: Option<f64>,
    /// The lowest qualified value is never less.
    pub from_least_mm: Option<f64>,
    /// Highest qualified value as a multiple of the tested one.
    pub to_times: Option<f64>,
    /// Highest qualified value.
    pub to_mm: Option<f64>,
    /// The highest qualified value is never less.
    pub to_least_mm: Option<f64>,
    /// Tested outside diameter from which the row holds.
    pub diameter_tested_from_mm: Option<f64>,
    /// Tested outside diameter below which the row holds.
    pub diameter_tested_below_mm: Option<f64>,
    /// Lowest qualified outside diameter as a multiple of the tested one.
    pub diameter_from_times: Option<f64>,
    /// Lowest qualified outside diameter.
    pub diameter_from_mm: Option<f64>,
    /// Highest qualified outside diameter.
    pub diameter_to_mm: Option<f64>,
    /// Specimens of the test.
    pub tests: Option<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A qualified range in millimetres; an open end has no limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Lowest qualified value.
    pub low_mm: Option<f64>,
    /// Highest qualified value.
    pub high_mm: Option<f64>,
}

impl Span {
    /// Whether a value lies in the range, ends included.
    pub fn contains(&self, value_mm: f64) -> bool {
        // The product of a factor and a printed size is not exact: 1.1 times 10 is 11.
        const SLACK: f64 = 1e-9;
        self.low_mm.is_none_or(|low| low <= value_mm * (1.0 + SLACK))
            && self.high_mm.is_none_or(|high| value_mm <= high * (1.0 + SLACK))
    }
}

impl Row {
    /// Whether the row holds for a tested value.
    pub fn holds(&self, tested_mm: f64) -> bool {
        self.tested_from_mm.is_none_or(|from| from <= tested_mm)
            && self.tested_over_mm.is_none_or(|over| over < tested_mm)
            && self.tested_up_to_mm.is_none_or(|up_to| tested_mm <= up_to)
            && self.tested_below_mm.is_none_or(|below| tested_mm < below)
    }

    /// Whether the row holds for a tested outside diameter.
    pub fn holds_diameter(&self, tested_mm: f64) -> bool {
        self.diameter_tested_from_mm.is_none_or(|from| from <= tested_mm)
            && self.diameter_tested_below_mm.is_none_or(|below| tested_mm < below)
    }

    /// The range that a tested value qualifies.
    pub fn span(&self, tested_mm: f64) -> Span {
        let end = |times: Option<f64>, fixed: Option<f64>, least: Option<f64>| {
            let value = times.map(|times| times * tested_mm).or(fixed);
            value.map(|value| least.map_or(value, |least| value.max(least)))
        };
        Span {
            low_mm: end(self.from_times, self.from_mm, self.from_least_mm),
            high_mm: end(self.to_times, self.to_mm, self.to_least_mm),
        }
    }

    /// The range of outside diameter that a tested diameter qualifies beside the thickness.
    pub fn diameter_span(&self, tested_mm: f64) -> Span {
        Span {
            low_mm: self.diameter_from_times.map(|times| times * tested_mm).or(self.diameter_from_mm),
            high_mm: self.diameter_to_mm,
        }
    }
}

/// The rows of a quantity that hold for a tested value.
pub(crate) fn holding<'r>(rows: &'r [Row], quantity: &str, tested_mm: f64) -> impl Iterator<Item = &'r Row> {
    rows.iter().filter(move |row| find::same(&row.quantity, quantity) && row.holds(tested_mm))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// Each tested value has one row at most for the same quantity, edition, level, product, runs, bends and condition.
    pub(crate) fn no_two_rows_hold(rows: &[Row]) {
        for (index, row) in rows.iter().enumerate() {
            let probes = [row.tested_from_mm, row.tested_over_mm, row.tested_up_to_mm, row.tested_below_mm];
            for value in probes.into_iter().flatten().flat_map(|bound| [bound - 0.01, bound, bound + 0.01]) {
                for other in &rows[index + 1..] {
                    let alike = row.quantity == other.quantity
                        && row.edition == other.edition
                        && row.level == other.level
                        && row.product == other.product
                        && row.runs == other.runs
                        && row.bends == other.bends
                        && row.condition == other.condition
                        && row.diameter_tested_from_mm == other.diameter_tested_from_mm;
                    assert!(!(alike && row.holds(value) && other.holds(value)), "{value}: {row:?} {other:?}");
                }
            }
        }
    }

    /// A tested value lies in the range that it qualifies.
    pub(crate) fn a_test_covers_itself(rows: &[Row], at_least_mm: f64) {
        for row in rows {
            let low = row.tested_from_mm.or(row.tested_over_mm.map(|over| over + 0.01)).unwrap_or(at_least_mm);
            let high = row.tested_up_to_mm.or(row.tested_below_mm.map(|below| below - 0.01)).unwrap_or(low + 50.0);
            for tested in [low, f64::midpoint(low, high), high] {
                assert!(row.holds(tested), "{tested} {row:?}");
                let span = row.span(tested);
                assert!(
                    row.condition.is_some() && row.quantity.starts_with("job") || span.contains(tested),
                    "{tested} {row:?}"
                );
            }
        }
    }
}
