//! `purge-time-outside-usual`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Duration;
use seamwright_model::stated::{OrNone, Stated};

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "purge-time-outside-usual",
    harm: Harm::Soundness,
    finds: "A purging time far outside the usual.",
    matters: "Short of several volumes the root still holds air.",
    remedy: "Write the time for five to ten volumes.",
    limit: "Common practice: outside the usual is a note, outside the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "butt-2-304l-141", edits: &[("/backing_gas/purge_time", "5 s")] }],
    sound: &[Case { base: "butt-2-304l-141", edits: &[] }, Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let gas = x.view.procedure.backing_gas.as_ref().and_then(OrNone::value);
    let Some(range) = gas.and_then(|gas| gas.purge_time.as_ref()).and_then(Stated::value) else { return };
    let Some((limits, unit)) = limits(setting_limits::PURGE_TIME, "") else { return };
    let own = band(range, Duration::seconds);
    let own = Band::new(own.low, own.closed().low);
    let grade = Grade {
        what: "purging time",
        usual: Severity::Note,
        widest: Severity::Caution,
        hint: "write the time for five to ten volumes",
    };
    hold(x, Value::new("/backing_gas/purge_time", range.spelled(), own), &limits, unit, &grade);
}
