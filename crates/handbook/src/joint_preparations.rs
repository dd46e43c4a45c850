//! Prepared joints of ISO 9692-1: angle, gap and root face by kind of groove and thickness.

use crate::band::Band;
use crate::find;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!("joint-preparations", Row);
table!(RULES, rules, "joint-preparation-rules", Rule);
named!("joint-preparation-rules");

/// One preparation.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Reference number of the standard.
    #[cfg_attr(false, key = "ref")]
    pub number: &'static str,
    /// Kind of groove.
    pub kind: &'static str,
    /// `one` or `both`.
    pub sides: &'static str,
    /// Thickness above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// Thickness up to which the row holds, in millimetres.
    pub up_to_mm: Option<f64>,
    /// Angle of the groove in degrees.
    pub angle_deg: Option<Band>,
    /// `included`, `bevel` or `flank`.
    pub angle_of: Option<&'static str>,
    /// Gap at the root in millimetres.
    pub gap_mm: Option<Band>,
    /// Gap as a share of the thickness.
    pub gap_thicknesses: Option<f64>,
    /// Depth of the root face in millimetres.
    pub root_face_mm: Option<Band>,
    /// Whether a backing is needed.
    pub backing: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// Whether the row holds for a thickness in millimetres; the lower bound counts too, since sources differ there.
    pub fn holds(&self, thickness_mm: f64) -> bool {
        self.over_mm.is_none_or(|over| over <= thickness_mm) && self.up_to_mm.is_none_or(|up_to| thickness_mm <= up_to)
    }
}

/// Preparations of a kind of groove (`V`, `U`, `square` ...) that hold for a thickness in millimetres.
pub fn suited(kind: &str, thickness_mm: f64) -> Vec<&'static Row> {
    rows().iter().filter(|row| find::same(row.kind, kind) && row.holds(thickness_mm)).collect()
}

/// Kinds of groove that are spelt most like this one.
pub fn nearest(kind: &str) -> Vec<&'static str> {
    find::nearest(kind, rows().iter().map(|row| row.kind))
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 9692-1:2013, 1.3: single V, 3 to 10 mm, 40 to 60 degrees, gap at most 4 mm, root face at most 2 mm (from memory).
    #[test]
    fn a_single_v_is_found_by_thickness() {
        let found = suited("v", 6.0);
        assert!(found.iter().any(|row| row.number == "1.3" && row.angle_deg == Some(Band::new(40.0, 60.0))));
        assert!(suited("double U", 12.0).is_empty());
    }

    #[test]
    fn bounds_run_upwards() {
        for row in rows() {
            assert!(row.over_mm.zip(row.up_to_mm).is_none_or(|(over, up_to)| over < up_to), "{}", row.number);
            assert_eq!(row.angle_deg.is_some(), row.angle_of.is_some(), "{}", row.number);
        }
    }
}
