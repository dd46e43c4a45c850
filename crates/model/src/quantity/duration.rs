//! Duration: s, min, h.
//!
//! The format is `time-span`, since JSON Schema keeps `duration` and `time` for the forms of ISO 8601.
//! Source: NIST SP 811 (2008), appendix B: 1 min = 60 s, 1 h = 3600 s, exactly.

use super::declare::quantity;
use super::unit::Unit;

const S: Unit = Unit::shared("s", (1, 1), 1).aliases(&["sec", "secs", "second", "seconds"]);
const MIN: Unit = Unit::shared("min", (60, 1), 0).aliases(&["mins", "minute", "minutes"]);
const H: Unit = Unit::shared("h", (3600, 1), 1).aliases(&["hr", "hrs", "hour", "hours"]);

quantity! {
    /// A length of time; the base unit is s.
    Duration {
        name: "duration", format: "time-span", examples: ["12 s", "2 h"],
        si: S, us: S, lowest: Some((0, 1)),
        units: {
            seconds, from_seconds: S;
            minutes, from_minutes: MIN;
            hours, from_hours: H;
        }
    }
}
