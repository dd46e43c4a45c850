//! Density: kg/m3.

use super::declare::quantity;
use super::unit::Unit;

const KG_PER_M3: Unit = Unit::shared("kg/m3", (1, 1), 0).aliases(&["kg/m³", "kg/m^3"]);

quantity! {
    /// A density; the base unit is kg/m3.
    Density {
        name: "density", format: "density", examples: ["7850 kg/m3", "2700 kg/m3"],
        si: KG_PER_M3, us: KG_PER_M3, lowest: Some((0, 1)),
        units: {
            kg_per_m3, from_kg_per_m3: KG_PER_M3;
        }
    }
}
