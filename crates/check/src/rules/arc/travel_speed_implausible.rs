//! `travel-speed-implausible`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Speed;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "travel-speed-implausible",
    harm: Harm::Fusion,
    finds: "A travel speed that the process is not welded at.",
    matters: "Speed with current and voltage makes the heat input: a slip of a digit or a unit makes a procedure that nobody can weld.",
    remedy: "State the speed along the joint, and look at its unit.",
    limit: "Usual and widest travel speed by process, common practice, around the settings of the tables; outside the usual is a caution, outside the widest an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/travel_speed", "8-11 m/min")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/runs/1/travel_speed", "9-15 mm/min")] },
    ],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }, Case { base: "butt-6-5083-131", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        setting_limits::TRAVEL_SPEED,
        &keys::TRAVEL_SPEED,
        Speed::mm_per_min,
        &Grade {
            what: "travel speed",
            usual: Severity::Caution,
            widest: Severity::Error,
            hint: "measure the length of a run over its arc time, and look at the unit",
        },
    );
}
