//! `electrode-position-not-permitted`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Rule};
use seamwright_handbook::{covered_electrodes, positions};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Progression;
use seamwright_model::stated::Stated;

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-position-not-permitted",
    finds: "A covered electrode used in a position that its classification does not permit.",
    matters: "A fluid slag or a heavy iron-powder covering runs out of a vertical or overhead pool.",
    remedy: "Take an all-position class, or weld flat.",
    limit: "The position digit of the classification.",
    tables: &["covered-electrodes", "positions"],
    examine,
    faulty: &[Case {
        base: "tee-fillet-10-s355-111",
        edits: &[("/fillers/electrode/designation", "E7024"), ("/positions", "[PF]"), ("/progression", "upward")],
    }],
    sound: &[
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let downward = matches!(x.view.procedure.progression, Some(Stated::Is(Progression::Downward)));
    for run in &x.view.runs {
        if run.number() != "111" {
            continue;
        }
        let Some((_, filler)) = run.filler(x.view.procedure) else { continue };
        let Some(row) = covered_electrodes::get(&filler.designation) else { continue };
        for (index, stated) in x.view.procedure.positions.iter().enumerate() {
            let Some(position) = positions::get(stated) else { continue };
            let down = match position.progression {
                positions::Progression::Downward => true,
                positions::Progression::Either => downward,
                positions::Progression::Upward | positions::Progression::None => false,
            };
            let mut asked = Vec::new();
            if position.vertical {
                asked.push(if down { "vertical-down" } else { "vertical" });
            }
            if position.overhead {
                asked.push("overhead");
            }
            let pointer = format!("/positions/{index}");
            x.examined(&pointer);
            let Some(missing) =
                asked.into_iter().find(|asked| !row.positions.iter().any(|permitted| permitted == asked))
            else {
                continue;
            };
            let source = row.origin.source_ref();
            let permitted = row.positions.join(", ");
            x.report(
                Severity::Error,
                pointer,
                format!(
                    "{} is not for welding {} ({stated}); its positions are {permitted}",
                    filler.designation,
                    missing.replace('-', " ")
                ),
            )
            .stated(&**stated)
            .limit(permitted, &source)
            .hint("take an all-position class such as E7018, or another position");
        }
    }
}
