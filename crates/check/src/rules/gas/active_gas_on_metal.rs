//! `active-gas-on-metal`: explanation, cases, logic.

use super::mixture;
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_calc::Band;
use seamwright_handbook::measure::figure;
use seamwright_handbook::processes::Wire;
use seamwright_handbook::shielding_gases;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "active-gas-on-metal",
    harm: Harm::Metal,
    finds: "Carbon dioxide or oxygen in the shielding gas of a metal that does not take them.",
    matters: "Aluminium and titanium burn to oxide and turn brittle; nickel loses its alloy and does not wet; stainless steel takes up carbon and rusts.",
    remedy: "Use argon, helium or a mixture of both; on stainless steel argon with no more than 5 % of carbon dioxide or oxygen.",
    limit: "The share of carbon dioxide and oxygen that the metal takes; traces on nickel are a note.",
    tables: &["gas-mixture-rules", "shielding-gases"],
    examine,
    faulty: &[
        Case {
            base: "butt-6-5083-131",
            edits: &[
                ("/processes/131/shielding_gas/designation", "M12-ArC-2"),
                ("/processes/131/shielding_gas/composition", "{Ar: 98, CO2: 2}"),
            ],
        },
        Case {
            base: "butt-6-5083-131",
            edits: &[
                ("/parent_metals/0/specification", "Grade 2"),
                ("/processes/131/shielding_gas/composition", "{Ar: 99.8, O2: 0.2}"),
            ],
        },
        Case { base: "tee-fillet-4-6082-131", edits: &[("/processes/131/shielding_gas", "{designation: C1}")] },
        Case { base: "tee-fillet-3-304l-135", edits: &[("/processes/135/shielding_gas", "{designation: C25}")] },
    ],
    sound: &[
        Case { base: "butt-6-5083-131", edits: &[] },
        Case { base: "tee-fillet-4-6082-131", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-3-304l-135", edits: &[] },
        Case { base: "tee-fillet-3-304l-135", edits: &[("/processes/135/shielding_gas", "{designation: M13}")] },
        Case { base: "tee-fillet-8-316l-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[("/processes/131/shielding_gas", "{designation: I3-ArHe-30}")] },
        Case {
            base: "butt-6-5083-131",
            edits: &[("/processes/131/shielding_gas/composition", "{Ar: 99.97, O2: 0.03}")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        // A tungsten arc takes neither on any metal: `shielding-gas-not-inert`.
        if run.process.is_none_or(|process| process.uses_tungsten) {
            continue;
        }
        // The slag of a cored wire takes up what an active gas oxidizes.
        if run.wire.as_ref().is_some_and(|wire| wire.kind == Wire::FluxCored) {
            continue;
        }
        let Some(gas) = run.gas() else { continue };
        let (Some(co2), Some(oxygen)) = (mixture::share(gas.value, "CO2"), mixture::share(gas.value, "O2")) else {
            continue;
        };
        // A symbol alone leaves the share open: the least that it can be counts.
        let active = co2.low + oxygen.low;
        for metal in &x.view.metals {
            let Some(rule) = shielding_gases::active_gas(metal.family()) else { continue };
            let pointer = mixture::gas_pointer(&gas);
            x.examined(&pointer);
            // The usual trace of a doped gas is no fault; nickel is told of any.
            let severity = match active {
                share if share > rule.value.high => Severity::Error,
                share if share > rule.value.low => Severity::Caution,
                share if share > 0.0 && metal.is("nickel") => Severity::Note,
                _ => continue,
            };
            let source = rule.origin.source_ref();
            let most = if severity == Severity::Error { rule.value.high } else { rule.value.low };
            let limit = range_limit(Band::at_most(most), "%");
            let words = mixture::gas_words(gas.value);
            x.report(
                severity,
                pointer,
                format!(
                    "gas {words} has {} % of carbon dioxide and oxygen on {} ({limit})",
                    figure(active),
                    metal.stated.specification
                ),
            )
            .stated(words)
            .limit(limit, &source)
            .hint(if metal.is("stainless") {
                "write `designation: M12`"
            } else {
                "write `designation: I1` for argon"
            });
            break;
        }
    }
}
