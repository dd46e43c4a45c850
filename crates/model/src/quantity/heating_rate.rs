//! Rate of heating or cooling: °C/h, °F/h.
//!
//! Source: NIST SP 811 (2008), appendix B: a temperature interval of 1 °F is 1/1.8 °C, exactly.

use super::declare::quantity;
use super::unit::Unit;

const CELSIUS_PER_H: Unit = Unit::si("°C/h", (1, 1), 0).aliases(&["C/h", "ºC/h", "K/h", "°C/hr", "C/hr"]);
const FAHRENHEIT_PER_H: Unit = Unit::us("°F/h", (5, 9), 0).aliases(&["F/h", "ºF/h", "°F/hr", "F/hr"]);

quantity! {
    /// A rate of heating or cooling; the base unit is °C/h.
    HeatingRate {
        name: "heating rate", format: "heating-rate", examples: ["55 °C/h", "100 °F/h"],
        si: CELSIUS_PER_H, us: FAHRENHEIT_PER_H, lowest: Some((0, 1)),
        units: {
            celsius_per_h, from_celsius_per_h: CELSIUS_PER_H;
            fahrenheit_per_h, from_fahrenheit_per_h: FAHRENHEIT_PER_H;
        }
    }
}
