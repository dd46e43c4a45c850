//! `travel-angle-outside-usual`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Angle;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "travel-angle-outside-usual",
    harm: Harm::Soundness,
    finds: "A lean of the torch or electrode along the joint outside what the process is usually given.",
    matters: "Upright, the welder cannot see the pool; laid over, the gas draws in air and the slag runs ahead.",
    remedy: "Write the usual angle, or the reason in the notes.",
    limit: "Angles by process, common practice: outside the usual is a note, outside the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[("/processes/141/technique/travel_angle", "60-70 deg")],
    }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        setting_limits::TRAVEL_ANGLE,
        &keys::TRAVEL_ANGLE,
        Angle::degrees,
        &Grade {
            what: "travel angle",
            usual: Severity::Note,
            widest: Severity::Caution,
            hint: "write the lean from the vertical",
        },
    );
}
