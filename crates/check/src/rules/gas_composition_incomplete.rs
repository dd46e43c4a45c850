//! `gas-composition-incomplete`: explanation, cases, logic.

use seamwright_handbook::Range;
use seamwright_model::finding::Severity;

use super::bounds::limits;
use crate::rule::{Case, Examiner, Rule, figure, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "gas-composition-incomplete",
    finds: "A gas composition that does not make up the whole.",
    matters: "What the rest is decides how the arc burns.",
    remedy: "Write every component; together they are 100 %.",
    limit: "Sum of the components; short of the table's share is a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case {
        base: "tee-fillet-12-s355-135",
        edits: &[("/processes/135/shielding_gas/composition", "{Ar: 8.2, CO2: 18}")],
    }],
    sound: &[Case { base: "tee-fillet-12-s355-135", edits: &[] }, Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some((limits, unit)) = limits("gas-total", "") else { return };
    let least = Range::new(limits.envelope.low, f64::INFINITY);
    for run in &view.runs {
        let trailing = run.setting("trailing_gas", |s| s.trailing_gas.as_ref().and_then(|gas| gas.value()));
        for (key, gas) in [("shielding_gas", run.gas()), ("trailing_gas", trailing)] {
            let Some(gas) = gas else { continue };
            let Some(composition) = &gas.value.composition else { continue };
            let total: f64 = composition.iter().map(|(_, percent)| percent).sum();
            let pointer = format!("{}/composition", gas.pointer);
            let stated = format!("{} %", figure(total));
            if x.compare(&pointer, &stated, (Some(total), None), least, unit, &limits.source).below {
                let text = range_text(least, unit);
                x.report(Severity::Caution, pointer, format!("the components of {key} make {stated} ({text})"))
                    .stated(stated)
                    .limit(text, &limits.source)
                    .hint("write every component; together they are 100 %");
            }
        }
    }
}
