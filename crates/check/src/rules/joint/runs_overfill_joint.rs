//! `runs-overfill-joint`: explanation, cases, logic.

use seamwright_weld::fill;

use super::filling;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "runs-overfill-joint",
    harm: Harm::Fusion,
    finds: "Runs that together lay down much more metal than the joint holds.",
    matters: "Money and heat go into a weld that bulges over its edges, or the stated settings are not those that were welded.",
    remedy: "State fewer runs, travel faster or feed less wire, or correct the size of the joint.",
    limit: "Share of the joint's cross-section by common practice: past it with the middle settings of a fed wire or of an electrode of known rate is a caution, past it with all of them an error; where only a range of the process is known, a note.",
    tables: &["cost-rules", "deposition-by-size", "deposition-efficiency", "deposition-rate", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "butt-10-s355-135", edits: &[("/parent_metals/0/thickness", "4 mm")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/weld_size/leg", "4 mm")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/runs/0/run", "1-6")] },
        Case { base: "butt-12-s355-111", edits: &[("/runs/1/travel_speed", "8-10 mm/min")] },
    ],
    sound: &[
        Case { base: "butt-10-s355-135", edits: &[] },
        // A rod is fed by hand, as little as the joint asks.
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        // The second side of a tee holds a fillet of its own.
        Case {
            base: "tee-fillet-12-s355-114",
            edits: &[(
                "/runs",
                "[{run: 1, side: first, process: 114, wire_feed_speed: 2.2-2.7 m/min, travel_speed: 160-220 mm/min}, {run: 2, side: second, process: 114, wire_feed_speed: 2.2-2.7 m/min, travel_speed: 160-220 mm/min}]",
            )],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(fill) = fill::of(x.view) else { return };
    x.examined("/runs");
    let Some(certainty) = fill.over() else { return };
    let hint = "state fewer runs, a faster travel speed or less wire, or correct the size of the joint";
    filling::report(x, &fill, certainty, hint);
}
