//! Tables by which preheat is found: EN 1011-2, the hydrogen control method of AWS D1.1, shape factors of cooling time.

use crate::band::Band;
use crate::bounds::Bounds;
use crate::find;
use crate::measure::Size;
use crate::planning;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(COMBINED_THICKNESS, combined_thickness, "en-1011-2-combined-thickness", CombinedThicknessRow);
table!(HYDROGEN_SCALES, hydrogen_scales, "hydrogen-scales", HydrogenScaleRow);
table!(VALIDITY, validity, "en-1011-2-validity", ValidityRow);
table!(SHAPE_FACTORS, shape_factors, "shape-factors", ShapeFactorRow);
table!(SUSCEPTIBILITY_INDEX, susceptibility_index, "aws-susceptibility-index", SusceptibilityIndexRow);
table!(SUSCEPTIBILITY_GROUPS, susceptibility_groups, "aws-susceptibility-groups", SusceptibilityGroupRow);
table!(HYDROGEN_PREHEAT, hydrogen_preheat, "aws-hydrogen-preheat", HydrogenPreheatRow);
table!(COMPLIANCE_FACTOR, compliance_factor, "csa-compliance-factor", ComplianceFactorRow);
table!(HARDENING_RULES, hardening_rules, "hardening-rules", Rule);
named!("hardening-rules");

