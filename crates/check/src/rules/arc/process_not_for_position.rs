//! `process-not-for-position`: explanation, cases, logic.

use crate::rules::positions::run_positions;
use seamwright_handbook::positions;
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "process-not-for-position",
    harm: Harm::Process,
    finds: "A position that the process cannot be welded in.",
    matters: "Loose flux falls off and the pool with it: nobody can weld this.",
    remedy: "Turn the work flat, or choose another process.",
    limit: "Positions that a process cannot do, by physics.",
    tables: &["process-positions", "positions"],
    examine,
    faulty: &[
        Case { base: "butt-20-a516-121", edits: &[("/positions", "[PF]")] },
        Case { base: "butt-20-a516-121", edits: &[("/positions", "[PE]")] },
    ],
    sound: &[
        Case { base: "butt-20-a516-121", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[("/positions", "[PC]")] },
        Case { base: "butt-12-s355-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(row) = positions::barred(run.number()) else { continue };
        for (pointer, stated, position) in run_positions(x.view, run) {
            x.examined(&pointer);
            if position.vertical && !row.vertical || position.overhead && !row.overhead {
                x.report(
                    Severity::Error,
                    pointer,
                    format!("process {} in position {stated} ({}): {}", run.number(), position.name, row.why),
                )
                .stated(stated)
                .limit("flat or horizontal", &row.origin.source_ref())
                .hint("write `positions: [PA]`, or another process");
            }
        }
    }
}
