//! `wire-voltage-above-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};
use crate::rules::bounds::Side;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-voltage-above-range",
    harm: Harm::Fusion,
    finds: "An arc voltage above the range of a solid or metal cored wire in its mode of transfer.",
    matters: "The arc is long: spatter, undercut, a wide flat bead, and gas drawn in from the air.",
    remedy: "Lower the voltage, or name the mode of transfer that the voltage gives.",
    limit: "The settings of the handbook for the wire, its diameter and the mode of transfer.",
    tables: &["gmaw-parameters", "gmaw-starting-points", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[("/runs/0/voltage", "26-28 V")] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/voltage", "34-36 V")] },
    ],
    sound: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::Voltage, Some(Side::High));
}