/// Largest combined thickness that needs no preheat.
#[derive(Debug, Clone, PartialEq)]
pub struct CombinedThicknessRow {
    /// Diffusible hydrogen above which the row holds, in millilitres for 100 g.
    pub hydrogen_over_ml: Option<f64>,
    /// Diffusible hydrogen up to which the row holds, in millilitres for 100 g.
    pub hydrogen_up_to_ml: Option<f64>,
    /// Carbon equivalent CE in mass percent.
    pub ce_pct: f64,
    /// Heat input in kilojoules per millimetre.
    pub heat_input_kj_mm: f64,
    /// Largest combined thickness in millimetres.
    pub combined_thickness_max_mm: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A scale of diffusible hydrogen.
#[derive(Debug, Clone, PartialEq)]
pub struct HydrogenScaleRow {
    /// Letter of the scale.
    pub scale: &'static str,
    /// Above, in millilitres for 100 g.
    pub over_ml: Option<f64>,
    /// Up to, in millilitres for 100 g.
    pub up_to_ml: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Where a method holds.
#[derive(Debug, Clone, PartialEq)]
pub struct ValidityRow {
    /// `A` or `B`.
    pub method: &'static str,
    /// Element, or `CE`, `CET`, `ReH`, `thickness`, `hydrogen`, `heat-input`.
    pub quantity: &'static str,
    /// Range of validity, in `unit`.
    pub range: Band,
    /// Unit of the range.
    pub unit: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Shape factors of a kind of weld.
#[derive(Debug, Clone, PartialEq)]
pub struct ShapeFactorRow {
    /// The weld in words.
    pub weld: &'static str,
    /// Factor for two-dimensional heat flow.
    pub f2: Band,
    /// Factor for three-dimensional heat flow.
    pub f3: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A band of the susceptibility index.
#[derive(Debug, Clone, PartialEq)]
pub struct SusceptibilityIndexRow {
    /// Letter of the group.
    pub group: &'static str,
    /// Susceptibility index, to one decimal.
    pub index: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Group by Pcm and hydrogen level.
#[derive(Debug, Clone, PartialEq)]
pub struct SusceptibilityGroupRow {
    /// Pcm below which the row holds, in mass percent.
    pub pcm_below_pct: f64,
    /// Group with level H1.
    pub h1: &'static str,
    /// Group with level H2.
    pub h2: &'static str,
    /// Group with level H3.
    pub h3: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Preheat by restraint and thickness, in degrees Fahrenheit.
#[derive(Debug, Clone, PartialEq)]
pub struct HydrogenPreheatRow {
    /// `low`, `medium` or `high`.
    pub restraint: &'static str,
    /// Thickness for which the row holds.
    #[cfg_attr(false, prefix = "")]
    pub thickness: Bounds,
    /// Group A.
    pub group_a_f: f64,
    /// Group B.
    pub group_b_f: f64,
    /// Group C.
    pub group_c_f: f64,
    /// Group D.
    pub group_d_f: f64,
    /// Group E.
    pub group_e_f: f64,
    /// Group F.
    pub group_f_f: f64,
    /// Group G.
    pub group_g_f: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Compliance factor by carbon.
#[derive(Debug, Clone, PartialEq)]
pub struct ComplianceFactorRow {
    /// Carbon in mass percent.
    pub carbon_pct: f64,
    /// Factor.
    pub factor: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

fn between(over: Option<f64>, up_to: Option<f64>, value: f64) -> bool {
    over.is_none_or(|over| over < value) && up_to.is_none_or(|up_to| value <= up_to)
}

/// The scale of a diffusible hydrogen content in millilitres for 100 g.
pub fn hydrogen_scale(hydrogen_ml: f64) -> Option<&'static HydrogenScaleRow> {
    hydrogen_scales().iter().find(|row| between(row.over_ml, row.up_to_ml, hydrogen_ml))
}

/// The row for a hydrogen content, carbon equivalent and heat input that are at least those given: never on the unsafe side.
///
/// Hydrogen in millilitres for 100 g, carbon equivalent in mass percent, heat input in kilojoules per millimetre. Of the
/// listed carbon equivalents the next higher one counts, of the listed heat inputs the next lower one; beyond the list
/// there is nothing.
pub fn thickness_without_preheat(
    hydrogen_ml: f64,
    ce_pct: f64,
    heat_input_kj_mm: f64,
) -> Option<&'static CombinedThicknessRow> {
    combined_thickness()
        .iter()
        .filter(|row| between(row.hydrogen_over_ml, row.hydrogen_up_to_ml, hydrogen_ml))
        .filter(|row| ce_pct <= row.ce_pct && row.heat_input_kj_mm <= heat_input_kj_mm)
        .max_by(|a, b| {
            (-a.ce_pct, a.heat_input_kj_mm)
                .partial_cmp(&(-b.ce_pct, b.heat_input_kj_mm))
                .unwrap_or(std::cmp::Ordering::Equal)
        })
}

/// The largest combined thickness in mm that method A welds without preheat, and its row: as [`thickness_without_preheat`], and
/// under the least heat input of the table the thickness falls with the heat input.
pub fn cold_thickness(
    hydrogen_ml: f64,
    ce_pct: f64,
    heat_input_kj_mm: f64,
) -> Option<(f64, &'static CombinedThicknessRow)> {
    let least = planning::METHOD_A_LEAST_HEAT.value.high;
    let row = thickness_without_preheat(hydrogen_ml, ce_pct, heat_input_kj_mm.max(least))?;
    Some(((heat_input_kj_mm / least).min(1.0) * row.combined_thickness_max_mm, row))
}

/// The highest carbon equivalent CE, %, of the rows of [`thickness_without_preheat`] for a hydrogen in ml/100 g.
pub fn carbon_equivalent_most(hydrogen_ml: f64) -> Option<f64> {
    let rows = combined_thickness().iter();
    let own = rows.filter(|row| between(row.hydrogen_over_ml, row.hydrogen_up_to_ml, hydrogen_ml));
    own.map(|row| row.ce_pct).reduce(f64::max)
}

/// Where a method (`A` or `B`) holds for an element or another quantity.
pub fn valid_range(method: &str, quantity: &str) -> Option<&'static ValidityRow> {
    validity().iter().find(|row| find::same(row.method, method) && find::same(row.quantity, quantity))
}

/// Shape factors of a kind of weld, by its name in the table.
pub fn shape(weld: &str) -> Option<&'static ShapeFactorRow> {
    find::by_name(shape_factors(), weld, |row| [row.weld])
}

/// The susceptibility group by Pcm in mass percent and hydrogen level 1 to 3.
pub fn susceptibility_group(pcm_pct: f64, hydrogen_level: u8) -> Option<&'static str> {
    let row = susceptibility_groups().iter().find(|row| pcm_pct < row.pcm_below_pct)?;
    match hydrogen_level {
        1 => Some(row.h1),
        2 => Some(row.h2),
        3 => Some(row.h3),
        _ => None,
    }
}

/// The least preheat in degrees Fahrenheit by restraint (`low`, `medium`, `high`), thickness and group.
pub fn hydrogen_control_preheat(
    restraint: &str,
    thickness: Size,
    group: &str,
) -> Option<(f64, &'static HydrogenPreheatRow)> {
    let own = |row: &&HydrogenPreheatRow| find::same(row.restraint, restraint) && row.thickness.hold(thickness);
    let row = hydrogen_preheat().iter().find(own)?;
    let least = match group.trim().to_ascii_uppercase().as_str() {
        "A" => row.group_a_f,
        "B" => row.group_b_f,
        "C" => row.group_c_f,
        "D" => row.group_d_f,
        "E" => row.group_e_f,
        "F" => row.group_f_f,
        "G" => row.group_g_f,
        _ => return None,
    };
    Some((least, row))
}

#[cfg(test)]
mod tests {
    use super::*;

