//! `wire-feed-above-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};
use crate::rules::bounds::Side;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-feed-above-range",
    harm: Harm::Fusion,
    finds: "A wire feed speed above the range of the wire in its mode of transfer.",
    matters: "More wire arrives than the arc melts and the joint takes: stubbing, cold laps, overfill.",
    remedy: "Lower the wire feed, or check its unit.",
    limit: "The settings of the handbook for the wire, its diameter and the mode of transfer.",
    tables: &["gmaw-parameters", "gmaw-starting-points", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/wire_feed_speed", "20-22 m/min")] },
        Case { base: "tee-fillet-2-s235jr-135", edits: &[("/runs/0/wire_feed_speed", "15 m/min")] },
    ],
    sound: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::WireFeed, Some(Side::High));
}
