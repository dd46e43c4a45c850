//! `gas-flow-too-high`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::quantity::Flow;

use crate::rule::range_text;
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "gas-flow-too-high",
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
    for run in &x.view.runs {
        let Some((flow, limits)) = super::flow_limits(run) else { continue };
        let ends = (None, flow.value.high().map(Flow::l_per_min));
        let stated = flow.value.spelled();
        let envelope = limits.envelope;
        let usual = limits.usual.unwrap_or(envelope);
        let outer = x.compare(&flow.pointer, stated, ends, envelope, "L/min", &limits.source);
        let (severity, limit) = if outer.above {
            (Severity::Error, envelope)
        } else if ends.1.is_some_and(|high| high > usual.high * 1.001) {
            (Severity::Note, usual)
        } else {
            continue;
        };
        x.report(
            severity,
            &flow.pointer,
            format!("gas flow {stated} is too high for the nozzle ({})", range_text(limit, "L/min")),
        )
        .stated(stated)
        .limit(range_text(limit, "L/min"), &limits.source)
        .hint(format!("write a flow within {}, or change the nozzle", range_text(usual, "L/min")));
    }
}