    // EN 1011-2:2001 table C.1: hydrogen 5 to 10 ml/100 g, CE 0.43, 1 kJ/mm, 60 mm; CE 0.49, 35 mm.
    #[test]
    fn combined_thickness_is_read_on_the_safe_side() {
        let largest =
            |hydrogen, ce, heat| thickness_without_preheat(hydrogen, ce, heat).map(|row| row.combined_thickness_max_mm);
        assert_eq!(largest(8.0, 0.43, 1.0), Some(60.0));
        assert_eq!(largest(8.0, 0.45, 1.5), Some(35.0));
        assert_eq!(largest(8.0, 0.40, 2.5), Some(100.0));
        assert_eq!(largest(8.0, 0.55, 1.0), None);
        assert_eq!(largest(8.0, 0.40, 0.5), None);
        assert_eq!(hydrogen_scale(8.0).unwrap().scale, "C");
    }

    #[test]
    fn preheat_rises_with_group_restraint_and_thickness() {
        let groups = |row: &HydrogenPreheatRow| {
            [row.group_a_f, row.group_b_f, row.group_c_f, row.group_d_f, row.group_e_f, row.group_f_f, row.group_g_f]
        };
        for row in hydrogen_preheat() {
            assert!(groups(row).windows(2).all(|pair| pair[0] <= pair[1]), "{row:?}");
        }
        for thickness in [5.0, 15.0, 30.0, 50.0, 100.0] {
            for group in ["A", "B", "C", "D", "E", "F", "G"] {
                let least = |restraint| {
                    hydrogen_control_preheat(restraint, Size::from_mm(thickness).unwrap(), group).unwrap().0
                };
                assert!(
                    least("low") <= least("medium") && least("medium") <= least("high") + 1e-9,
                    "{thickness} {group}"
                );
            }
        }
        // 1-1/2 in stands in the row 3/4 through 1-1/2 in, 38.1 mm over 38 mm.
        let least = |size: Option<Size>| hydrogen_control_preheat("high", size.unwrap(), "C").unwrap().0;
        assert_eq!(least(Size::from_inches(1.5)).to_bits(), 240.0_f64.to_bits());
        assert_eq!(least(Size::from_mm(38.1)).to_bits(), 300.0_f64.to_bits());
        assert_eq!(susceptibility_group(0.2, 1), Some("B"));
        assert_eq!(susceptibility_group(0.2, 4), None);
    }

    // The tabulated factor follows 0.75 + 0.25 tanh(20 (C - 0.12)) within 0.01 (Yurioka's accommodation factor).
    #[test]
    fn compliance_factor_follows_its_curve() {
        for row in compliance_factor() {
            let curve = 0.75 + 0.25 * (20.0 * (row.carbon_pct - 0.12)).tanh();
            assert!((row.factor - curve).abs() < 0.01, "{row:?} {curve}");
        }
    }

    #[test]
    fn methods_name_where_they_hold() {
        assert!(valid_range("B", "thickness").unwrap().range.contains(40.0));
        assert!(valid_range("a", "ce").unwrap().range.contains(0.45));
        assert!(shape("fillet, lap joint").is_some());
    }
}
