//! `slope-outside-usual`: explanation, cases, logic.

use seamwright_handbook::technique::gas_timing;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Duration;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold};

/// The check.
pub const RULE: Rule = Rule {
    name: "slope-outside-usual",
    harm: Harm::Soundness,
    finds: "A rise or fall of current much shorter or longer than usual.",
    matters: "A short fall leaves a crater crack, a long one heats the end of the weld.",
    remedy: "Write the times as set at the machine.",
    limit: "Usual slopes of current, common practice; outside is a note.",
    tables: &["gas-timing"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/down_slope", "60 s")] }],
    sound: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[("/processes/141/down_slope", "3 s"), ("/processes/141/up_slope", "0.5 s")],
    }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let slopes = [
            (gas_timing::UP_SLOPE, run.value(&keys::UP_SLOPE)),
            (gas_timing::DOWN_SLOPE, run.value(&keys::DOWN_SLOPE)),
        ];
        for (rule, slope) in slopes {
            let Some(slope) = slope else { continue };
            let value = Value::of(slope.pointer, slope.value, Duration::seconds);
            let grade = Grade {
                what: rule.rule,
                usual: Severity::Note,
                widest: Severity::Note,
                hint: "write the time set at the machine",
            };
            hold(x, value, &rule.limits(), rule.unit, &grade);
        }
    }
}
