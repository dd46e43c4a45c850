//! `gas-flow-too-high`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "gas-flow-too-high",
    harm: Harm::Soundness,
    finds: "A gas flow too high for the nozzle.",
    matters: "Too fast a stream swirls and draws air into the shield; it also wastes gas.",
    remedy: "Lower the flow, take a larger nozzle, or fit a gas lens.",
    limit: "The highest flow of any source for the nozzle number, with or without a gas lens; helium flows are scaled.",
    tables: &["nozzle-gas-flow", "gas-flow-rules"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/shielding_gas/flow", "28-30 L/min")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        // Helium is light: the same shield takes two to three times the flow (common practice).
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/processes/141/shielding_gas/designation", "I2"),
                ("/processes/141/shielding_gas/composition", "{He: 100}"),
                ("/processes/141/shielding_gas/flow", "18-20 L/min"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    super::nozzle_flow::hold(x, crate::rules::bounds::Side::High);
}
