//! Residual oxygen in a gas: ppm.

use super::declare::quantity;
use super::unit::Unit;

const PPM: Unit = Unit::shared("ppm", (1, 1), 0).aliases(&["vpm", "parts per million"]);

quantity! {
    /// A content of oxygen by volume; the base unit is ppm.
    Oxygen {
        name: "oxygen content", format: "oxygen-content", examples: ["50 ppm maximum", "20-50 ppm"],
        si: PPM, us: PPM, lowest: Some((0, 1)),
        units: {
            ppm, from_ppm: PPM;
        }
    }
}
