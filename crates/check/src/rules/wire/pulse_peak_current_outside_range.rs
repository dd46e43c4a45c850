//! `pulse-peak-current-outside-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};

/// The check.
pub const RULE: Rule = Rule {
    name: "pulse-peak-current-outside-range",
    harm: Harm::Fusion,
    finds: "A pulse peak current outside the range of the wire.",
    matters: "The peak must be above the spray current of the wire for a drop to let go with each pulse, and short of blowing the pool away.",
    remedy: "Take the pulse settings of the machine for this wire and gas.",
    limit: "The pulse settings of the handbook for the wire and its diameter.",
    tables: &["gmaw-parameters", "gmaw-rules"],
    examine,
    faulty: &[Case { base: "butt-10-s355-135", edits: &[("/runs/1/pulse/peak_current", "150-180 A")] }],
    sound: &[Case { base: "butt-10-s355-135", edits: &[] }, Case { base: "tee-fillet-12-s355-135", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::Peak, None);
}
