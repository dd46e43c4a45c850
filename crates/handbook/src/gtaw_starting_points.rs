//! Starting points for manual tungsten arc welding, the range of current that they span, and rules of thumb.

use serde::{Deserialize, Serialize};

use crate::band::{Band, Usual};
use crate::find;
use crate::metal_families;
use crate::processes::Polarity;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(INFO, rows, "gtaw-starting-points", Row);
table!(CURRENT, currents, "gtaw-current", CurrentRow);
table!(RULES, rules, "gtaw-rules", Rule);
named!("gtaw-rules");

/// The kind of joint, as the starting points tell joints apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Joint {
    /// Butt joint.
    Butt,
    /// Lap joint with a fillet weld.
    Lap,
    /// Tee joint with a fillet weld.
    Tee,
    /// Corner joint.
    Corner,
}

/// One line of a source.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Families of metal.
    pub metals: &'static [&'static str],
    /// Thickness in millimetres.
    pub thickness_mm: Band,
    /// Joints that the line is for.
    pub joints: &'static [Joint],
    /// Position of ISO 6947.
    pub position: &'static str,
    /// Polarity.
    pub polarity: Polarity,
    /// Current in amperes.
    pub current_a: Band,
    /// Diameter of the tungsten electrode in millimetres.
    pub electrode_mm: Band,
    /// Numbers of the gas nozzle.
    pub nozzle: Option<Band>,
    /// Diameter of the filler rod in millimetres.
    pub filler_mm: Band,
    /// Argon flow in litres per minute.
    pub argon_l_min: Band,
    /// Travel speed in millimetres per minute.
    pub travel_mm_min: Option<Band>,
    /// Whether the line is of a table for mechanized welding.
    #[cfg_attr(false, optional)]
    pub mechanized: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The current that the starting points span.
#[derive(Debug, Clone, PartialEq)]
pub struct CurrentRow {
    /// Family of metal.
    pub metal: &'static str,
    /// Thickness in millimetres.
    pub thickness_mm: f64,
    /// Joints that the row is for.
    pub joints: &'static [Joint],
    /// Current in amperes.
    pub usual_a: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// How far thicknesses may lie apart and still be one: metric and inch sheet, 1.5 and 1.6 mm, 6.0 and 6.4 mm.
const SAME_SHEET: f64 = 0.065;

fn same_sheet(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME_SHEET * a.max(b)
}

/// Starting points for a family of metal, thickness in millimetres and joint, those of one thickness before those of a range.
pub fn near(family: &str, thickness_mm: f64, joint: Joint) -> Vec<&'static Row> {
    let mut found: Vec<&'static Row> = rows()
        .iter()
        .filter(|row| row.joints.contains(&joint))
        .filter(|row| row.metals.iter().any(|metal| metal_families::is_in(family, metal)))
        .filter(|row| {
            let range = row.thickness_mm;
            range.contains(thickness_mm) || same_sheet(range.low, thickness_mm) && same_sheet(range.high, thickness_mm)
        })
        .collect();
    found.sort_by(|a, b| {
        let width = |row: &Row| row.thickness_mm.high - row.thickness_mm.low;
        // What is welded by hand comes before a table for mechanized welding.
        a.mechanized.cmp(&b.mechanized).then(width(a).total_cmp(&width(b)))
    });
    found
}

/// The range of current in amperes over all starting points, by family of metal, thickness in millimetres and joint.
///
/// A thickness that no starting point has gets nothing.
pub fn current(family: &str, thickness_mm: f64, joint: Joint) -> Option<Usual> {
    let rows = currents().iter().filter(|row| row.joints.contains(&joint) && metal_families::is_in(family, row.metal));
    let off = |row: &&CurrentRow| (row.thickness_mm - thickness_mm).abs();
    let row = rows.min_by(|a, b| off(a).total_cmp(&off(b))).filter(|row| same_sheet(row.thickness_mm, thickness_mm))?;
    Some(Usual { range: row.usual_a, source: row.origin.source_ref(), doubt: row.origin.doubt })
}

/// Families that have starting points.
pub fn families() -> Vec<&'static str> {
    let mut names: Vec<&str> = rows().iter().flat_map(|row| row.metals.iter().copied()).collect();
    names.sort_unstable();
    names.dedup_by(|a, b| find::same(a, b));
    names
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tungsten_current::{self, CurrentType};
    use crate::tungsten_types::Group;
    use crate::{gas_nozzles, nozzle_gas_flow};

    fn each_type(polarity: Polarity) -> &'static [CurrentType] {
        match polarity {
            Polarity::Dcen => &[CurrentType::Dcen],
            Polarity::Dcep => &[CurrentType::Dcep],
            Polarity::Ac => &[CurrentType::Ac, CurrentType::AcBalanced, CurrentType::AcUnbalanced],
        }
    }

    #[test]
    fn every_starting_current_lies_inside_the_limits_of_its_electrode() {
        for row in rows() {
            for current in each_type(row.polarity) {
                let of =
                    |diameter| tungsten_current::range(Group::Oxide, *current, diameter).map(|limits| limits.envelope);
                let (thin, thick) = (of(row.electrode_mm.low).unwrap(), of(row.electrode_mm.high).unwrap());
                assert!(thin.hull(thick).covers(row.current_a), "{current:?} {row:?}");
                assert!(thin.low <= row.current_a.low && row.current_a.high <= thick.high, "{current:?} {row:?}");
            }
        }
    }

    #[test]
    fn every_starting_flow_lies_inside_the_limits_of_its_nozzle_and_electrode() {
        for row in rows() {
            for nozzle in gas_nozzles::rows() {
                if row.nozzle.is_some_and(|range| range.contains(f64::from(nozzle.number))) {
                    let limits = nozzle_gas_flow::range(nozzle.number, false).unwrap();
                    assert!(limits.envelope.covers(row.argon_l_min), "{} {row:?}", nozzle.number);
                }
            }
            for electrode in nozzle_gas_flow::by_electrode() {
                if row.electrode_mm.contains(electrode.electrode_mm) {
                    assert!(electrode.envelope_l_min.covers(row.argon_l_min), "{electrode:?} {row:?}");
                }
            }
        }
    }

    #[test]
    fn the_range_of_current_holds_every_starting_point() {
        for range in currents() {
            for joint in range.joints {
                for row in near(range.metal, range.thickness_mm, *joint) {
                    assert!(range.usual_a.hull(row.current_a) == range.usual_a, "{range:?} {row:?}");
                }
            }
        }
    }

    // Gas-supplier welder handbook p. 41: aluminium 6 mm fillet, 260 to 295 A.
    #[test]
    fn six_millimetres_finds_a_quarter_inch() {
        let found = near("aluminium-magnesium", 6.0, Joint::Tee);
        assert!(found.iter().any(|row| row.current_a == Band::new(260.0, 295.0)));
        assert!(current("aluminium", 6.0, Joint::Tee).unwrap().range.covers(Band::new(260.0, 295.0)));
        assert!(current("aluminium", 20.0, Joint::Butt).is_none());
        assert!(current("titanium", 3.2, Joint::Butt).is_none());
    }
}
