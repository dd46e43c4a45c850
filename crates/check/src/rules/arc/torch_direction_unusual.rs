//! `torch-direction-unusual`: explanation, cases, logic.

use seamwright_handbook::torch_directions;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Progression, keys};
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "torch-direction-unusual",
    harm: Harm::Soundness,
    finds: "A torch pushed or dragged against the custom of the process.",
    matters: "A dragged torch draws air under the gas; a pushed rod or cored wire runs over its slag.",
    remedy: "Write the usual direction, or the reason in the notes.",
    limit: "Direction by process, common practice: drag with a tungsten arc or on aluminium a caution, push with slag a note, not upward.",
    tables: &["torch-directions"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/technique/direction", "drag")] },
        Case { base: "butt-6-5083-131", edits: &[("/processes/131/technique/direction", "drag")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let upward = view.procedure.progression.as_ref().and_then(Stated::value) == Some(&Progression::Upward);
    for run in &view.runs {
        let Some(direction) = run.value(&keys::DIRECTION) else { continue };
        let Some(row) = torch_directions::get(run.number()) else { continue };
        x.examined(&direction.pointer);
        let word = direction.value.as_str();
        if row.usual == word || (row.either_upward && upward) {
            continue;
        }
        let severity = if row.slag { Severity::Note } else { Severity::Caution };
        x.report(severity, &direction.pointer, format!("{word} is unusual with {}", run.number()))
            .stated(word)
            .limit(row.usual, &row.origin.source_ref())
            .hint(format!("write `direction: {}`", row.usual));
    }
}
