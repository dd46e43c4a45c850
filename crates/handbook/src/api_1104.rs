//! API 1104: essential variables, groups, fillers, acceptance, positions of welders.

use crate::band::Band;
use crate::find;
use crate::measure::{Inches, Size};
use crate::processes;
use crate::qualified::Span;
use crate::table::{Origin, table};

table!(VARIABLES, variables, "api-1104-variables", VariableRow);
table!(GROUPS, groups, "api-1104-groups", GroupRow);
table!(FILLERS, fillers, "api-1104-fillers", FillerRow);
table!(ACCEPTANCE, acceptances, "api-1104-acceptance", AcceptanceRow);
table!(WELDER_POSITIONS, welder_positions, "api-1104-welder-positions", WelderPositionRow);

/// A change that needs a new test.
#[derive(Debug, Clone, PartialEq)]
pub struct VariableRow {
    /// Paragraph of the code.
    pub paragraph: &'static str,
    /// What changes.
    pub variable: &'static str,
    /// ISO 4063 numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub processes: &'static [&'static str],
    /// The change that counts, in words.
    pub change: &'static str,
    /// Keys of a procedure that state it; `settings` stands for processes and runs.
    pub keys: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// A group of strength, outside diameter or wall thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupRow {
    /// `strength`, `outside-diameter` or `wall`.
    pub quantity: &'static str,
    /// Name of the group.
    pub group: &'static str,
    /// Least size in it.
    pub from_in: Option<Inches>,
    /// The same in millimetres.
    pub from_mm: Option<f64>,
    /// Size above which it begins.
    pub over_in: Option<Inches>,
    /// The same in millimetres.
    pub over_mm: Option<f64>,
    /// Size under which it ends.
    pub below_in: Option<Inches>,
    /// The same in millimetres.
    pub below_mm: Option<f64>,
    /// Largest size in it.
    pub up_to_in: Option<Inches>,
    /// The same in millimetres.
    pub up_to_mm: Option<f64>,
    /// Yield strength above which it begins, `MPa`.
    pub over_mpa: Option<f64>,
    /// Largest yield strength in it, `MPa`.
    pub up_to_mpa: Option<f64>,
    /// Least yield strength in it, `MPa`.
    pub from_mpa: Option<f64>,
    /// Yield strength under which it ends, `MPa`.
    pub below_mpa: Option<f64>,
    /// Whether each grade is tested by itself.
    pub alone: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A group of fillers.
#[derive(Debug, Clone, PartialEq)]
pub struct FillerRow {
    /// The group.
    pub group: &'static str,
    /// Its classes in words.
    pub classes: &'static str,
    /// How the classes begin.
    pub begins: &'static [&'static str],
    /// Groups that a welder may use after a test with this one.
    pub covers: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// A limit of examination.
#[derive(Debug, Clone, PartialEq)]
pub struct AcceptanceRow {
    /// The imperfection in words.
    pub imperfection: &'static str,
    /// The limit in words.
    pub limit: &'static str,
    /// Length or size of the limit.
    pub limit_in: Inches,
    /// The same in millimetres.
    pub limit_mm: f64,
    /// `single` or `sum`.
    pub of: &'static str,
    /// Largest share of the thinner wall, percent.
    pub wall_share_pct: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The limit of an imperfection by its name, single or as a sum in 12 in (300 mm); what stands after a comma may be left off.
pub fn acceptance(name: &str, sum: bool) -> Option<&'static AcceptanceRow> {
    let of = if sum { "sum" } else { "single" };
    let same = |row: &&AcceptanceRow| {
        find::same(row.imperfection, name)
            || row.imperfection.split(',').next().is_some_and(|own| find::same(own, name))
    };
    acceptances().iter().filter(|row| row.of == of).find(same)
}

/// Positions that a welder test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct WelderPositionRow {
    /// Position of the test.
    pub tested: &'static str,
    /// `flat`, `horizontal`, `vertical`, `overhead`.
    pub covers: &'static [&'static str],
    /// `rolled`, `fixed`.
    pub turns: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

impl GroupRow {
    fn holds(&self, size: Size) -> bool {
        size.from(self.from_mm, self.from_in)
            && size.over(self.over_mm, self.over_in)
            && size.below(self.below_mm, self.below_in)
            && size.up_to(self.up_to_mm, self.up_to_in)
    }

    /// Whether the least and the largest size lie outside the group themselves.
    pub fn exclusive(&self) -> (bool, bool) {
        (self.from_mm.is_none() && self.over_mm.is_some(), self.up_to_mm.is_none() && self.below_mm.is_some())
    }

