//! Length: mm, cm, m, in, ft.
//!
//! Source: NIST SP 811 (2008), appendix B: 1 in = 25.4 mm and 1 ft = 0.3048 m, exactly.

use super::declare::quantity;
use super::unit::Unit;

const MM: Unit = Unit::si("mm", (1, 1), 1).aliases(&["millimetre", "millimeter", "millimetres", "millimeters"]);
const CM: Unit = Unit::si("cm", (10, 1), 1).aliases(&["centimetre", "centimeter"]);
const M: Unit = Unit::si("m", (1000, 1), 2).aliases(&["metre", "meter", "metres", "meters"]);
const IN: Unit = Unit::us("in", (254, 10), 3).aliases(&["inch", "inches", "''", "\"", "″", "”"]);
const FT: Unit = Unit::us("ft", (3048, 10), 2).aliases(&["foot", "feet", "'", "′", "’"]);

quantity! {
    /// A length; the base unit is mm.
    Length {
        name: "length", format: "length", examples: ["2.4 mm", "3/32 in"],
        si: MM, us: IN, lowest: Some((0, 1)),
        units: {
            mm, from_mm: MM;
            cm, from_cm: CM;
            m, from_m: M;
            inches, from_inches: IN;
            feet, from_feet: FT;
        }
    }
}
