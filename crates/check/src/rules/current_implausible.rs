//! `current-implausible`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::quantity::Current;

use super::bounds::{Grade, settings};
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "current-implausible",
    finds: "A welding current that no source of power gives with the process.",
    matters: "A slip of a digit or a unit that no other table catches.",
    remedy: "Look at the figure and its unit.",
    limit: "Current by process, common practice: outside the usual is a note, outside the widest an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/current", "1400-1800 A")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        "current",
        "current",
        |s| s.current.as_ref(),
        Current::amperes,
        &Grade {
            what: "current",
            usual: Severity::Note,
            widest: Severity::Error,
            hint: "look at the figure and its unit",
        },
    );
}
