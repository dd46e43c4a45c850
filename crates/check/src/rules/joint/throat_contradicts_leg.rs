//! `throat-contradicts-leg`: explanation, cases, logic.

use seamwright_calc::fillet;
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "throat-contradicts-leg",
    harm: Harm::Instruction,
    finds: "A throat and a leg that do not belong to one fillet.",
    matters: "The welder cannot make both, and the inspector measures only one.",
    remedy: "State one of them, or both of one fillet.",
    limit: "The throat of a flat fillet with equal legs is the leg over root two; past the tolerance of the table is an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size/throat", "2 mm")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size/throat", "1.4 mm")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(size) = view.procedure.weld_size.as_ref().and_then(Stated::value) else { return };
    let stated = (size.leg.as_ref().and_then(Stated::value), size.throat.as_ref().and_then(Stated::value));
    // Unequal legs have another throat.
    let (Some(leg), Some(throat), None) = (stated.0, stated.1, &size.second_leg) else { return };
    let Some((limits, unit)) = limits(setting_limits::THROAT_OVER_LEG, "") else { return };
    let ratio =
        |throat: Option<Length>, leg: Option<Length>| Some(throat?.mm() / fillet::throat_from_leg_mm(leg?.mm()).ok()?);
    let (low, high) = (ratio(throat.low(), leg.low()), ratio(throat.high(), leg.high()));
    let own = Band::new(low.unwrap_or(f64::NEG_INFINITY), high.unwrap_or(f64::INFINITY));
    let grade = Grade {
        what: "throat",
        usual: Severity::Note,
        widest: Severity::Error,
        hint: "state the leg or the throat, or both of one fillet",
    };
    hold(x, Value::new("/weld_size/throat", throat.spelled(), own), &limits, unit, &grade);
}
