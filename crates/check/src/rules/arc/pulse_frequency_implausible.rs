//! `pulse-frequency-implausible`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Frequency;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "pulse-frequency-implausible",
    harm: Harm::Fusion,
    finds: "A pulse frequency that a tungsten arc is not welded with.",
    matters: "Too slow leaves one cold spot beside the next, too fast is no pulse.",
    remedy: "Write the frequency set at the machine.",
    limit: "Frequency by process, common practice: outside the usual is a caution, outside the widest an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case {
        base: "butt-2-304l-141",
        edits: &[("/processes/141/pulse", "{peak_current: 90 A, background_current: 40 A, frequency: 0.01 Hz}")],
    }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        setting_limits::PULSE_FREQUENCY,
        &keys::PULSE_FREQUENCY,
        Frequency::hertz,
        &Grade {
            what: "pulse frequency",
            usual: Severity::Caution,
            widest: Severity::Error,
            hint: "write the pulses in a second",
        },
    );
}
