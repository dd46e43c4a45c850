//! Impact energy: J, ft lbf.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 ft lbf = 0.3048 m × 4.4482216152605 N = 1.3558179483314004 J, exactly.

use super::declare::quantity;
use super::unit::Unit;

const J: Unit = Unit::si("J", (1, 1), 0).aliases(&["joule", "joules"]).near(&["Nm"]);
const FT_LBF: Unit = Unit::us("ft lbf", (13_558_179_483_314_004, 10_000_000_000_000_000), 0)
    .aliases(&["ft·lbf", "ft-lbf", "ft×lbf", "ft-lb", "ft lb", "ft lbs", "ft-lbs", "ftlb"]);

quantity! {
    /// An impact energy; the base unit is J.
    Energy {
        name: "energy", format: "energy", examples: ["27 J", "20 ft lbf"],
        si: J, us: FT_LBF, lowest: Some((0, 1)),
        units: {
            joules, from_joules: J;
            ft_lbf, from_ft_lbf: FT_LBF;
        }
    }
}
