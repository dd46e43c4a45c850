//! Rules of technique: torch and rod angles, arc length, travel; gas flow times and slopes of current.

use crate::rule::{self, Rule};
use crate::table::{named, table};

table!(RULES, rules, "technique-rules", Rule);
named!("technique-rules");
table!(GAS_TIMING, gas_timings, "gas-timing", Rule);

/// Times of gas flow and slopes of current, by name.
pub mod gas_timing {
    crate::table::named!("gas-timing");
}

/// The rule with this name: `torch-lean`, `arc-length`, `arc-length-steel`, `arc-length-longest`,
/// `fillet-work-angle`. Angles and speeds by process stand in `setting-limits`.
pub fn rule(name: &str) -> Option<&'static Rule> {
    rule::get(rules(), name)
}

/// The time with this name: `pre-flow`, `pre-flow-after-idle`, `post-flow-per-10-a`, `post-flow-least`,
/// `post-flow-titanium`, `up-slope`, `down-slope`.
pub fn gas_timing(name: &str) -> Option<&'static Rule> {
    rule::get(gas_timings(), name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_in_seconds() {
        for name in ["pre-flow", "post-flow-per-10-a", "post-flow-least", "up-slope", "down-slope"] {
            assert_eq!(gas_timing(name).unwrap().unit, "s", "{name}");
        }
    }
}
