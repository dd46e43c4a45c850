//! `filler-undeclared`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-undeclared",
    harm: Harm::Impossible,
    finds: "A run that uses a filler which the document does not declare.",
    matters: "The welder reads a name and finds no rod under it.",
    remedy: "Declare it under `fillers`, or write the name of one that is declared.",
    limit: "The names under `fillers`.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/filler", "other-rod")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let declared: Vec<&str> = x.view.procedure.fillers.keys().collect();
    let mut seen: Vec<String> = Vec::new();
    for run in &x.view.runs {
        let Some(name) = run.setting(&keys::FILLER) else { continue };
        x.examined(&name.pointer);
        if matches!(name.value, "none" | "not applicable")
            || declared.contains(&name.value)
            || seen.contains(&name.pointer)
        {
            continue;
        }
        let near = seamwright_handbook::find::nearest(name.value, declared.iter().copied());
        let hint = if declared.is_empty() {
            "declare it under `fillers`".to_owned()
        } else {
            let named = if near.is_empty() { &declared } else { &near };
            let lines: Vec<String> = named.iter().map(|name| format!("`filler: {name}`")).collect();
            format!("declare it under `fillers`, or write {}", lines.join(" or "))
        };
        x.report(Severity::Error, &name.pointer, format!("filler `{}` is not declared", name.value))
            .stated(name.value)
            .hint(hint)
            .asked(keys::FILLER.in_tables, "a name under `fillers`");
        seen.push(name.pointer);
    }
}
