//! `shielding-gas-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::designation::Shielding;
use seamwright_handbook::process_suitability;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

/// The check.
pub const RULE: Rule = Rule {
    name: "shielding-gas-missing",
    harm: Harm::Process,
    finds: "A gas-shielded process or wire without a shielding gas.",
    matters: "Without gas, air burns the wire and fills the weld with pores.",
    remedy: "State the gas and its flow; for work without gas take a self-shielded wire and 114.",
    limit: "Processes that take gas from outside, and wires whose designation names a gas.",
    tables: &["processes", "designation-symbols"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/processes/135/shielding_gas", "none")] },
        Case { base: "butt-15-s355-136", edits: &[("/processes/136/shielding_gas", "")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/fillers/wire/designation", "E71T-1C")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(process) = run.process else { continue };
        let wire = run.wire.as_ref();
        let asks = wire
            .as_ref()
            .and_then(|wire| wire.read.as_ref())
            .is_some_and(|read| matches!(read.shielding, Some(Shielding::Gas(_))));
        if run.gas().is_some() || !(process.uses_shielding_gas || asks) {
            continue;
        }
        // A wire that shields itself under a process with gas: the process is what is wrong.
        let hint = match &wire {
            Some(wire) if wire.self_shielded() => {
                format!("{} shields itself: its process is 114", wire.filler.designation)
            }
            _ => {
                let metal = x.view.metals.first().and_then(|metal| metal.known);
                let usual = metal.and_then(|metal| process_suitability::get(metal, process.number)?.gases.first());
                match usual {
                    Some(gas) => {
                        format!("write `shielding_gas: {{designation: {gas}}}`, or the gas that is used, and its flow")
                    }
                    None => "write `shielding_gas:` with `designation:` and `flow:` of the gas that is used".to_owned(),
                }
            }
        };
        let named = match &wire {
            Some(wire) if asks => wire.filler.designation.to_string(),
            _ => format!("process {}", process.number),
        };
        let pointer = run.of_process(&keys::SHIELDING_GAS);
        x.examined(&pointer);
        let source = process.origin.source_ref();
        x.report(Severity::Error, pointer, format!("{named} needs a shielding gas, and none is stated"))
            .limit("a shielding gas", &source)
            .hint(hint);
    }
}
