//! `pulse-peak-time-implausible`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Share;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "pulse-peak-time-implausible",
    harm: Harm::Fusion,
    finds: "A share of peak time that leaves no pulse.",
    matters: "At nearly all or nearly none of the period the current is constant in all but name.",
    remedy: "Write the share of the period at peak current.",
    limit: "Share of peak time, common practice: outside the usual is a note, outside the widest an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case {
        base: "butt-2-304l-141",
        edits: &[(
            "/processes/141/pulse",
            "{peak_current: 90 A, background_current: 40 A, frequency: 2 Hz, peak_time: 99 %}",
        )],
    }],
    sound: &[Case {
        base: "butt-2-304l-141",
        edits: &[(
            "/processes/141/pulse",
            "{peak_current: 90 A, background_current: 40 A, frequency: 2 Hz, peak_time: 40 %}",
        )],
    }],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        setting_limits::PULSE_PEAK_SHARE,
        &keys::PULSE_PEAK_TIME,
        Share::percent,
        &Grade { what: "peak time", usual: Severity::Note, widest: Severity::Error, hint: "write for example 40 %" },
    );
}
