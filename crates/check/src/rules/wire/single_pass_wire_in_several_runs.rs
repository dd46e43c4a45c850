//! `single-pass-wire-in-several-runs`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::fcaw_parameters;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "single-pass-wire-in-several-runs",
    harm: Harm::Process,
    finds: "A single-pass flux cored wire used for more than one run.",
    matters: "Its deoxidizers are meant for one run that mixes with the plate; layer on layer they build up and the weld cracks.",
    remedy: "Take a multiple-pass class.",
    limit: "The classes for single passes.",
    tables: &["flux-cored-electrodes", "designation-symbols"],
    examine,
    faulty: &[Case {
        base: "butt-15-s355-136",
        edits: &[("/fillers/wire/designation", "E71T-14"), ("/processes/136/shielding_gas", "none")],
    }],
    sound: &[
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/fillers/wire/designation", "E71T-GS")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let count: u32 = x.view.runs.iter().map(|run| run.numbers.1.saturating_sub(run.numbers.0).saturating_add(1)).sum();
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref() else { continue };
        if !wire.read.as_ref().is_some_and(|read| read.single_pass) {
            continue;
        }
        let pointer = wire.pointer("designation");
        x.examined(&pointer);
        if count <= 1 && !x.view.runs.iter().any(|run| run.open) {
            continue;
        }
        let report = x
            .report(
                Severity::Error,
                pointer,
                format!("{} is for single passes; there are {count} runs", wire.filler.designation),
            )
            .stated(&*wire.filler.designation)
            .hint("take a multiple-pass class such as E71T-8 or E71T-1C");
        if let Some(row) = fcaw_parameters::electrode(&wire.filler.designation) {
            report.limit("a single pass", &row.origin.source_ref());
        }
    }
}
