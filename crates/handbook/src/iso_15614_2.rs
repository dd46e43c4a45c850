//! ISO 15614-2: ranges that a procedure test of aluminium qualifies.

use crate::find;
use crate::qualified::{Row as RangeRow, Variable};
use crate::rule::Rule;
use crate::table::{Origin, table};

table!(RANGES, ranges, "iso-15614-2-ranges", RangeRow);
table!(RULES, rules, "iso-15614-2-rules", Rule);
table!(COVERED_GROUPS, covered_groups, "iso-15614-2-groups", GroupRow);
table!(VARIABLES, variables, "iso-15614-2-variables", Variable);

/// Groups that a test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupRow {
    /// Groups or subgroups of ISO/TR 15608 of the test.
    pub tested: &'static [&'static str],
    /// Groups or subgroups covered.
    pub covers: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// What a test in a group or subgroup covers.
pub fn covered_by(group: &str) -> Option<&'static GroupRow> {
    covered_groups().iter().find(|row| row.tested.contains(&group))
}

/// The variable with this name.
pub fn variable(name: &str) -> Option<&'static Variable> {
    find::by_name(variables(), name, |row| [row.variable])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::band::Band;
    use crate::qualified;

    // ISO 15614-2:2005 Tables 4 and 6 (from memory): 3 mm covers 1.5 to 6 mm, 3.1 mm 3 to 6.2 mm, 20 mm to 40 mm, over it 0.8 t and up.
    #[test]
    fn tests_cover_what_the_tables_say() {
        let range = |quantity: &str, tested_mm| qualified::in_mm(ranges(), quantity, tested_mm);
        qualified::tests::no_two_rows_hold(ranges());
        qualified::tests::a_test_covers_itself(ranges(), 1.0);
        let span = |quantity, tested| range(quantity, tested).map(|(span, _)| span.band);
        assert_eq!(span("butt-thickness", 3.0), Some(Band::new(1.5, 6.0)));
        assert_eq!(span("butt-thickness", 3.5), Some(Band::new(3.0, 7.0)));
        assert_eq!(span("butt-thickness", 20.0), Some(Band::new(3.0, 40.0)));
        assert_eq!(span("butt-thickness", 25.0), Some(Band::at_least(20.0)));
        assert_eq!(span("outside-diameter", 25.0), Some(Band::new(12.5, 50.0)));
        assert_eq!(span("outside-diameter", 40.0), Some(Band::at_least(25.0)));
        assert!(covered_by("22.4").is_some_and(|row| row.covers.len() == 4) && covered_by("8.1").is_none());
    }
}
