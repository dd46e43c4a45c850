//! `deviation-without-reason`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "deviation-without-reason",
    harm: Harm::Papers,
    finds: "A deviation that gives no reason.",
    matters: "A waived finding without a reason is a silent one.",
    remedy: "Say why, who accepts it and when.",
    limit: "Every deviation has a reason.",
    tables: &[],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/deviations", "[{check: gas-flow-too-low}]")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for (index, deviation) in x.view.procedure.deviations.iter().enumerate() {
        let pointer = format!("/deviations/{index}");
        x.examined(&pointer);
        if deviation.reason.is_none() {
            x.report(Severity::Error, pointer, format!("the deviation from `{}` has no reason", deviation.check))
                .stated(&*deviation.check)
                .hint("write `reason:`, `by:` and `date:`");
        }
    }
}
