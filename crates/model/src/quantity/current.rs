//! Current: A.

use super::declare::quantity;
use super::unit::Unit;

const A: Unit = Unit::shared("A", (1, 1), 0).aliases(&["amp", "amps", "ampere", "amperes"]);

quantity! {
    /// A welding current; the base unit is A.
    Current {
        name: "current", format: "current", examples: ["90 A", "90-120 A"],
        si: A, us: A, lowest: Some((0, 1)),
        units: {
            amperes, from_amperes: A;
        }
    }
}
