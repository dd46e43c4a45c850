//! `electrode-position-not-permitted`: explanation, cases, logic.

use super::of_run;
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::positions;

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-position-not-permitted",
    harm: Harm::Process,
    finds: "A covered electrode used in a position that its classification does not permit.",
    matters: "A fluid slag or a heavy iron-powder covering runs out of a vertical or overhead pool.",
    remedy: "Take an all-position class, or weld flat.",
    limit: "The position digit of the classification.",
    tables: &["covered-electrodes", "designation-symbols", "positions"],
    examine,
    faulty: &[Case {
        base: "tee-fillet-10-s355-111",
        edits: &[("/fillers/electrode/designation", "E7024"), ("/positions", "[PF]"), ("/progression", "upward")],
    }],
    sound: &[
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
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
        let Some(electrode) = of_run::electrode(x.view, run) else { continue };
        let permitted = electrode.positions();
        if permitted.is_empty() {
            continue;
        }
        for (pointer, stated, position) in positions::run_positions(x.view, run) {
            x.examined(&pointer);
            // Downwards with a low-hydrogen electrode: `low-hydrogen-electrode-downhill`.
            let own_check = |asked: &str| asked == "vertical-down" && electrode.low_hydrogen();
            let asked = positions::asked_of(x.view, position);
            let Some(missing) =
                asked.into_iter().find(|asked| !own_check(asked) && !permitted.iter().any(|own| own == asked))
            else {
                continue;
            };
            let source = electrode.row.map_or_else(|| position.origin.source_ref(), |row| row.origin.source_ref());
            let said = (&*electrode.filler.designation, &*missing.replace('-', " "));
            positions::not_permitted(x, (pointer, stated), said, &permitted, Some(source))
                .hint("take an all-position class such as E7018, or another position");
        }
    }
}
