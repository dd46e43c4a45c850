//! `wire-current-above-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};
use crate::rules::bounds::Side;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-current-above-range",
    harm: Harm::Fusion,
    finds: "A current above what a solid or metal cored wire carries in its mode of transfer.",
    matters: "The wire runs hot and the pool too large: undercut, spatter, burn-through, or another mode of transfer than the one stated.",
    remedy: "Lower the wire feed, or take a thicker wire.",
    limit: "The settings of the handbook for the wire, its diameter and the mode of transfer.",
    tables: &["gmaw-parameters", "gmaw-starting-points", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/current", "360-380 A")] },
        Case { base: "tee-fillet-2-s235jr-135", edits: &[("/runs/0/current", "150-170 A")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[] },
        Case { base: "tee-fillet-8-316l-135", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::Current, Some(Side::High));
}
