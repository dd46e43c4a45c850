//! `not-stated`: explanation, cases, logic.

use seamwright_model::finding::{Finding, Severity};

use super::approval_missing;
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::joint::cleaning_missing;
use crate::rules::joint::tack_welds_missing;

/// The check.
pub const RULE: Rule = Rule {
    name: "not-stated",
    harm: Harm::Papers,
    finds: "What nearly every procedure leaves out: the notes on it, folded into one line.",
    matters: "One line is read; the same three on every file are not.",
    remedy: "State them, or `none` where that is meant; each has an explanation of its own.",
    limit: "The checks that it names.",
    tables: &[],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/joint/tack_welds", "")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

/// The checks whose notes are folded, and what each misses.
const FOLDED: &[(&str, &str)] = &[
    (approval_missing::RULE.name, "approval"),
    (cleaning_missing::RULE.name, "cleaning"),
    (tack_welds_missing::RULE.name, "tack welds"),
];

// The notes of the other checks must stand first: `fold` reports after them.
fn examine(_: &mut Examiner<'_>) {}

/// Takes the notes on what nearly every procedure leaves out of the findings, and puts one line in their place.
pub(crate) fn fold(findings: &mut Vec<Finding>) -> Vec<Finding> {
    let name = |finding: &Finding| FOLDED.iter().find(|(check, _)| *check == finding.check).map(|(_, what)| *what);
    let (folded, kept): (Vec<_>, Vec<_>) = std::mem::take(findings)
        .into_iter()
        .partition(|finding| finding.severity == Severity::Note && finding.stated.is_none() && name(finding).is_some());
    *findings = kept;
    if !folded.is_empty() {
        let what: Vec<&str> = folded.iter().filter_map(name).collect();
        let checks: Vec<String> =
            folded.iter().map(|finding| format!("`seamwright explain {}`", finding.check)).collect();
        findings.push(Finding {
            check: RULE.name,
            severity: Severity::Note,
            message: format!("not stated: {}", what.join(", ")),
            pointer: folded.first().map(|finding| finding.pointer.clone()).unwrap_or_default(),
            stated: None,
            limit: None,
            source: None,
            hint: Some(format!("state them; {} says how", checks.join(", "))),
        });
    }
    folded
}
