//! What is wrong with a file, in one shape: faults of its reading and findings of the checks.

use seamwright_model::finding::{Finding, Limit, Severity, SourceRef};
use seamwright_model::load::Fault;
use seamwright_model::procedure::Deviation;
use seamwright_model::source::{Node, Span};

use super::{Report, UNREADABLE};

/// One thing that is wrong with a file.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnostic<'r> {
    /// Name of the check; [`UNREADABLE`] for a fault of reading.
    pub check: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What was found, lower case, no full stop.
    pub message: &'r str,
    /// JSON pointer of the value, or of the section where a value is missing.
    pub pointer: &'r str,
    /// Where; nothing where the whole file is meant.
    pub span: Option<Span>,
    /// The value as stated.
    pub stated: Option<&'r str>,
    /// The limit.
    pub limit: Option<&'r Limit>,
    /// Where the limit is written, with its doubt.
    pub source: Option<&'r SourceRef>,
    /// What to write instead.
    pub hint: Option<&'r str>,
    /// The deviation under which it is accepted.
    pub accepted: Option<&'r Deviation>,
}

impl<'r> Diagnostic<'r> {
    fn of_fault(fault: &'r Fault) -> Self {
        Self {
            check: UNREADABLE,
            severity: Severity::Error,
            message: &fault.message,
            pointer: &fault.pointer,
            span: fault.span,
            stated: None,
            limit: None,
            source: None,
            hint: fault.hint.as_deref(),
            accepted: None,
        }
    }

    fn of_finding(finding: &'r Finding, tree: &Node, accepted: Option<&'r Deviation>) -> Self {
        Self {
            check: finding.check,
            severity: finding.severity,
            message: &finding.message,
            pointer: &finding.pointer,
            span: Some(tree.span_of(&finding.pointer)),
            stated: finding.stated.as_deref(),
            limit: finding.limit.as_ref(),
            source: finding.source.as_ref(),
            hint: finding.hint.as_deref(),
            accepted,
        }
    }

    /// Whether it is a fault of reading.
    pub fn is_fault(&self) -> bool {
        self.check == UNREADABLE
    }
}

impl Report {
    /// What is wrong: faults of reading, findings, and findings under a stated deviation, in this order.
    pub fn diagnostics(&self) -> Vec<Diagnostic<'_>> {
        let faults = self.result.as_ref().err().map(|unread| unread.faults.as_slice()).unwrap_or_default();
        let mut all: Vec<Diagnostic<'_>> = faults.iter().map(Diagnostic::of_fault).collect();
        if let Some((loaded, outcome)) = self.checked() {
            let tree = &loaded.tree;
            all.extend(self.findings().map(|finding| Diagnostic::of_finding(finding, tree, None)));
            let accepted = outcome.deviations.iter();
            all.extend(accepted.map(|(finding, why)| Diagnostic::of_finding(finding, tree, Some(why))));
        }
        all
    }
}
