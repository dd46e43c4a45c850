//! Pressure: bar, `MPa`, psi.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 lbf = 4.4482216152605 N, 1 in = 25.4 mm and 1 bar = 100 kPa, exactly;
//! 1 `MPa` = 10 bar and 1 psi = 4.4482216152605 N / 645.16 mm2.

use super::declare::quantity;
use super::unit::Unit;

const BAR: Unit = Unit::si("bar", (1, 1), 1).near(&["bars"]);
const MPA: Unit = Unit::si("MPa", (10, 1), 2);
const PSI: Unit = Unit::us("psi", (44_482_216_152_605, 645_160_000_000_000), 0)
    .aliases(&["psig", "lbf/in2"])
    .near(&["#", "lb", "lbs", "pounds"]);

quantity! {
    /// A pressure; the base unit is bar.
    Pressure {
        name: "pressure", format: "pressure", examples: ["3 bar", "45 psi"],
        si: BAR, us: PSI, lowest: Some((0, 1)),
        units: {
            bar, from_bar: BAR;
            mpa, from_mpa: MPA;
            psi, from_psi: PSI;
        }
    }
}
