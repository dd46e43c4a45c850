//! `wire-gas-flow-outside-range`: explanation, cases, logic.

use super::mixture;
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, gmaw_parameters, nozzle_gas_flow};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Flow;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-gas-flow-outside-range",
    harm: Harm::Soundness,
    finds: "A gas flow outside what a wire process works with.",
    matters: "Too little lets the wind in, too much draws air into the stream: both give pores.",
    remedy: "State a flow that suits the nozzle, as a rule ten to twelve litres per minute for each millimetre of wire.",
    limit: "The least and the most flow for any wire; helium needs more.",
    tables: &["gmaw-rules", "gas-flow-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/processes/135/shielding_gas/flow", "3 L/min")] },
        Case { base: "butt-15-s355-136", edits: &[("/processes/136/shielding_gas/flow", "60-70 L/min")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[] },
        Case {
            base: "butt-6-5083-131",
            edits: &[("/processes/131/shielding_gas", "{designation: I3-ArHe-50, flow: 30-35 L/min}")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let (widest, farthest) = (gmaw_parameters::GAS_FLOW_WIDEST, gmaw_parameters::SETTINGS_FARTHEST);
    for run in &x.view.runs {
        let (Some(_), Some(gas)) = (&run.wire, run.gas()) else { continue };
        let Some(flow) = run.value(&keys::SHIELDING_GAS_FLOW) else { continue };
        let helium = mixture::share(gas.value, "He").map_or(0.0, |share| share.high / 100.0);
        let times = nozzle_gas_flow::HELIUM_OVER_ARGON.value.high;
        let range = Band::new(widest.value.low, widest.value.high * (1.0 + helium * (times - 1.0)));
        let own = band(flow.value, Flow::l_per_min);
        let source = widest.origin.source_ref();
        let stated = flow.value.spelled();
        let outer = x.compare(&flow.pointer, stated, own, range, "L/min", &source);
        if !outer.either() {
            continue;
        }
        let far = own.is_past(range, farthest.value.high);
        let limit = range_limit(range, "L/min");
        x.report(
            if far { Severity::Error } else { Severity::Caution },
            flow.pointer,
            format!("gas flow {stated} lies outside what a wire process works with ({limit})"),
        )
        .stated(stated)
        .limit(limit.clone(), &source)
        .hint(format!("write a flow within {limit}"));
    }
}
