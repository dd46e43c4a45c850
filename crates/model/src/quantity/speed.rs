//! Speed of travel or of wire: mm/min, mm/s, cm/min, m/min, in/min.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 in = 25.4 mm and 1 min = 60 s, exactly.

use super::declare::quantity;
use super::unit::Unit;

const MM_PER_MIN: Unit = Unit::si("mm/min", (1, 1), 0).near(&["mmpm"]);
const MM_PER_S: Unit = Unit::si("mm/s", (60, 1), 1).aliases(&["mm/sec"]);
const CM_PER_MIN: Unit = Unit::si("cm/min", (10, 1), 1).aliases(&["cmpm"]).near(&["cpm"]);
const M_PER_MIN: Unit = Unit::si("m/min", (1000, 1), 1).near(&["mpm"]);
const IN_PER_MIN: Unit = Unit::us("in/min", (254, 10), 1)
    .aliases(&["ipm", "inch/min", "inches/min", "\"/min", "\u{201d}/min", "\u{2033}/min"])
    .near(&["in per min", "in/m", "\"/m"]);

quantity! {
    /// A speed of travel or of wire; the base unit is mm/min.
    Speed {
        name: "speed", format: "speed", examples: ["60 mm/min", "10 in/min"],
        si: MM_PER_MIN, us: IN_PER_MIN, lowest: Some((0, 1)),
        units: {
            mm_per_min, from_mm_per_min: MM_PER_MIN;
            mm_per_s, from_mm_per_s: MM_PER_S;
            cm_per_min, from_cm_per_min: CM_PER_MIN;
            m_per_min, from_m_per_min: M_PER_MIN;
            in_per_min, from_in_per_min: IN_PER_MIN;
        }
    }
}
