//! What an estimate takes from, and what it says beside its figures.

use seamwright_calc::Formula;
use seamwright_handbook::rule::Rule;
use seamwright_model::quantity::{Quantity, Range};
use seamwright_model::shop::{Stock, Times};
use seamwright_weld::section::Assumption;

/// What is taken from, and what is said beside the figures, each thing once.
#[derive(Default)]
pub(crate) struct Log<'s> {
    pub(crate) shelf: Option<&'s Stock>,
    pub(crate) times: Option<&'s Times>,
    pub(crate) formulas: Vec<Formula>,
    pub(crate) assumptions: Vec<Assumption>,
    pub(crate) not_stated: Vec<String>,
}

impl Log<'_> {
    pub(crate) fn formula(&mut self, formula: Formula) {
        if !self.formulas.contains(&formula) {
            self.formulas.push(formula);
        }
    }

    pub(crate) fn assume(&mut self, text: impl Into<String>, source: Option<seamwright_model::finding::SourceRef>) {
        let assumption = Assumption { text: text.into(), source };
        if !self.assumptions.contains(&assumption) {
            self.assumptions.push(assumption);
        }
    }

    pub(crate) fn missing(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !self.not_stated.contains(&text) {
            self.not_stated.push(text);
        }
    }
}

/// The middle of a rule, and that it is reckoned with.
pub(crate) fn rule(rule: &Rule, what: &str, log: &mut Log<'_>) -> f64 {
    let value = if rule.value.is_single() {
        format!("{} {}", rule.value.low, rule.unit)
    } else {
        format!("{} to {} {}, the middle is reckoned with", rule.value.low, rule.value.high, rule.unit)
    };
    log.assume(format!("{what}: {value}"), Some(rule.origin.source_ref()));
    rule.value.middle()
}

pub(crate) fn middle<Q: Quantity>(range: &Range<Q>, of: impl Fn(Q) -> f64) -> Option<f64> {
    range.middle().or(range.low()).or(range.high()).map(of)
}
