//! Volume of gas: L, m3, ft3.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 ft = 0.3048 m, so 1 ft3 = 28.316846592 L, exactly.

use super::declare::quantity;
use super::unit::Unit;

const L: Unit = Unit::si("L", (1, 1), 0).aliases(&["l", "ltr", "litre", "litres", "liter"]);
const M3: Unit = Unit::si("m3", (1000, 1), 2).aliases(&["m³", "m^3", "cbm"]);
const FT3: Unit = Unit::us("ft3", (28_316_846_592, 1_000_000_000), 1).aliases(&[
    "ft³",
    "cf",
    "cu ft",
    "cu. ft.",
    "cu.ft.",
    "cuft",
    "scf",
    "cubic feet",
    "cubic foot",
    "ft^3",
]);

quantity! {
    /// A volume of gas; the base unit is L.
    GasVolume {
        name: "gas volume", format: "gas-volume", examples: ["10 m3", "80 ft3"],
        si: M3, us: FT3, lowest: Some((0, 1)),
        units: {
            litres, from_litres: L;
            m3, from_m3: M3;
            ft3, from_ft3: FT3;
        }
    }
}
