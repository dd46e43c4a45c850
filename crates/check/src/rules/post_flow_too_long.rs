//! `post-flow-too-long`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::quantity::Duration;
use seamwright_model::stated::OrNone;

use super::bounds::{Grade, settings};
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "post-flow-too-long",
    finds: "Gas held on far longer than the tip and the crater need.",
    matters: "It costs gas and helps nobody; more often it is a slip.",
    remedy: "About a second for each 10 A is enough.",
    limit: "Longest usual time of gas after the arc, common practice; a note.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/shielding_gas/post_flow", "10 min")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        "post-flow",
        "shielding_gas/post_flow",
        |s| s.shielding_gas.as_ref().and_then(OrNone::value).and_then(|gas| gas.post_flow.as_ref()),
        Duration::seconds,
        &Grade {
            what: "gas after the arc",
            usual: Severity::Note,
            widest: Severity::Note,
            hint: "about a second for each 10 A",
        },
    );
}
