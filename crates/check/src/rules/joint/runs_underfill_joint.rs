//! `runs-underfill-joint`: explanation, cases, logic.

use seamwright_weld::fill;

use super::filling;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "runs-underfill-joint",
    harm: Harm::Fusion,
    finds: "Runs that together lay down much less metal than the joint holds.",
    matters: "The welder adds runs that nobody planned, or the weld stays hollow.",
    remedy: "State more runs, travel slower or feed more wire, or correct the size of the joint.",
    limit: "Share of the joint's cross-section by common practice: short of it with all that the settings allow is an error with any process; short of it with the middle settings of a fed wire or of an electrode of known rate a caution.",
    tables: &["cost-rules", "deposition-by-size", "deposition-efficiency", "deposition-rate", "gmaw-rules"],
    examine,
    faulty: &[
        Case {
            base: "butt-20-a516-121",
            edits: &[("/processes/121/filler", "wire"), ("/fillers/wire/diameter", "1.6 mm")],
        },
        Case { base: "butt-10-s355-135", edits: &[("/parent_metals/0/thickness", "40 mm")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/weld_size/leg", "20 mm")] },
        Case { base: "butt-12-s355-111", edits: &[("/parent_metals/0/thickness", "60 mm")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size/leg", "15 mm")] },
    ],
    sound: &[
        Case { base: "butt-15-s355-136", edits: &[("/runs/1/run", "2-n")] },
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
        // Without a travel speed nothing follows.
        Case { base: "tee-fillet-12-s355-114", edits: &[("/weld_size/leg", "20 mm"), ("/runs/0/travel_speed", "")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    // As many runs as the joint takes fill it.
    if x.view.runs.iter().any(|run| run.open) {
        return;
    }
    let Some(fill) = fill::of(x.view) else { return };
    x.examined("/runs");
    let Some(certainty) = fill.short() else { return };
    let hint = "state more runs, a slower travel speed or more wire, or correct the size of the joint";
    filling::report(x, &fill, certainty, hint);
}
