//! `pulse-background-current-outside-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};

/// The check.
pub const RULE: Rule = Rule {
    name: "pulse-background-current-outside-range",
    harm: Harm::Fusion,
    finds: "A pulse background current outside the range of the wire.",
    matters: "The background only keeps the arc alive between pulses: more of it and drops form there too, less and the arc goes out.",
    remedy: "Take the pulse settings of the machine for this wire and gas.",
    limit: "The pulse settings of the handbook for the wire and its diameter.",
    tables: &["gmaw-parameters", "gmaw-rules"],
    examine,
    faulty: &[Case { base: "butt-10-s355-135", edits: &[("/runs/1/pulse/background_current", "200-220 A")] }],
    sound: &[Case { base: "butt-10-s355-135", edits: &[] }, Case { base: "tee-fillet-12-s355-135", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::Background, None);
}
