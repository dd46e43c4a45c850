//! Arc power: W, kW.

use super::declare::quantity;
use super::unit::Unit;

const W: Unit = Unit::shared("W", (1, 1), 0).aliases(&["watt", "watts"]);
const KW: Unit = Unit::shared("kW", (1000, 1), 2);

quantity! {
    /// A power; the base unit is W.
    Power {
        name: "power", format: "power", examples: ["2.2 kW", "900 W"],
        si: KW, us: KW, lowest: Some((0, 1)),
        units: {
            watts, from_watts: W;
            kilowatts, from_kilowatts: KW;
        }
    }
}
