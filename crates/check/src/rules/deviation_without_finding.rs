//! `deviation-without-finding`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "deviation-without-finding",
    finds: "A deviation that matches no finding.",
    matters: "It waives what is not there, or no longer there; the next fault of that kind would be waived unseen.",
    remedy: "Take it out, or mend its `check` and `at`.",
    limit: "The findings of this document.",
    tables: &[],
    examine,
    faulty: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[("/deviations", "[{check: gas-flow-too-low, reason: habit}]")],
    }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

// The findings of all other checks must stand first: `deviation_faults` in `mod.rs` reports it after them.
fn examine(_: &mut Examiner<'_>) {}
