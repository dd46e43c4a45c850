//! `wire-current-below-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};
use crate::rules::bounds::Side;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-current-below-range",
    harm: Harm::Fusion,
    finds: "A current below what a solid or metal cored wire needs in its mode of transfer.",
    matters: "Too little heat gives cold laps and no fusion at the sides; spray falls back to large drops.",
    remedy: "Raise the wire feed, or take a thinner wire.",
    limit: "The settings of the handbook for the wire, its diameter and the mode of transfer.",
    tables: &["gmaw-parameters", "gmaw-starting-points", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/current", "120-140 A")] },
        Case { base: "tee-fillet-4-6082-131", edits: &[("/runs/0/current", "60-80 A")] },
    ],
    sound: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "tee-fillet-4-6082-131", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::Current, Some(Side::Low));
}
