//! `low-hydrogen-electrode-downhill`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::positions;

use super::of_run;

/// The check.
pub const RULE: Rule = Rule {
    name: "low-hydrogen-electrode-downhill",
    harm: Harm::Metal,
    finds: "Vertical welding downwards with a low-hydrogen electrode that is made for welding upwards.",
    matters: "The fluid slag runs ahead of the pool and is trapped; fusion is shallow.",
    remedy: "Weld upwards, or take a class for welding downwards such as E7048 or E8045-P2.",
    limit: "The position digit of the classification.",
    tables: &["designation-symbols", "positions"],
    examine,
    faulty: &[
        Case { base: "butt-12-s355-111", edits: &[("/positions", "[PG]"), ("/progression", "downward")] },
        Case { base: "pipe-butt-a106-111", edits: &[("/positions", "[PJ]"), ("/progression", "downward")] },
    ],
    sound: &[
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "pipe-butt-a106-111", edits: &[] },
        Case {
            base: "butt-12-s355-111",
            edits: &[
                ("/positions", "[PG]"),
                ("/progression", "downward"),
                ("/fillers/root-electrode/designation", "E7048"),
                ("/fillers/fill-electrode/designation", "E8045-P2"),
            ],
        },
        Case {
            base: "pipe-butt-a106-111",
            edits: &[
                ("/positions", "[PJ]"),
                ("/progression", "downward"),
                ("/fillers/fill-electrode/designation", "E6010"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(electrode) = of_run::electrode(x.view, run).filter(of_run::Electrode::low_hydrogen) else {
            continue;
        };
        let permitted = electrode.positions();
        if permitted.is_empty() {
            continue;
        }
        for (pointer, stated, position) in positions::run_positions(x.view, run) {
            if !positions::asked_of(x.view, position).contains(&"vertical-down") {
                continue;
            }
            x.examined(&pointer);
            if permitted.contains(&"vertical-down") {
                continue;
            }
            let source = position.origin.source_ref();
            let name = format!("low-hydrogen electrode {}", electrode.filler.designation);
            positions::not_permitted(x, (pointer, stated), (&name, "downwards"), &permitted, Some(source))
                .hint("weld upwards, or take a class such as E7048 or E8045-P2");
        }
    }
}
