//! `cored-wire-feed-outside-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};

/// The check.
pub const RULE: Rule = Rule {
    name: "cored-wire-feed-outside-range",
    harm: Harm::Fusion,
    finds: "A wire feed speed outside the range of a flux cored wire.",
    matters: "The wire feed sets the current; outside the range the core does not melt with the sheath.",
    remedy: "Change the wire feed, or check its unit.",
    limit: "The settings of the handbook for the class of flux cored wire and its diameter.",
    tables: &["fcaw-parameters", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "butt-15-s355-136", edits: &[("/runs/1/wire_feed_speed", "24-26 m/min")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/runs/0/wire_feed_speed", "0.5 m/min")] },
    ],
    sound: &[
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "tee-fillet-8-s275-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::FluxCored], Setting::WireFeed, None);
}
