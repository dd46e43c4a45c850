//! Voltage: V.

use super::declare::quantity;
use super::unit::Unit;

const V: Unit = Unit::shared("V", (1, 1), 1).aliases(&["volt", "volts"]);

quantity! {
    /// An arc voltage; the base unit is V.
    Voltage {
        name: "voltage", format: "voltage", examples: ["10 V", "9-12 V"],
        si: V, us: V, lowest: Some((0, 1)),
        units: {
            volts, from_volts: V;
        }
    }
}
