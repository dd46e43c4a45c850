//! `heat-too-little-for-joint`: explanation, cases, logic.

use super::heat_of_joint::{self, Heat};
use crate::rule::{Case, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "heat-too-little-for-joint",
    harm: Harm::Fusion,
    finds: "Runs whose heat cannot melt the metal that the joint asks for.",
    matters: "Metal that is not melted is not fused, whatever the bead looks like; or the settings or the number of runs are not those that were welded.",
    remedy: "State more current, a slower travel or more runs, or correct the size of the joint.",
    limit: "Net heat of all runs over the heat to melt the cross-section at the highest melting efficiency, 1/e; of a square butt in one run, its power over the least power of a line source. Below what settings in use have is a caution, below what can be an error.",
    tables: &["fusion-ratios", "fusion-rules", "melt-properties", "arc-voltage"],
    examine: |x| heat_of_joint::examine(x, Heat::TooLittle),
    faulty: &[
        Case { base: "butt-3-carbon-141", edits: &[("/runs/0/current", "30-40 A")] },
        Case { base: "butt-12-s355-111", edits: &[("/parent_metals/0/thickness", "25 mm")] },
        Case { base: "pipe-butt-p91-141", edits: &[("/parent_metals/0/thickness", "20 mm")] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/travel_speed", "1400-1500 mm/min")] },
    ],
    sound: &[
        Case { base: "butt-3-carbon-141", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "pipe-butt-p91-141", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[] },
    ],
};
