//! `wire-voltage-below-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};
use crate::rules::bounds::Side;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-voltage-below-range",
    harm: Harm::Fusion,
    finds: "An arc voltage below the range of a solid or metal cored wire in its mode of transfer.",
    matters: "The wire stubs into the pool: a narrow, high bead that does not wet the sides.",
    remedy: "Raise the voltage, or name the mode of transfer that the voltage gives.",
    limit: "The settings of the handbook for the wire, its diameter and the mode of transfer.",
    tables: &["gmaw-parameters", "gmaw-starting-points", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/voltage", "16-18 V")] },
        Case { base: "butt-6-5083-131", edits: &[("/runs/1/voltage", "13-15 V")] },
    ],
    sound: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-8-316l-135", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::Voltage, Some(Side::Low));
}
