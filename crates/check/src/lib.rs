//! The checks of a procedure against the handbook.
//!
//! [`check`] runs every rule of [`rules::RULES`] over a procedure and gives what was found, what was compared with which
//! limit, and which findings a stated deviation covers. To add a check: one file in `rules/` and its line in the list.

use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::{Deviation, Procedure};

pub mod heat;
pub mod rule;
pub mod rules;
pub mod view;

pub use rule::{Comparison, Examiner, Rule};
pub use view::View;

/// The result of checking a document.
#[derive(Debug, Clone, Default)]
pub struct Outcome {
    /// What stands against the document, in the order of the rules.
    pub findings: Vec<Finding>,
    /// Findings that a stated deviation covers, with that deviation.
    pub deviations: Vec<(Finding, Deviation)>,
    /// Every value that was held against a limit.
    pub comparisons: Vec<Comparison>,
    /// How many values were examined.
    pub examined: usize,
    /// How many values lie outside a limit.
    pub out_of_range: usize,
    /// How many values are asked for and not stated.
    pub not_stated: usize,
}

impl Outcome {
    /// How many findings have a severity.
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity == severity).count()
    }
}

/// Checks a procedure.
pub fn check(procedure: &Procedure) -> Outcome {
    let view = View::new(procedure);
    let mut examiner = Examiner::new(&view);
    for rule in rules::RULES {
        examiner.rule = rule.name;
        (rule.examine)(&mut examiner);
    }
    let Examiner { findings, comparisons, examined, .. } = examiner;
    let mut outcome = Outcome { examined: examined.len(), comparisons, ..Outcome::default() };
    // A value that several runs inherit is one value: it is reported once.
    let mut seen = std::collections::HashSet::new();
    for finding in findings {
        if !seen.insert((finding.check, finding.pointer.clone())) {
            continue;
        }
        let covering = procedure.deviations.iter().find(|deviation| {
            deviation.reason.is_some()
                && *deviation.check == *finding.check
                && deviation.at.as_deref().is_none_or(|at| at == finding.pointer)
        });
        match covering {
            Some(deviation) => outcome.deviations.push((finding, deviation.clone())),
            None => outcome.findings.push(finding),
        }
    }
    rules::deviation_faults(procedure, &outcome.deviations, &mut outcome.findings);
    outcome.out_of_range = outcome.findings.iter().filter(|finding| finding.limit.is_some()).count();
    outcome.not_stated = outcome.findings.iter().filter(|finding| finding.stated.is_none()).count();
    outcome
}

/// The rule with this name, or the nearest names.
pub fn rule(name: &str) -> Result<&'static Rule, Vec<&'static str>> {
    rules::RULES
        .iter()
        .copied()
        .find(|rule| rule.name == name)
        .ok_or_else(|| seamwright_handbook::find::nearest(name, rules::RULES.iter().map(|rule| rule.name)))
}
