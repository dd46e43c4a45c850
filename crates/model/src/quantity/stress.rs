//! Stress: `MPa`, ksi.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 lbf = 0.45359237 kg × 9.80665 m/s2 = 4.4482216152605 N and
//! 1 in = 25.4 mm, exactly; 1 ksi = 1000 lbf/in2 = 4448.2216152605 N / 645.16 mm2.

use super::declare::quantity;
use super::unit::Unit;

const MPA: Unit = Unit::si("MPa", (1, 1), 0).aliases(&["N/mm2", "N/mm²"]);
const KSI: Unit = Unit::us("ksi", (44_482_216_152_605, 6_451_600_000_000), 1).aliases(&["kpsi"]);

quantity! {
    /// A stress or strength; the base unit is `MPa`.
    Stress {
        name: "stress", format: "stress", examples: ["355 MPa", "70 ksi"],
        si: MPA, us: KSI, lowest: Some((0, 1)),
        units: {
            mpa, from_mpa: MPA;
            ksi, from_ksi: KSI;
        }
    }
}
