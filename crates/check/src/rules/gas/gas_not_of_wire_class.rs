//! `gas-not-of-wire-class`: explanation, cases, logic.

use super::mixture;
use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::designation::Shielding;
use seamwright_handbook::processes::Wire;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "gas-not-of-wire-class",
    harm: Harm::Process,
    finds: "A shielding gas other than the one that a flux cored wire is classified with.",
    matters: "The core is balanced for its gas: more argon leaves more manganese and silicon and a harder weld, more carbon dioxide less.",
    remedy: "Take the gas of the class, or the wire for the gas.",
    limit: "The gas letter of the classification.",
    tables: &["designation-symbols", "shielding-gases"],
    examine,
    faulty: &[
        Case {
            base: "butt-15-s355-136",
            edits: &[("/processes/136/shielding_gas", "{designation: C1, composition: {CO2: 100}, flow: 18 L/min}")],
        },
        Case {
            base: "tee-fillet-8-s275-136",
            edits: &[("/processes/136/shielding_gas", "{designation: M21-ArC-20, flow: 18 L/min}")],
        },
    ],
    sound: &[
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-8-s275-136", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[("/fillers/wire/designation", "E71T-1C/M")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref().filter(|wire| wire.kind == Wire::FluxCored) else { continue };
        let Some(Shielding::Gas(symbols)) = wire.read.as_ref().and_then(|read| read.shielding.as_ref()) else {
            continue;
        };
        let (Some(gas), Some(row)) = (run.gas(), run.gas_row()) else { continue };
        let pointer = mixture::gas_pointer(&gas);
        x.examined(&pointer);
        // A class may name a whole group, such as M2.
        if symbols.iter().any(|symbol| *symbol == row.symbol || *symbol == row.group) {
            continue;
        }
        let source = row.origin.source_ref();
        let limit = symbols.join(" or ");
        x.report(
            Severity::Caution,
            pointer,
            format!("{} is classified with {limit}; the gas is {}", wire.filler.designation, row.symbol),
        )
        .stated(mixture::gas_words(gas.value))
        .limit(limit.clone(), &source)
        .hint(format!("use {limit}, or a wire that is classified with {}", row.symbol));
    }
}
