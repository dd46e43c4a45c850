//! `gas-not-of-process`: explanation, cases, logic.

use super::mixture;
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "gas-not-of-process",
    harm: Harm::Process,
    finds: "A shielding gas without carbon dioxide or oxygen for a process with active gas on steel.",
    matters: "The arc wanders on cold steel without a little oxygen in the gas, the bead stands high and is not fused at its edges; and 135 by its number has an active gas.",
    remedy: "Take a gas of group M or C, or write the number of the process with inert gas.",
    limit: "Groups of ISO 14175 that the processes of ISO 4063 take.",
    tables: &["processes", "shielding-gases"],
    examine,
    faulty: &[Case {
        base: "butt-10-s355-135",
        edits: &[("/processes/135/shielding_gas", "{designation: I1, composition: {Ar: 100}, flow: 13-15 L/min}")],
    }],
    sound: &[
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "tee-fillet-8-316l-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(process) = run.process.filter(|process| process.consumable_electrode) else { continue };
        let active = process.gas_groups.iter().any(|group| *group == "M" || *group == "C");
        let steel = x.view.metals.iter().any(|metal| metal.is("steel") && !metal.is("stainless"));
        let (Some(gas), Some(row)) = (run.gas(), run.gas_row()) else { continue };
        let pointer = mixture::gas_pointer(&gas);
        x.examined(&pointer);
        if !active || !steel || row.group != "I" || process.gas_groups.contains(&row.group) {
            continue;
        }
        x.report(
            Severity::Caution,
            pointer,
            format!("process {} on steel with an inert gas ({})", process.number, mixture::gas_words(gas.value)),
        )
        .stated(mixture::gas_words(gas.value))
        .limit(format!("group {}", process.gas_groups.join(" or ")), &process.origin.source_ref())
        .hint("write for example `shielding_gas: {designation: M21}`, or process 131");
    }
}
