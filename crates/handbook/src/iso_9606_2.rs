//! ISO 9606-2: what the test of a welder of aluminium covers.

use crate::iso_9606_1::PositionRow;
use crate::qualified::Row as RangeRow;
use crate::rule::Rule;
use crate::table::{Origin, table};

table!(RANGES, ranges, "iso-9606-2-ranges", RangeRow);
table!(RULES, rules, "iso-9606-2-rules", Rule);
table!(GROUPS, groups, "iso-9606-2-groups", GroupRow);
table!(POSITIONS, positions, "iso-9606-2-positions", PositionRow);

/// Groups of metal that a test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupRow {
    /// Group of ISO/TR 15608 of the test.
    pub tested: &'static str,
    /// Groups covered.
    pub covers: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// The groups that a test in a group or subgroup covers.
pub fn group(tested: &str) -> Option<&'static GroupRow> {
    groups().iter().find(|row| tested.split('.').next() == Some(row.tested))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::band::Band;
    use crate::qualified;

    // ISO 9606-2:2004 (from memory): 6 mm covers 3 to 12 mm, over it 6 mm and up; a group covers itself, 26 also 24 and 25.
    #[test]
    fn tests_cover_what_the_tables_say() {
        let range = |quantity: &str, tested_mm| qualified::in_mm(ranges(), quantity, tested_mm);
        qualified::tests::no_two_rows_hold(ranges());
        qualified::tests::a_test_covers_itself(ranges(), 0.5);
        let span = |quantity, tested| range(quantity, tested).map(|(span, _)| span.band);
        assert_eq!(span("butt-deposit", 6.0), Some(Band::new(3.0, 12.0)));
        assert_eq!(span("butt-deposit", 6.5), Some(Band::at_least(6.0)));
        for row in groups() {
            assert!(row.covers.contains(&row.tested), "{row:?}");
        }
        assert_eq!(group("22.4").map(|row| row.covers.join(" ")).as_deref(), Some("21 22"));
        for row in positions() {
            assert!(row.covers.contains(&row.tested), "{row:?}");
            assert!(row.covers.iter().all(|code| crate::positions::get(code).is_some()), "{row:?}");
        }
    }
}
