//! Vickers hardness with a test force of 98.07 N: HV10.
//!
//! Source: ISO 6507-1, from memory: HV10 is the scale with a test force of 98.07 N; hardness scales have no exact conversion.

use super::declare::quantity;
use super::unit::Unit;

const HV10: Unit = Unit::shared("HV10", (1, 1), 0).aliases(&["HV 10"]).near(&["HV", "HV5"]);

quantity! {
    /// A Vickers hardness; the base unit is HV10.
    Hardness {
        name: "hardness", format: "hardness", examples: ["350 HV10", "380 HV10 maximum"],
        si: HV10, us: HV10, lowest: Some((0, 1)),
        units: {
            hv10, from_hv10: HV10;
        }
    }
}
