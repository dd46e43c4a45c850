//! `runs-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "runs-missing",
    harm: Harm::Impossible,
    finds: "A procedure without runs.",
    matters: "Without runs there is nothing to follow at the bench.",
    remedy: "List the runs in order, each with process, current, voltage and travel speed.",
    limit: "ISO 15609-1 asks for the parameters of each run.",
    tables: &[],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs", "")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    x.examined("/runs");
    if x.view.runs.is_empty() {
        x.report(Severity::Error, "/runs", "no run is stated").hint(
            "write `runs:` with one entry a run, such as `- {run: 1, layer: root, process: 141, current: 90-120 A}`",
        );
    }
}
