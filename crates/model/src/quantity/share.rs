//! Share of a whole: %.

use super::declare::quantity;
use super::unit::Unit;

const PERCENT: Unit = Unit::shared("%", (1, 1), 1).aliases(&["percent", "pct", "per cent"]);

quantity! {
    /// A share of a whole; the base unit is %.
    Share {
        name: "share", format: "share", examples: ["70 %", "65-75 %"],
        si: PERCENT, us: PERCENT, lowest: Some((0, 1)),
        units: {
            percent, from_percent: PERCENT;
        }
    }
}
