//! `heat-input-too-high`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "heat-input-too-high",
    harm: Harm::Metal,
    finds: "A heat input higher than the metal stands.",
    matters: "Slow cooling softens quenched and tempered steel, and lets brittle phases form in duplex steel.",
    remedy: "Weld faster, with less current, in more and thinner runs.",
    limit: "The heat input with thermal efficiency by metal and thickness: outside every source an error, outside the usual range a caution, by little a note.",
    tables: &["heat-input-limits", "thermal-efficiency"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-2205-141", edits: &[("/runs/2/travel_speed", "15-20 mm/min")] },
        Case { base: "butt-12-s690ql-111", edits: &[("/runs/1/travel_speed", "60-70 mm/min")] },
    ],
    sound: &[
        Case { base: "pipe-butt-2205-141", edits: &[] },
        Case { base: "butt-12-s690ql-111", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    super::input::heat_input(x, crate::rules::bounds::Side::High);
}
