//! `cored-wire-current-outside-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};

/// The check.
pub const RULE: Rule = Rule {
    name: "cored-wire-current-outside-range",
    harm: Harm::Fusion,
    finds: "A current outside the range of a flux cored wire.",
    matters: "Too much boils the slag and traps gas, too little leaves slag and cold laps.",
    remedy: "Change the wire feed, or the diameter of the wire.",
    limit: "The settings of the handbook for the class of flux cored wire and its diameter.",
    tables: &["fcaw-parameters", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "butt-15-s355-136", edits: &[("/runs/1/current", "380-400 A")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/runs/0/current", "60-80 A")] },
    ],
    sound: &[
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "tee-fillet-8-s275-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::FluxCored], Setting::Current, None);
}
