//! Frequency: Hz.

use super::declare::quantity;
use super::unit::Unit;

const HZ: Unit = Unit::shared("Hz", (1, 1), 1).aliases(&["hertz", "pps"]);

quantity! {
    /// A frequency; the base unit is Hz.
    Frequency {
        name: "frequency", format: "frequency", examples: ["120 Hz", "0.5-2 Hz"],
        si: HZ, us: HZ, lowest: Some((0, 1)),
        units: {
            hertz, from_hertz: HZ;
        }
    }
}
