//! Mass: g, kg, lb.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 lb = 0.45359237 kg, exactly.

use super::declare::quantity;
use super::unit::Unit;

const G: Unit = Unit::si("g", (1, 1), 0).aliases(&["gram", "grams"]).near(&["gr"]);
const KG: Unit = Unit::si("kg", (1000, 1), 2).aliases(&["kilo", "kilogram"]);
const LB: Unit = Unit::us("lb", (45_359_237, 100_000), 2).aliases(&["lbs", "pound", "pounds", "lbm", "#"]);

quantity! {
    /// A mass; the base unit is g.
    Mass {
        name: "mass", format: "mass", examples: ["5 kg", "11 lb"],
        si: KG, us: LB, lowest: Some((0, 1)),
        units: {
            grams, from_grams: G;
            kg, from_kg: KG;
            lb, from_lb: LB;
        }
    }
}
