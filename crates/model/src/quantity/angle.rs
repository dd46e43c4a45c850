//! Angle: deg, °.

use super::declare::quantity;
use super::unit::Unit;

const DEG: Unit = Unit::shared("°", (1, 1), 0).aliases(&["deg", "º", "degree", "degrees", "degs"]);

quantity! {
    /// An angle; the base unit is deg.
    Angle {
        name: "angle", format: "angle", examples: ["60 deg", "60-70 deg"],
        si: DEG, us: DEG, lowest: None,
        units: {
            degrees, from_degrees: DEG;
        }
    }
}
