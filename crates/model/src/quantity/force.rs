//! Force: kN.

use super::declare::quantity;
use super::unit::Unit;

const KN: Unit = Unit::shared("kN", (1, 1), 1);

quantity! {
    /// A force; the base unit is kN.
    Force {
        name: "force", format: "force", examples: ["120 kN", "95-105 kN"],
        si: KN, us: KN, lowest: Some((0, 1)),
        units: {
            kn, from_kn: KN;
        }
    }
}
