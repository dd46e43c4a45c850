//! ISO 9606-1: what a welder test covers.

use crate::qualified::Row as RangeRow;
use crate::rule::Rule;
use crate::table::{Origin, table};

table!(PROCESSES, process_rows, "iso-9606-1-processes", ProcessRow);
table!(RANGES, ranges, "iso-9606-1-ranges", RangeRow);
table!(RULES, rules, "iso-9606-1-rules", Rule);
table!(FILLERS, fillers, "iso-9606-1-fillers", FillerRow);
table!(POSITIONS, positions, "iso-9606-1-positions", PositionRow);
table!(TRANSFERS, transfers, "iso-9606-1-transfer", TransferRow);

/// Modes of transfer that a test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct TransferRow {
    /// Modes of the test.
    pub tested: &'static [&'static str],
    /// Modes covered.
    pub covers: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// The modes of transfer that a test with a mode covers.
pub fn transfer(tested: &str) -> Option<&'static TransferRow> {
    transfers().iter().find(|row| row.tested.contains(&tested))
}

/// Processes that a welder test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct ProcessRow {
    /// ISO 4063 numbers of the test.
    pub tested: &'static [&'static str],
    /// ISO 4063 numbers covered.
    pub covers: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// The processes that a test with a process (ISO 4063 number) covers; nothing where it covers itself alone.
pub fn processes(tested: &str) -> Option<&'static ProcessRow> {
    process_rows().iter().find(|row| row.tested.contains(&tested))
}

/// Filler groups that a test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct FillerRow {
    /// Group of the test, such as `FM1`.
    pub tested: &'static str,
    /// Groups covered.
    pub covers: &'static [&'static str],
    /// Families of metal whose fillers belong to the group.
    #[cfg_attr(false, optional)]
    pub families: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// Positions that a test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct PositionRow {
    /// `butt` or `fillet`.
    pub weld: &'static str,
    /// Position of the test.
    pub tested: &'static str,
    /// `plate` or `pipe`; either where absent.
    pub product: Option<&'static str>,
    /// Positions covered.
    pub covers: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::band::Band;
    use crate::qualified::{self, Span};

    #[test]
    fn ranges_are_sound() {
        qualified::tests::no_two_rows_hold(ranges());
        qualified::tests::a_test_covers_itself(ranges(), 0.5);
    }

    // ISO 9606-1:2012 (from memory): s of 1 mm covers 1 to 3 mm, 8 mm covers 3 to 16 mm; FM3 covers FM1; PF covers PA.
    #[test]
    fn tests_cover_what_the_tables_say() {
        let range = |quantity: &str, tested_mm| qualified::in_mm(ranges(), quantity, tested_mm);
        assert_eq!(range("butt-deposit", 1.0).unwrap().0, Span { band: Band::new(1.0, 3.0), unit: "mm" });
        assert_eq!(range("butt-deposit", 8.0).unwrap().0, Span { band: Band::new(3.0, 16.0), unit: "mm" });
        let filler = |tested: &str| fillers().iter().find(|row| row.tested == tested).unwrap().covers;
        assert!(filler("FM3").contains(&"FM1") && !filler("FM1").contains(&"FM3"));
        let upwards = positions().iter().find(|row| (row.weld, row.tested) == ("butt", "PF")).unwrap().covers;
        assert!(upwards.contains(&"PA") && !upwards.contains(&"PC"));
    }

    #[test]
    fn positions_exist_and_cover_themselves() {
        for row in positions() {
            assert!(row.covers.contains(&row.tested), "{row:?}");
            assert!(row.covers.iter().all(|code| crate::positions::get(code).is_some()), "{row:?}");
        }
    }
}
