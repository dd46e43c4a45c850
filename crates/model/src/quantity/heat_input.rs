//! Heat input: kJ/mm, kJ/cm, kJ/in.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 in = 25.4 mm, exactly.

use super::declare::quantity;
use super::unit::Unit;

const KJ_PER_MM: Unit = Unit::si("kJ/mm", (1, 1), 2);
const KJ_PER_CM: Unit = Unit::si("kJ/cm", (1, 10), 1);
const KJ_PER_IN: Unit = Unit::us("kJ/in", (10, 254), 1).aliases(&["kJ/inch"]);

quantity! {
    /// A heat input; the base unit is kJ/mm.
    HeatInput {
        name: "heat input", format: "heat-input", examples: ["1.0 kJ/mm", "25.4 kJ/in"],
        si: KJ_PER_MM, us: KJ_PER_IN, lowest: Some((0, 1)),
        units: {
            kj_per_mm, from_kj_per_mm: KJ_PER_MM;
            kj_per_cm, from_kj_per_cm: KJ_PER_CM;
            kj_per_in, from_kj_per_in: KJ_PER_IN;
        }
    }
}
