//! `gas-for-self-shielded-wire`: explanation, cases, logic.

use super::mixture;
use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::fcaw_parameters;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "gas-for-self-shielded-wire",
    harm: Harm::Process,
    finds: "A shielding gas with a wire that shields itself.",
    matters: "Its core makes its own gas and binds what air brings in; under gas it leaves too much of that in the weld.",
    remedy: "Take the gas out and weld with 114, or take a gas-shielded class.",
    limit: "The classes that the designation says need no gas.",
    tables: &["flux-cored-electrodes", "designation-symbols"],
    examine,
    faulty: &[
        Case { base: "butt-15-s355-136", edits: &[("/fillers/wire/designation", "E71T-11")] },
        Case { base: "butt-15-s355-136", edits: &[("/fillers/wire/designation", "E71T8-Ni1")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-8-s275-136", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/processes/114/shielding_gas", "none")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref().filter(|wire| wire.self_shielded()) else { continue };
        let Some(gas) = run.gas() else { continue };
        x.examined(&gas.pointer);
        let report = x
            .report(
                Severity::Error,
                &gas.pointer,
                format!("{} shields itself; gas {} is stated", wire.filler.designation, mixture::gas_words(gas.value)),
            )
            .stated(mixture::gas_words(gas.value))
            .hint("write `shielding_gas: none` under process 114, or take a class such as E71T-1C");
        if let Some(row) = fcaw_parameters::electrode(&wire.filler.designation) {
            report.limit("no gas", &row.origin.source_ref());
        }
    }
}