    /// The sizes of the group, in inches or in millimetres.
    pub fn span(&self, customary: bool) -> Span {
        let figure = |mm: Option<f64>, inches: Option<Inches>| if customary { inches.map(|own| own.0) } else { mm };
        Span {
            band: Band::of((
                figure(self.from_mm, self.from_in).or(figure(self.over_mm, self.over_in)),
                figure(self.up_to_mm, self.up_to_in).or(figure(self.below_mm, self.below_in)),
            )),
            unit: if customary { "in" } else { "mm" },
        }
    }
}

/// The essential variables of a process (number or letters).
pub fn variables_of(process: &str) -> Vec<&'static VariableRow> {
    let number = processes::get(process).map_or(process, |row| row.number);
    variables().iter().filter(|row| row.processes.is_empty() || row.processes.contains(&number)).collect()
}

/// The group of `outside-diameter` or `wall` that a size lies in.
pub fn group(quantity: &str, size: Size) -> Option<&'static GroupRow> {
    groups().iter().find(|row| row.quantity == quantity && row.holds(size))
}

/// The group of a specified minimum yield strength, `MPa`.
pub fn strength(yield_mpa: f64) -> Option<&'static GroupRow> {
    groups().iter().filter(|row| row.quantity == "strength").find(|row| {
        row.over_mpa.is_none_or(|own| yield_mpa > own)
            && row.from_mpa.is_none_or(|own| yield_mpa >= own)
            && row.up_to_mpa.is_none_or(|own| yield_mpa <= own)
            && row.below_mpa.is_none_or(|own| yield_mpa < own)
    })
}

/// The group of a filler by its class: `E6010`, `E8010-P1`, `ER70S-6`.
pub fn filler(class: &str) -> Option<&'static FillerRow> {
    let class = class.trim().to_uppercase();
    fillers().iter().find(|row| {
        row.begins.iter().any(|own| {
            // E7010 is no E7018, and EL8 no EL8K: what follows is a mark, not more of the name.
            class.strip_prefix(own).is_some_and(|rest| {
                own.len() <= 2 || !rest.starts_with(|c: char| c.is_ascii_alphanumeric()) || own.starts_with("E70")
            })
        })
    })
}

/// The positions that a welder test in a position covers.
pub fn welder_position(tested: &str) -> Option<&'static WelderPositionRow> {
    find::by_name(welder_positions(), tested, |row| [row.tested])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::sizes::{inches, mm};

    // API 1104 6.2.2: outside diameter under 2.375 in, to 12.75 in, over; wall under 0.188 in, to 0.750 in, over.
    #[test]
    fn groups_begin_and_end_as_printed() {
        let of = |quantity, size| group(quantity, size).map(|row| row.group);
        for (size, own) in [("2.374", "small"), ("2.375", "middle"), ("12.75", "middle"), ("12.76", "large")] {
            assert_eq!(of("outside-diameter", inches(size)), Some(own), "{size}");
        }
        for (size, own) in [(60.2, "small"), (60.3, "middle"), (323.9, "middle"), (324.0, "large")] {
            assert_eq!(of("outside-diameter", mm(size)), Some(own), "{size}");
        }
        for (size, own) in [("0.187", "thin"), ("0.188", "middle"), ("3/4", "middle"), ("0.751", "thick")] {
            assert_eq!(of("wall", inches(size)), Some(own), "{size}");
        }
        for (size, own) in [(4.7, "thin"), (4.8, "middle"), (19.1, "middle"), (19.2, "thick")] {
            assert_eq!(of("wall", mm(size)), Some(own), "{size}");
        }
        for (strength_of, own) in [
            (245.0, "42 ksi maximum"),
            (290.0, "42 ksi maximum"),
            (360.0, "over 42, under 65 ksi"),
            (450.0, "65 ksi and over"),
        ] {
            assert_eq!(strength(strength_of).map(|row| row.group), Some(own), "{strength_of}");
        }
    }

    // API 1104 Table 1.
    #[test]
    fn fillers_have_their_groups() {
        for (class, own) in [
            ("E6010", Some("1")),
            ("E7010-P1", Some("1")),
            ("E8010-G", Some("2")),
            ("E7018", Some("3")),
            ("E7018-1", Some("3")),
            ("E8018-C3", Some("3")),
            ("ER70S-6", Some("5")),
            ("E71T8-K6", Some("8")),
            ("E6013", None),
            ("E71T-1C", None),
        ] {
            assert_eq!(filler(class).map(|row| row.group), own, "{class}");
        }
    }
}
