//! `pulse-frequency-outside-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};

/// The check.
pub const RULE: Rule = Rule {
    name: "pulse-frequency-outside-range",
    harm: Harm::Fusion,
    finds: "A pulse frequency outside the range of the wire.",
    matters: "One drop goes with each pulse: too few pulses give large drops, too many give none.",
    remedy: "Take the pulse settings of the machine for this wire and gas.",
    limit: "The pulse settings of the handbook for the wire and its diameter.",
    tables: &["gmaw-parameters", "gmaw-rules"],
    examine,
    faulty: &[Case { base: "butt-10-s355-135", edits: &[("/runs/1/pulse/frequency", "900 Hz")] }],
    sound: &[Case { base: "butt-10-s355-135", edits: &[] }, Case { base: "tee-fillet-12-s355-135", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::Frequency, None);
}
