//! `deviation-without-finding`: explanation, cases, logic.

use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::Deviation;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "deviation-without-finding",
    harm: Harm::Papers,
    finds: "A deviation that matches no finding.",
    matters: "It waives what is not there, or no longer there; the next fault of that kind would be waived unseen.",
    remedy: "Take it out, or mend its `check` and `at`.",
    limit: "The findings of this document.",
    tables: &[],
    examine,
    faulty: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[("/deviations", "[{check: gas-flow-too-low, reason: habit}]")],
    }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

// The findings of all other checks must stand first: `faults` reports it after them.
fn examine(_: &mut Examiner<'_>) {}

/// Reports the deviations that cover no finding; `known` says whether a check has that name.
pub(crate) fn faults(
    deviations: &[Deviation],
    covered: &[(Finding, Deviation)],
    known: impl Fn(&str) -> bool,
    findings: &mut Vec<Finding>,
) {
    for (index, deviation) in deviations.iter().enumerate() {
        if deviation.reason.is_some() && !covered.iter().any(|(_, used)| used == deviation) {
            findings.push(Finding {
                check: RULE.name,
                severity: Severity::Error,
                message: if known(&deviation.check) {
                    format!("the deviation from `{}` matches no finding", deviation.check)
                } else {
                    format!("the deviation names `{}`, which is no check", deviation.check)
                },
                pointer: format!("/deviations/{index}"),
                stated: Some(deviation.check.to_string()),
                limit: None,
                source: None,
                hint: Some("take it out, or mend its `check` and `at`".to_owned()),
            });
        }
    }
}
