//! `heat-too-much-for-joint`: explanation, cases, logic.

use super::heat_of_joint::{self, Heat};
use crate::rule::{Case, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "heat-too-much-for-joint",
    harm: Harm::Fusion,
    finds: "Runs that put far more heat into the joint than its metal takes.",
    matters: "Thin metal burns through, thick metal is over-welded, warped and coarse; or thickness, leg or number of runs are not those that were welded.",
    remedy: "State less current, a faster travel or fewer runs, or correct the size of the joint.",
    limit: "Net heat of all runs over the heat to melt the cross-section at the highest melting efficiency, 1/e; of a square butt in one run, its power over the least power of a line source. Above what settings in use have is a caution, far above an error.",
    tables: &["fusion-ratios", "fusion-rules", "melt-properties", "arc-voltage"],
    examine: |x| heat_of_joint::examine(x, Heat::TooMuch),
    faulty: &[
        Case { base: "butt-3-carbon-141", edits: &[("/parent_metals/0/thickness", "0.8 mm")] },
        Case { base: "butt-12-s355-111", edits: &[("/parent_metals/0/thickness", "5 mm")] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/weld_size/leg", "2.5 mm")] },
        Case { base: "tee-fillet-10-s355-111", edits: &[("/runs/0/travel_speed", "30-35 mm/min")] },
    ],
    sound: &[
        Case { base: "butt-3-carbon-141", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        Case { base: "butt-6-5083-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
    ],
};
