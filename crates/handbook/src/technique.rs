//! Rules of technique: torch and rod angles, arc length, travel; gas flow times and slopes of current.
//!
//! Angles and speeds by process stand in `setting-limits`.

use crate::rule::Rule;
use crate::table::{named, table};

table!(RULES, rules, "technique-rules", Rule);
named!("technique-rules");
table!(GAS_TIMING, gas_timings, "gas-timing", Rule);

/// Times of gas flow and slopes of current, by name.
pub mod gas_timing {
    crate::table::named!("gas-timing");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_in_seconds() {
        use gas_timing::{DOWN_SLOPE, POST_FLOW_LEAST, POST_FLOW_PER_10_A, PRE_FLOW, UP_SLOPE};
        for own in [PRE_FLOW, POST_FLOW_PER_10_A, POST_FLOW_LEAST, UP_SLOPE, DOWN_SLOPE] {
            assert_eq!(own.unit, "s", "{}", own.rule);
        }
    }
}
