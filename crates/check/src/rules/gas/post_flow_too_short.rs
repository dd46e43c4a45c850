//! `post-flow-too-short`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_handbook::measure::band;
use seamwright_handbook::technique::gas_timing;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{Current, Duration};

use crate::rule::{Case, Examiner, Harm, Rule, range_limit, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "post-flow-too-short",
    harm: Harm::Soundness,
    finds: "Gas that stops before the tungsten electrode and the crater are cool.",
    matters: "Hot tungsten and hot metal oxidise at once in air: a blue tip, a crater that cracks.",
    remedy: "Hold the gas on until the crater is solid and the tip is dark: about a second for each 10 A.",
    limit: "One second for each 10 A and a least time, both common practice; short of the least time is an error, short of the rule a caution.",
    tables: &["gas-timing"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/shielding_gas/post_flow", "1 s")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let (per_ten, least) = (gas_timing::POST_FLOW_PER_10_A, gas_timing::POST_FLOW_LEAST);
    for run in &x.view.runs {
        if !run.process.is_some_and(|process| process.uses_tungsten) {
            continue;
        }
        let Some(flow) = run.value(&keys::SHIELDING_GAS_POST_FLOW) else { continue };
        let Some(current) = run.value(&keys::CURRENT) else { continue };
        // The middle of the range: a pedal runs down before the arc stops.
        let Some(amperes) = current.value.middle().map(Current::amperes) else { continue };
        let asked = amperes / 10.0 * per_ten.value.low;
        let stated = flow.value.spelled();
        let source = per_ten.origin.source_ref();
        let own = Band::at_least(band(flow.value, Duration::seconds).closed().high);
        let limit = Band::at_least(least.value.low);
        let outer = x.compare(&flow.pointer, stated, own, limit, "s", &source);
        let usual = Band::at_least(asked.max(least.value.low));
        let (severity, limit) = if outer.below {
            (Severity::Error, limit)
        } else if own.outside(usual).below {
            (Severity::Caution, usual)
        } else {
            continue;
        };
        x.report(
            severity,
            &flow.pointer,
            format!("gas after the arc {stated} is short for {} ({})", current.value.spelled(), range_text(limit, "s")),
        )
        .stated(stated)
        .limit(range_limit(limit, "s"), &source)
        .hint(format!("write for example {:.0} s", usual.low.ceil()));
    }
}
