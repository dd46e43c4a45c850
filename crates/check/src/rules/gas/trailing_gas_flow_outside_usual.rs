//! `trailing-gas-flow-outside-usual`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Flow;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "trailing-gas-flow-outside-usual",
    harm: Harm::Soundness,
    finds: "A flow of trailing gas that does not cover the hot weld, or stirs air in.",
    matters: "Hot titanium takes up air through every gap of its shield and turns brittle.",
    remedy: "Write the flow through the trailing shield while welding.",
    limit: "Common practice: outside the usual is a note, outside the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "butt-3-titanium-141", edits: &[("/processes/141/trailing_gas/flow", "150-200 L/min")] }],
    sound: &[
        Case { base: "butt-3-titanium-141", edits: &[] },
        Case { base: "butt-3-titanium-141", edits: &[("/processes/141/trailing_gas/flow", "25-28 L/min")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some((limits, unit)) = limits(setting_limits::TRAILING_FLOW, "") else { return };
    for run in &view.runs {
        let Some(flow) = run.value(&keys::TRAILING_GAS_FLOW) else { continue };
        let grade = Grade {
            what: "trailing gas flow",
            usual: Severity::Note,
            widest: Severity::Caution,
            hint: "write the flow through the trailing shield while welding",
        };
        hold(x, Value::of(flow.pointer, flow.value, Flow::l_per_min), &limits, unit, &grade);
    }
}
