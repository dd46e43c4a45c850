//! `pre-flow-too-short`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_handbook::measure::band;
use seamwright_handbook::technique::gas_timing;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Duration;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "pre-flow-too-short",
    harm: Harm::Soundness,
    finds: "Gas that starts too late before the arc.",
    matters: "The first spot of the weld and the hot tip meet air in the hose and nozzle.",
    remedy: "Give gas before the arc, more after a long rest.",
    limit: "Usual times of gas before the arc, common practice; shorter is a caution, longer than after a long rest a note.",
    tables: &["gas-timing"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/shielding_gas/pre_flow", "0.02 s")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/shielding_gas/pre_flow", "3 s")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let (usual, idle) = (gas_timing::PRE_FLOW, gas_timing::PRE_FLOW_AFTER_IDLE);
    let limit = Band::new(usual.value.low, idle.value.high);
    for run in view.runs.iter().filter(|run| run.process.is_some_and(|process| process.uses_tungsten)) {
        let Some(flow) = run.value(&keys::SHIELDING_GAS_PRE_FLOW) else { continue };
        let own = band(flow.value, Duration::seconds);
        let stated = flow.value.spelled();
        let source = usual.origin.source_ref();
        let outer = x.compare(&flow.pointer, stated, own, limit, "s", &source);
        let (severity, word) = match (outer.below, outer.above) {
            (true, _) => (Severity::Caution, "short"),
            (_, true) => (Severity::Note, "long"),
            _ => continue,
        };
        let text = range_limit(limit, "s");
        x.report(severity, &flow.pointer, format!("gas before the arc {stated} is {word} ({text})"))
            .stated(stated)
            .limit(text.clone(), &source)
            .hint(format!("write for example {}", range_text(usual.value, "s")));
    }
}
