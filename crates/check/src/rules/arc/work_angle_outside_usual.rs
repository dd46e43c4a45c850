//! `work-angle-outside-usual`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Angle;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "work-angle-outside-usual",
    harm: Harm::Soundness,
    finds: "An angle across the joint at which the arc does not reach both parts.",
    matters: "A torch that lies on one part melts that part and laps over the other.",
    remedy: "Write the angle between torch and surface: about half the angle of a fillet, upright in a butt.",
    limit: "Angles across the joint, common practice: outside the usual is a note, outside the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/technique/work_angle", "5 deg")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        setting_limits::WORK_ANGLE,
        &keys::WORK_ANGLE,
        Angle::degrees,
        &Grade {
            what: "work angle",
            usual: Severity::Note,
            widest: Severity::Caution,
            hint: "write the angle between torch and surface",
        },
    );
}
