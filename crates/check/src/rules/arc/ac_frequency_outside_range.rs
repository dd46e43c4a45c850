//! `ac-frequency-outside-range`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Frequency;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "ac-frequency-outside-range",
    harm: Harm::Fusion,
    finds: "A frequency of alternating current that machines do not weld at.",
    matters: "Low frequency makes the arc wander, high frequency takes its force; far out it is a slip.",
    remedy: "Write the frequency set at the machine.",
    limit: "Frequency by process, common practice: outside the usual is a note, outside the widest an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "tee-fillet-3-6061-141", edits: &[("/processes/141/ac/frequency", "5 Hz")] }],
    sound: &[Case { base: "tee-fillet-3-6061-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        setting_limits::AC_FREQUENCY,
        &keys::AC_FREQUENCY,
        Frequency::hertz,
        &Grade { what: "frequency", usual: Severity::Note, widest: Severity::Error, hint: "write for example 100 Hz" },
    );
}
