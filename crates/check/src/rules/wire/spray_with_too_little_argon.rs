//! `spray-with-too-little-argon`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::rules::gas::mixture;
use seamwright_calc::Band;
use seamwright_handbook::gmaw_parameters::{self, Transfer};
use seamwright_handbook::measure::figure;
use seamwright_handbook::metal_families;
use seamwright_handbook::processes::Wire;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "spray-with-too-little-argon",
    harm: Harm::Process,
    finds: "Spray transfer of solid wire on steel in a gas with too little argon.",
    matters: "Carbon dioxide keeps the drops large: the arc spatters and does not spray.",
    remedy: "Use a mixture with enough argon, or name globular or short-circuit transfer.",
    limit: "The least argon for spray transfer on steel.",
    tables: &["gmaw-rules"],
    examine,
    faulty: &[
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[
                ("/processes/135/shielding_gas/designation", "M21-ArC-25"),
                ("/processes/135/shielding_gas/composition", "{Ar: 75, CO2: 25}"),
            ],
        },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/processes/135/shielding_gas", "{designation: C1}")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case {
            base: "butt-25-a36-138",
            edits: &[
                ("/processes/138/shielding_gas/composition", "{Ar: 75, CO2: 25}"),
                ("/processes/138/shielding_gas/designation", "M21"),
            ],
        },
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/processes/135/shielding_gas", "{designation: M21}")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let rule = gmaw_parameters::SPRAY_ARGON;
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref().filter(|wire| wire.kind == Wire::Solid) else { continue };
        let steel = wire.family.is_some_and(|family| metal_families::is_in(family, "steel"));
        let (Some(gas), true, true) = (run.gas(), steel, wire.transfer == Some(Transfer::Spray)) else { continue };
        // Helium is inert too; a symbol alone leaves the share open, and its best case counts.
        let (Some(argon), Some(helium)) = (mixture::share(gas.value, "Ar"), mixture::share(gas.value, "He")) else {
            continue;
        };
        let pointer = mixture::gas_pointer(&gas);
        x.examined(&pointer);
        let inert = argon.high + helium.high;
        if inert >= rule.value.low {
            continue;
        }
        let source = rule.origin.source_ref();
        let limit = range_limit(Band::at_least(rule.value.low), "% argon");
        let gas = mixture::gas_words(gas.value);
        x.report(
            Severity::Caution,
            pointer,
            format!("gas {gas} has {} % argon, too little for spray transfer ({limit})", figure(argon.high)),
        )
        .stated(gas)
        .limit(limit, &source)
        .hint("use a mixture such as M20-ArC-10, or name another mode of transfer");
    }
}
