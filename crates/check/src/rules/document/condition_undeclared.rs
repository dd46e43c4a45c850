//! `condition-undeclared`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::find;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "condition-undeclared",
    harm: Harm::Impossible,
    finds: "A run for a condition that the document does not declare.",
    matters: "Nobody can tell when the settings of the run hold.",
    remedy: "Declare it under `conditions`, or write the name of one that is declared.",
    limit: "The names under `conditions`.",
    tables: &["variables"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/condition", "thick")] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 2 mm}}"), ("/runs/0/condition", "thick")],
        },
    ],
    sound: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[("/conditions", "{thin: {thickness: 2 mm}}"), ("/runs/0/condition", "thin")],
    }],
};

fn examine(x: &mut Examiner<'_>) {
    let declared: Vec<&str> = x.view.procedure.conditions.keys().collect();
    for (index, run) in x.view.procedure.runs.iter().enumerate() {
        let Some(name) = run.condition.as_deref() else { continue };
        let pointer = format!("/runs/{index}/condition");
        x.examined(&pointer);
        if declared.contains(&name) {
            continue;
        }
        let near = find::nearest(name, declared.iter().copied());
        let named = if near.is_empty() { &declared } else { &near };
        let lines: Vec<String> = named.iter().map(|name| format!("`condition: {name}`")).collect();
        let hint = match lines.as_slice() {
            [] => "declare it under `conditions`".to_owned(),
            lines => format!("declare it under `conditions`, or write {}", lines.join(" or ")),
        };
        x.report(Severity::Error, pointer, format!("condition `{name}` is not declared")).stated(name).hint(hint);
    }
}
