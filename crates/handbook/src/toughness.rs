//! What steel is delivered with and a procedure test may show: impact test, hardness, carbon equivalent.

use crate::base_metals::{self, BaseMetal};
use crate::find;
use crate::table::{Origin, table};

table!(METALS, metals, "impact-metals", MetalRow);
table!(FILLERS, fillers, "impact-fillers", FillerRow);
table!(HARDNESS, hardnesses, "hardness-limits", HardnessRow);
table!(CARBON, carbons, "carbon-equivalent-limits", CarbonRow);

/// The Charpy V test of a grade as delivered.
#[derive(Debug, Clone, PartialEq)]
pub struct MetalRow {
    /// Grades.
    pub grades: &'static [&'static str],
    /// Temperature of the test in degrees Celsius.
    pub test_c: f64,
    /// The same in degrees Fahrenheit.
    pub test_f: Option<f64>,
    /// Least mean, J.
    pub energy_j: f64,
    /// `long` or `transverse`.
    pub direction: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The Charpy V test of a class of filler.
#[derive(Debug, Clone, PartialEq)]
pub struct FillerRow {
    /// Classes.
    pub classes: &'static [&'static str],
    /// Temperature of the test in degrees Celsius; none where the class asks for no test.
    pub test_c: Option<f64>,
    /// The same in degrees Fahrenheit.
    pub test_f: Option<f64>,
    /// Least mean, J.
    pub energy_j: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The largest hardness of a group.
#[derive(Debug, Clone, PartialEq)]
pub struct HardnessRow {
    /// Groups of ISO/TR 15608, or subgroups.
    pub groups: &'static [&'static str],
    /// Largest HV10, not heat-treated.
    pub hv10_max: Option<f64>,
    /// Largest HV10, heat-treated.
    pub hv10_max_treated: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The largest carbon equivalent of a grade.
#[derive(Debug, Clone, PartialEq)]
pub struct CarbonRow {
    /// Grades.
    pub grades: &'static [&'static str],
    /// Carbon above which the row holds, percent.
    pub carbon_over_pct: Option<f64>,
    /// Carbon up to which the row holds, percent.
    pub carbon_up_to_pct: Option<f64>,
    /// Nominal thickness above which the row holds, mm.
    pub over_mm: Option<f64>,
    /// Nominal thickness up to which the row holds, mm.
    pub up_to_mm: Option<f64>,
    /// Largest carbon equivalent (IIW), percent.
    pub cev_max_pct: Option<f64>,
    /// Largest Pcm, percent.
    pub pcm_max_pct: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Whether one of the grades is a metal, by its own name or by what a document states.
fn names(grades: &[&str], metal: &'static BaseMetal, stated: &str) -> bool {
    // A delivery condition after the plus does not tell the quality.
    let plain = stated.split('+').next().unwrap_or(stated);
    let exact = grades.iter().any(|own| find::same(own, plain));
    exact || grades.iter().any(|own| base_metals::find(own).is_some_and(|row| std::ptr::eq(row, metal)))
}

/// The impact test of a metal; the row that spells the name goes first, since several qualities may share a metal.
pub fn metal(metal: &'static BaseMetal, stated: &str) -> Option<&'static MetalRow> {
    let plain = stated.split('+').next().unwrap_or(stated);
    let spelled = metals().iter().find(|row| row.grades.iter().any(|own| find::same(own, plain)));
    spelled.or_else(|| metals().iter().find(|row| names(row.grades, metal, stated)))
}

/// The impact test of a class of AWS; marks such as `H4R` do not count.
pub fn filler(class: &str) -> Option<&'static FillerRow> {
    fillers().iter().find(|row| row.classes.iter().any(|own| find::same(own, class)))
}

/// The largest hardness of a group or of the group around a subgroup.
pub fn hardness(group: &str) -> Option<&'static HardnessRow> {
    let of = |name: &str| hardnesses().iter().find(|row| row.groups.contains(&name));
    of(group).or_else(|| of(group.split('.').next()?))
}

/// The largest carbon equivalent of a metal of a thickness (mm) and carbon content (percent).
pub fn carbon(
    metal: &'static BaseMetal,
    stated: &str,
    thickness_mm: f64,
    carbon_pct: f64,
) -> Option<&'static CarbonRow> {
    carbons().iter().find(|row| {
        row.over_mm.is_none_or(|over| thickness_mm > over)
            && row.up_to_mm.is_none_or(|most| thickness_mm <= most)
            && row.carbon_over_pct.is_none_or(|over| carbon_pct > over)
            && row.carbon_up_to_pct.is_none_or(|most| carbon_pct <= most)
            && names(row.grades, metal, stated)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // EN 10025-2 (from memory): S355J2 up to 30 mm 0.45 %, over it 0.47 %; S235 over 40 mm 0.38 %.
    #[test]
    fn carbon_equivalents_go_by_grade_and_thickness() {
        let most = |name: &str, mm: f64| carbon(base_metals::find(name)?, name, mm, 0.18)?.cev_max_pct;
        assert_eq!(most("S355J2+N", 30.0), Some(0.45));
        assert_eq!(most("S355J2+N", 30.1), Some(0.47));
        assert_eq!(most("S235JR", 40.0), Some(0.35));
        assert_eq!(most("S235JR", 40.1), Some(0.38));
        assert_eq!(most("304L", 10.0), None);
    }

    #[test]
    fn line_pipe_goes_by_its_carbon() {
        let row = |pct: f64| carbon(base_metals::find("API 5L X52").unwrap(), "API 5L X52", 10.0, pct).unwrap();
        assert_eq!(row(0.12).pcm_max_pct, Some(0.25));
        assert_eq!(row(0.13).cev_max_pct, Some(0.43));
    }

    // ISO 15614-1 Table 3 (from memory): groups 1 and 2 380, treated 320; 9.1 350.
    #[test]
    fn hardness_goes_by_group() {
        let most = |group: &str| hardness(group).map(|row| (row.hv10_max, row.hv10_max_treated));
        assert_eq!(most("1.2"), Some((Some(380.0), Some(320.0))));
        assert_eq!(most("9.1"), Some((Some(350.0), Some(300.0))));
        assert_eq!(most("6.4"), Some((None, Some(350.0))));
        assert_eq!(most("8.1"), None);
    }

    #[test]
    fn qualities_of_one_steel_are_told_apart() {
        let at = |name: &str| metal(base_metals::find(name)?, name).map(|row| (row.test_c, row.energy_j));
        assert_eq!(at("S355J2+N"), Some((-20.0, 27.0)));
        assert_eq!(at("S355K2+N"), Some((-20.0, 40.0)));
        assert_eq!(at("S235JR"), Some((20.0, 27.0)));
        assert_eq!(at("A36"), None);
        assert_eq!(filler("E7018").and_then(|row| row.test_c), Some(-30.0));
        assert_eq!(filler("E6013").map(|row| row.test_c), Some(None));
    }
}
