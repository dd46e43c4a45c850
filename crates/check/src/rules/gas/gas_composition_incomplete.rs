//! `gas-composition-incomplete`: explanation, cases, logic.

use seamwright_handbook::measure::figure;
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "gas-composition-incomplete",
    harm: Harm::Soundness,
    finds: "A gas composition that does not make up the whole, or more than the whole.",
    matters: "What the rest is decides how the arc burns.",
    remedy: "Write every component; together they are 100 %.",
    limit: "Sum of the components; outside the table's widest share is a caution, outside the usual a note.",
    tables: &["setting-limits"],
    examine,
    faulty: &[
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[("/processes/135/shielding_gas/composition", "{Ar: 8.2, CO2: 18}")],
        },
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[("/processes/135/shielding_gas/composition", "{Ar: 82, CO2: 81}")],
        },
    ],
    sound: &[Case { base: "tee-fillet-12-s355-135", edits: &[] }, Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some((limits, unit)) = limits(setting_limits::GAS_TOTAL, "") else { return };
    for run in &view.runs {
        for key in [&keys::SHIELDING_GAS, &keys::TRAILING_GAS] {
            let Some(gas) = run.part(key) else { continue };
            let Some(composition) = &gas.value.composition else { continue };
            let total: f64 = composition.iter().map(|(_, percent)| percent).sum();
            let pointer = format!("{}/composition", gas.pointer);
            let stated = format!("{} %", figure(total));
            let grade = Grade {
                what: &format!("the sum of the components of {}", key.path),
                usual: Severity::Note,
                widest: Severity::Caution,
                hint: "write every component; together they are 100 %",
            };
            let own = Band::at(total);
            hold(x, Value::new(pointer, &stated, own), &limits, unit, &grade);
        }
    }
}
