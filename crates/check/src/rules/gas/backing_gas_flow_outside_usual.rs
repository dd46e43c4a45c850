//! `backing-gas-flow-outside-usual`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Flow;
use seamwright_model::stated::{OrNone, Stated};

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "backing-gas-flow-outside-usual",
    harm: Harm::Soundness,
    finds: "A flow of backing gas that does not displace the air, or blows the root.",
    matters: "Too little leaves oxygen, too much stirs air in and pushes the pool up.",
    remedy: "Write the flow while welding.",
    limit: "Common practice: outside the usual is a note, outside the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "butt-2-304l-141", edits: &[("/backing_gas/flow", "100 L/min")] }],
    sound: &[Case { base: "butt-2-304l-141", edits: &[] }, Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let gas = x.view.procedure.backing_gas.as_ref().and_then(OrNone::value);
    let Some(range) = gas.and_then(|gas| gas.flow.as_ref()).and_then(Stated::value) else { return };
    let Some((limits, unit)) = limits(setting_limits::BACKING_FLOW, "") else { return };
    let grade = Grade {
        what: "backing gas flow",
        usual: Severity::Note,
        widest: Severity::Caution,
        hint: "write the flow while welding",
    };
    hold(x, Value::of("/backing_gas/flow", range, Flow::l_per_min), &limits, unit, &grade);
}
