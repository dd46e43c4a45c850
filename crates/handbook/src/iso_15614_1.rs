//! ISO 15614-1: ranges that a procedure test qualifies, figures and rules; groups of metals of ISO/TR 15608.

use crate::find;
use crate::measure::Size;
use crate::qualified::{self, Row as RangeRow, Span, Variable};
use crate::rule::{Rule, Statement};
use crate::table::{Origin, table};

table!(RANGES, ranges, "iso-15614-1-ranges", RangeRow);
table!(RULES, rules, "iso-15614-1-rules", Rule);
table!(STATEMENTS, statements, "iso-15614-1-statements", Statement);
table!(COVERED_GROUPS, covered_groups, "iso-15614-1-groups", CoveredGroupsRow);
table!(GROUPS, groups, "iso-15608-groups", GroupRow);
table!(VARIABLES, variables, "iso-15614-1-variables", Variable);

/// What a test within a group covers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Covers {
    /// Metals of the group with equal or lower specified yield strength.
    EqualOrLowerYield,
    /// The same subgroup and the lower ones of the group.
    SameAndLowerSubgroups,
    /// The same subgroup only.
    SameSubgroup,
}

/// The rule for a set of groups.
#[derive(Debug, Clone, PartialEq)]
pub struct CoveredGroupsRow {
    /// Groups of ISO/TR 15608.
    pub groups: &'static [&'static str],
    /// What a test covers.
    pub covers: Covers,
    /// The rule in words.
    pub wording: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A group of metals.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupRow {
    /// Group or subgroup, such as `8.1`.
    pub group: &'static str,
    /// What belongs to it: strength in megapascals, composition in mass percent.
    pub definition: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The edition, `2004` or `2017`, and the level, `1` or `2`; the edition of 2004 has no levels.
pub type Issue = (&'static str, &'static str);

/// The range that a test qualifies, with the row that says so.
///
/// `quantity` is `butt-thickness`, `fillet-thickness`, `fillet-throat` or `outside-diameter`; the tested value is in millimetres;
/// `single_run` tells a single run from several. Nothing comes back where the table has no row, as for a single run in thick
/// metal.
pub fn range(
    quantity: &str,
    (edition, level): Issue,
    tested_mm: f64,
    single_run: bool,
) -> Option<(Span, &'static RangeRow)> {
    let runs = if single_run { "single" } else { "multiple" };
    // The standard prints millimetres only.
    let tested = Size::from_mm(tested_mm)?;
    qualified::holding(ranges(), quantity, tested)
        .filter(|row| row.edition == Some(edition) && row.level.is_none_or(|own| own == level))
        .find(|row| row.runs.is_none_or(|own| own == runs))
        .map(|row| (row.span(tested), row))
}

/// The variable with this name.
pub fn variable(name: &str) -> Option<&'static Variable> {
    find::by_name(variables(), name, |row| [row.variable])
}

/// The rule on what a test in a group or subgroup covers.
pub fn covered_by(group: &str) -> Option<&'static CoveredGroupsRow> {
    let whole = group.split('.').next()?;
    covered_groups().iter().find(|row| row.groups.contains(&whole))
}

/// The group or subgroup with this number.
pub fn group(number: &str) -> Option<&'static GroupRow> {
    find::by_name(groups(), number, |row| [row.group])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::band::Band;

    #[test]
    fn ranges_are_sound() {
        qualified::tests::no_two_rows_hold(ranges());
        let own: Vec<RangeRow> =
            ranges().iter().filter(|row| !row.quantity.starts_with("fillet-thr")).cloned().collect();
        qualified::tests::a_test_covers_itself(&own, 1.0);
    }

    // ISO 15614-1:2004 table 5 (from memory): several runs, 10 mm qualifies 3 to 20 mm; a single run 5 to 13 mm.
    // DNV-OS-C401:2014 has the same single-run factors up to 3 mm and from 12 to 100 mm.
    #[test]
    fn tests_qualify_the_range_of_the_table() {
        let span = |tested, single| range("butt-thickness", ("2004", "2"), tested, single).map(|(span, _)| span.band);
        assert_eq!(span(10.0, false), Some(Band::new(3.0, 20.0)));
        assert_eq!(span(10.0, true), Some(Band::new(5.0, 13.0)));
        assert_eq!(span(4.0, true).map(|span| span.low), Some(3.0));
        assert_eq!(span(120.0, true), None);
        // ISO 15614-1:2017 Table 8 (from memory): fillets up to 3 mm cover 0.7 to 2 t, from 30 mm 5 mm and up.
        let fillet = |tested| range("fillet-thickness", ("2017", "2"), tested, false).map(|(span, _)| span.band);
        assert_eq!(fillet(2.0), Some(Band::new(1.4, 4.0)));
        assert_eq!(fillet(30.0), Some(Band::at_least(5.0)));
        // ISO 15614-1:2017 level 1 (from memory), both sides of each bound of the tested thickness.
        let first = |tested| range("butt-thickness", ("2017", "1"), tested, false).map(|(span, _)| span.band);
        assert_eq!(first(1.4), Some(Band::new(1.4, 2.8)));
        assert_eq!(first(10.0), Some(Band::new(1.5, 20.0)));
        assert_eq!(first(10.5), Some(Band::new(5.0, 21.0)));
        assert_eq!(first(39.0), Some(Band::new(5.0, 78.0)));
        assert_eq!(first(40.0), Some(Band::new(5.0, 200.0)));
        assert_eq!(first(150.0), Some(Band::new(5.0, 199.5)));
        assert_eq!(
            range("outside-diameter", ("2004", "2"), 60.0, false).unwrap().0,
            Span { band: Band::at_least(30.0), unit: "mm" }
        );
    }

    #[test]
    fn groups_and_their_rules_are_found() {
        assert_eq!(covered_by("8.1").unwrap().covers, Covers::SameAndLowerSubgroups);
        assert_eq!(covered_by("10.2").unwrap().covers, Covers::SameSubgroup);
        assert!(group("1.2").unwrap().definition.contains("360"));
        for row in crate::metal_families::rows() {
            for number in row.groups {
                assert!(group(number).is_some() || *number == "62", "{number}");
            }
        }
    }
}
