//! Gas flow: L/min, cfh.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 ft = 0.3048 m, so 1 ft3 = 28.316846592 L, exactly.

use super::declare::quantity;
use super::unit::Unit;

const L_PER_MIN: Unit = Unit::si("L/min", (1, 1), 1).aliases(&["l/min", "lpm", "ltr/min"]).near(&["l/mn"]);
const CFH: Unit = Unit::us("cfh", (28_316_846_592, 60_000_000_000), 0).aliases(&["ft3/h", "ft³/h", "scfh"]);

quantity! {
    /// A flow of gas; the base unit is L/min.
    Flow {
        name: "flow", format: "flow", examples: ["8 L/min", "20 cfh"],
        si: L_PER_MIN, us: CFH, lowest: Some((0, 1)),
        units: {
            l_per_min, from_l_per_min: L_PER_MIN;
            cfh, from_cfh: CFH;
        }
    }
}
