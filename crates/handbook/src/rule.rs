//! Rules of one figure each, and rules in words: the row types that tables named `*-rules` and `*-statements` share.

use crate::band::{Band, Limits};
use crate::find;
use crate::measure::{Heat, Inches, Size};
use crate::table::Origin;

/// One rule: a figure or a range that holds in general.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// Kebab-case name that a check asks for.
    pub rule: &'static str,
    /// The rule in words.
    pub title: &'static str,
    /// Figure or range, in `unit`.
    pub value: Band,
    /// Unit of the value, or what it is a ratio to.
    pub unit: &'static str,
    /// The same figure in the US customary unit that the source prints.
    pub customary: Option<Inches>,
    /// Unit of that figure: `in` or `°F`.
    pub customary_unit: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Rule {
    fn inches(&self) -> Option<Inches> {
        self.customary.filter(|_| self.customary_unit == Some("in"))
    }

    /// Whether a size lies under the figure, in the unit that it is stated in; for a rule in millimetres.
    pub fn below(&self, size: Size) -> bool {
        size.below(Some(self.value.low), self.inches())
    }

    /// Whether a size lies over the figure, in the unit that it is stated in; for a rule in millimetres.
    pub fn over(&self, size: Size) -> bool {
        size.over(Some(self.value.high), self.inches())
    }

    /// The figure beside a size, in the unit that the size is stated in; for a rule in millimetres.
    pub fn beside(&self, size: Size) -> (f64, &'static str) {
        size.column(Some(self.value.low), self.inches()).unwrap_or((self.value.low, "mm"))
    }

    /// The figure in degrees of both scales; for a rule in degrees Celsius.
    pub fn heat(&self) -> Heat {
        let fahrenheit = self.customary.filter(|_| self.customary_unit == Some("°F"));
        Heat::new(self.value.high, fahrenheit.map(|figure| figure.0))
    }

    /// The value as a limit that is usual and widest at once.
    pub fn limits(&self) -> Limits {
        Limits { envelope: self.value, usual: None, source: self.origin.source_ref(), doubt: self.origin.doubt }
    }
}

/// One rule that no figure holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Statement {
    /// What the statement is about.
    pub subject: &'static str,
    /// What the code says, in short.
    pub statement: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The rule with a name that is put together, such as `layer-141` of `settings-rules`; others are named by their static.
pub fn get<'r>(rules: &'r [Rule], name: &str) -> Option<&'r Rule> {
    rules.iter().find(|rule| rule.rule == name).or_else(|| find::by_name(rules, name, |rule| [rule.rule]))
}
