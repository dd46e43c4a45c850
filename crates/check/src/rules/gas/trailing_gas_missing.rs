//! `trailing-gas-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::process_suitability::{self, Need};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::stated::OrNone;

/// The check.
pub const RULE: Rule = Rule {
    name: "trailing-gas-missing",
    harm: Harm::Metal,
    finds: "Titanium or zirconium that is welded without gas over the hot weld behind the torch.",
    matters: "The metal takes up oxygen and nitrogen while it is above some 400 °C, and becomes brittle.",
    remedy: "Fit a trailing shield and state its gas, or weld in a chamber and accept the finding as a deviation.",
    limit: "The families of metal that need gas behind the torch; `none` is an error, silence a caution.",
    tables: &["family-welding"],
    examine,
    faulty: &[
        Case { base: "butt-3-titanium-141", edits: &[("/processes/141/trailing_gas", "none")] },
        Case { base: "butt-3-titanium-141", edits: &[("/processes/141/trailing_gas", "")] },
    ],
    sound: &[Case { base: "butt-3-titanium-141", edits: &[] }, Case { base: "butt-2-304l-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let needing = x.view.metals.iter().find_map(|metal| {
        process_suitability::family(metal.family())
            .filter(|row| row.trailing_gas == Need::Needed)
            .map(|row| (metal, row))
    });
    let Some((metal, row)) = needing else { return };
    for run in &x.view.runs {
        if !run.process.is_some_and(|process| process.uses_shielding_gas) {
            continue;
        }
        let trailing = run.setting(&keys::TRAILING_GAS);
        let (severity, pointer) = match &trailing {
            Some(at) if matches!(at.value, OrNone::Is(_)) => {
                x.examined(&at.pointer);
                continue;
            }
            Some(at) => (Severity::Error, at.pointer.clone()),
            None => (Severity::Caution, run.pointer()),
        };
        let source = row.origin.source_ref();
        x.report(severity, pointer, format!("no trailing gas over the hot weld in {}", metal.stated.specification))
            .limit("a trailing gas", &source)
            .hint("write for example `trailing_gas: {designation: I1, flow: 15-20 L/min}`");
    }
}
