//! `cored-wire-voltage-outside-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};

/// The check.
pub const RULE: Rule = Rule {
    name: "cored-wire-voltage-outside-range",
    harm: Harm::Fusion,
    finds: "An arc voltage outside the range of a flux cored wire.",
    matters: "A long arc picks up nitrogen and gives worm holes, most of all without gas; a short one traps slag.",
    remedy: "Set the voltage that the class asks for at its wire feed.",
    limit: "The settings of the handbook for the class of flux cored wire and its diameter.",
    tables: &["fcaw-parameters", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-114", edits: &[("/runs/0/voltage", "28-30 V")] },
        Case { base: "butt-15-s355-136", edits: &[("/runs/0/voltage", "16-18 V")] },
    ],
    sound: &[
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "tee-fillet-8-s275-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::FluxCored], Setting::Voltage, None);
}
