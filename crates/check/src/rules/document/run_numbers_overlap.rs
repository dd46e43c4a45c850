//! `run-numbers-overlap`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "run-numbers-overlap",
    harm: Harm::Impossible,
    finds: "Runs whose numbers overlap, leave a gap or do not rise.",
    matters: "The welder cannot tell which settings hold for the run at hand.",
    remedy: "Number the runs from 1 without gap; give the same number twice only for other positions.",
    limit: "Each run number stands once for each position.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/runs/1/run", "1-3")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/run", "3")] },
    ],
    sound: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let mut next = 1;
    for (index, run) in x.view.runs.iter().enumerate() {
        let pointer = format!("{}/run", run.pointer());
        x.examined(&pointer);
        let (first, last) = run.numbers;
        let twin = x.view.runs.get(..index).unwrap_or_default().iter().find(|other| {
            let apart = !run.run.positions.is_empty()
                && !other.run.positions.is_empty()
                && run.run.positions.iter().all(|position| !other.run.positions.contains(position));
            !apart && first <= other.numbers.1 && other.numbers.0 <= last
        });
        if let Some(twin) = twin {
            let message = format!("run {} stands twice; it is also in run {}", run.run.run, twin.run.run);
            x.report(Severity::Error, pointer, message)
                .stated(&*run.run.run)
                .hint("give each run its own number")
                .asked("runs.run", "each number once");
        } else if first > next {
            x.report(Severity::Error, pointer, format!("run {next} is missing before run {}", run.run.run))
                .stated(&*run.run.run)
                .hint("number the runs from 1 without gap")
                .asked("runs.run", "numbers from 1 without gap");
        }
        next = next.max(last + 1);
    }
}
