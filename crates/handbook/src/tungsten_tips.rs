//! Ground tips of tungsten electrodes: flat and angle by diameter and current, and rules for grinding.

use crate::band::Band;
use crate::find;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(INFO, rows, "tungsten-tips", Row);
table!(RULES, rules, "tungsten-tip-rules", Rule);
named!("tungsten-tip-rules");

/// One shape of tip.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Diameter of the electrode in millimetres.
    pub electrode_mm: f64,
    /// Included angle in degrees.
    pub included_angle_deg: f64,
    /// Constant current in amperes.
    pub constant_a: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Shapes for an electrode diameter in millimetres, within 5 %, bluntest last.
pub fn for_electrode(electrode_mm: f64) -> Vec<&'static Row> {
    rows().iter().filter(|row| find::same_size(row.electrode_mm, electrode_mm)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    // AWS C5.5 pattern: a blunter tip carries more current.
    #[test]
    fn a_blunter_tip_carries_more() {
        for electrode in [1.0, 1.6, 2.4, 3.2] {
            let shapes = for_electrode(electrode);
            assert_eq!(shapes.len(), 2);
            assert!(shapes.windows(2).all(|pair| {
                pair[0].included_angle_deg < pair[1].included_angle_deg
                    && pair[0].constant_a.high < pair[1].constant_a.high
            }));
        }
    }

    // Half the taper angle has the tangent of half a diameter over the taper length: 2 to 3 diameters is 19 to 28 degrees.
    #[test]
    fn taper_and_angle_agree_in_order() {
        let taper = TAPER_LENGTH.value;
        let angle = |length: f64| 2.0 * (0.5 / length).atan().to_degrees();
        assert!(Band::new(15.0, 60.0).covers(Band::new(angle(taper.high), angle(taper.low))));
    }
}
