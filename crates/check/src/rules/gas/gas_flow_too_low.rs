//! `gas-flow-too-low`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "gas-flow-too-low",
    harm: Harm::Soundness,
    finds: "A gas flow too low for the nozzle.",
    matters: "A thin shield lets air in: porosity, a grey weld and a blue tungsten.",
    remedy: "Raise the flow, or take a smaller nozzle.",
    limit: "The lowest flow of any source for the nozzle number, with or without a gas lens; helium flows are scaled.",
    tables: &["nozzle-gas-flow", "gas-flow-rules"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/shielding_gas/flow", "1-2 L/min")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    super::nozzle_flow::hold(x, crate::rules::bounds::Side::Low);
}
