//! `key-of-another-process`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Settings, keys};

/// The check.
pub const RULE: Rule = Rule {
    name: "key-of-another-process",
    harm: Harm::Impossible,
    finds: "A key that belongs to another process.",
    matters: "A tungsten in a stick weld, or a wire feed in TIG by hand, says that two procedures were mixed up.",
    remedy: "Take the key out, or move it to the process that has it.",
    limit: "The keys of each process.",
    tables: &["processes"],
    examine,
    faulty: &[Case { base: "tee-fillet-10-s355-111", edits: &[("/processes/111/tungsten", "{designation: WLa15}")] }],
    sound: &[
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for (name, settings) in x.view.procedure.processes.iter() {
        if let Some(process) = processes::get(name) {
            foreign(x, settings, process, &keys::process(name));
        }
    }
    for run in &x.view.runs {
        if let Some(process) = run.process {
            foreign(x, &run.run.settings, process, &run.pointer());
        }
    }
}

fn foreign(x: &mut Examiner<'_>, settings: &Settings, process: &processes::Row, pointer: &str) {
    let Ok(serde_json::Value::Object(keys)) = serde_json::to_value(settings) else { return };
    for (key, value) in &keys {
        let absent = value.as_str().is_some_and(|text| matches!(text, "none" | "not applicable"));
        let particular = processes::rows().iter().any(|row| row.has_key(key));
        if absent || !particular || process.has_key(key) {
            continue;
        }
        let source = process.origin.source_ref();
        x.report(
            Severity::Error,
            format!("{pointer}/{key}"),
            format!("`{key}` is not a key of process {}", process.number),
        )
        .stated(key)
        .limit("keys of the process", &source)
        .hint("take it out, or move it to the process that has it");
    }
}
