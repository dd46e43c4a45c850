//! Rules of one figure each, and rules in words: the row types that tables named `*-rules` and `*-statements` share.

use serde::Deserialize;

use crate::find;
use crate::range::{Limits, Range};
use crate::table::Origin;

/// One rule: a figure or a range that holds in general.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Rule {
    /// Kebab-case name that a check asks for.
    pub rule: String,
    /// The rule in words.
    pub title: String,
    /// Figure or range, in `unit`.
    pub value: Range,
    /// Unit of the value, or what it is a ratio to.
    pub unit: String,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Rule {
    /// The value as a limit that is usual and widest at once.
    pub fn limits(&self) -> Limits {
        Limits { envelope: self.value, usual: None, source: self.origin.source_ref(), doubt: self.origin.doubt.clone() }
    }
}

/// One rule that no figure holds.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Statement {
    /// What the statement is about.
    pub subject: String,
    /// What the code says, in short.
    pub statement: String,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The statement with this subject.
pub(crate) fn statement<'s>(statements: &'s [Statement], subject: &str) -> Option<&'s Statement> {
    find::by_name(statements, subject, |row| [row.subject.as_str()])
}

/// The rule with this name.
pub(crate) fn get<'r>(rules: &'r [Rule], name: &str) -> Option<&'r Rule> {
    find::by_name(rules, name, |rule| [rule.rule.as_str()])
}
