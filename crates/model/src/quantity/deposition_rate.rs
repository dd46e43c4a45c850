//! Deposition rate: kg/h, lb/h.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 lb = 0.45359237 kg, exactly.

use super::declare::quantity;
use super::unit::Unit;

const KG_PER_H: Unit = Unit::si("kg/h", (1, 1), 2).aliases(&["kg/hr"]);
const LB_PER_H: Unit = Unit::us("lb/h", (45_359_237, 100_000_000), 1).aliases(&["lb/hr", "lbs/h", "lbs/hr"]);

quantity! {
    /// A deposition rate; the base unit is kg/h.
    DepositionRate {
        name: "deposition rate", format: "deposition-rate", examples: ["1.5 kg/h", "3.3 lb/h"],
        si: KG_PER_H, us: LB_PER_H, lowest: Some((0, 1)),
        units: {
            kg_per_h, from_kg_per_h: KG_PER_H;
            lb_per_h, from_lb_per_h: LB_PER_H;
        }
    }
}
