//! `wire-feed-below-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};
use crate::rules::bounds::Side;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-feed-below-range",
    harm: Harm::Fusion,
    finds: "A wire feed speed below the range of the wire in its mode of transfer.",
    matters: "The arc burns back to the contact tip, or spray does not form.",
    remedy: "Raise the wire feed, or check its unit.",
    limit: "The settings of the handbook for the wire, its diameter and the mode of transfer.",
    tables: &["gmaw-parameters", "gmaw-starting-points", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/wire_feed_speed", "2-3 m/min")] },
        Case { base: "tee-fillet-2-s235jr-135", edits: &[("/runs/0/wire_feed_speed", "1 m/min")] },
    ],
    sound: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "tee-fillet-4-6082-131", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::WireFeed, Some(Side::Low));
}
