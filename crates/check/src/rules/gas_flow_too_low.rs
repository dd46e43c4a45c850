//! `gas-flow-too-low`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::quantity::Flow;

use crate::rule::range_text;
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "gas-flow-too-low",
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
    for run in &x.view.runs {
        let Some((flow, limits)) = super::flow_limits(run) else { continue };
        let ends = (flow.value.low().map(Flow::l_per_min), None);
        let stated = flow.value.spelled();
        let envelope = limits.envelope;
        let usual = limits.usual.unwrap_or(envelope);
        let outer = x.compare(&flow.pointer, stated, ends, envelope, "L/min", &limits.source);
        let (severity, limit) = if outer.below {
            (Severity::Error, envelope)
        } else if ends.0.is_some_and(|low| low < usual.low * 0.999) {
            (Severity::Note, usual)
        } else {
            continue;
        };
        x.report(
            severity,
            &flow.pointer,
            format!("gas flow {stated} is too low for the nozzle ({})", range_text(limit, "L/min")),
        )
        .stated(stated)
        .limit(range_text(limit, "L/min"), &limits.source)
        .hint(format!("write a flow within {}, or change the nozzle", range_text(usual, "L/min")));
    }
}
