//! Temperature: °C, °F, K, with C and F as other spellings.
//!
//! Source: NIST SP 811 (2008), appendix B: t/°C = (t/°F - 32)/1.8 = T/K - 273.15, exactly. Absolute zero is the lowest.

use super::declare::quantity;
use super::unit::Unit;

const CELSIUS: Unit =
    Unit::si("°C", (1, 1), 0).fixed().aliases(&["C", "ºC", "℃", "deg C", "degC", "° C", "celsius"]).near(&["°"]);
const FAHRENHEIT: Unit =
    Unit::us("°F", (5, 9), 0).fixed().offset((-32, 1)).aliases(&["F", "ºF", "℉", "deg F", "degF", "° F", "fahrenheit"]);
const KELVIN: Unit = Unit::si("K", (1, 1), 0).fixed().offset((-27_315, 100)).aliases(&["kelvin"]).near(&["°K"]);

quantity! {
    /// A temperature; the base unit is °C.
    Temperature {
        name: "temperature", format: "temperature", examples: ["10 °C minimum", "50 °F"],
        si: CELSIUS, us: FAHRENHEIT, lowest: Some((-27_315, 100)),
        units: {
            celsius, from_celsius: CELSIUS;
            fahrenheit, from_fahrenheit: FAHRENHEIT;
            kelvin, from_kelvin: KELVIN;
        }
    }
}
