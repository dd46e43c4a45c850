//! `filler-angle-outside-usual`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Angle;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-angle-outside-usual",
    harm: Harm::Soundness,
    finds: "A filler rod held at an angle at which it does not meet the pool.",
    matters: "A steep rod touches the tungsten, a flat one melts before it is in the gas.",
    remedy: "Feed the rod low, at 10 to 30 degrees to the work.",
    limit: "Rod angles of a handbook and of practice: outside the usual is a note, outside the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/technique/filler_angle", "80 deg")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        setting_limits::FILLER_ANGLE,
        &keys::FILLER_ANGLE,
        Angle::degrees,
        &Grade {
            what: "filler angle",
            usual: Severity::Note,
            widest: Severity::Caution,
            hint: "write the angle between rod and surface",
        },
    );
}
