//! Diffusible hydrogen in the deposited metal: ml/100g.

use super::declare::quantity;
use super::unit::Unit;

const ML_PER_100G: Unit =
    Unit::shared("ml/100g", (1, 1), 1).aliases(&["ml/100 g", "mL/100 g", "cc/100g"]).near(&["ml", "ml/100"]);

quantity! {
    /// A content of diffusible hydrogen; the base unit is ml in 100 g of deposited metal.
    Hydrogen {
        name: "hydrogen content", format: "hydrogen-content", examples: ["5 ml/100g", "4 ml/100g maximum"],
        si: ML_PER_100G, us: ML_PER_100G, lowest: Some((0, 1)),
        units: {
            ml_per_100g, from_ml_per_100g: ML_PER_100G;
        }
    }
}
