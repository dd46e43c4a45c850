//! ASME IX: variables by process, qualified ranges, P-, F- and A-Numbers, and what a welder test covers.
//!
//! The tables are remembered rather than read, row by row as their basis says: a job is under the edition of its contract.

use crate::band::Band;
use crate::find;
use crate::measure::Size;
use crate::processes;
use crate::qualified::{self, Category, Row as RangeRow};
use crate::rule::{Rule, Statement};
use crate::table::{Origin, named, table};

table!(CONTENTS, contents, "asme-ix-contents", crate::iso_15609_1::Row);
table!(VARIABLES, variables, "asme-ix-variables", VariableRow);
table!(RANGES, ranges, "asme-ix-ranges", RangeRow);
table!(RULES, rules, "asme-ix-rules", Rule);
named!("asme-ix-rules");
table!(STATEMENTS, statements, "asme-ix-statements", Statement);
table!(METAL_RULES, metal_rules, "asme-ix-metal-rules", MetalRuleRow);
table!(P_NUMBERS, p_numbers, "asme-ix-p-numbers", PNumberRow);
table!(WELDER_METALS, welder_metals, "asme-ix-welder-metals", WelderMetalRow);
table!(F_NUMBERS, f_numbers, "asme-ix-f-numbers", FNumberRow);
table!(A_NUMBERS, a_numbers, "asme-ix-a-numbers", ANumberRow);
table!(WELDER_POSITIONS, welder_positions, "asme-ix-welder-positions", WelderPositionRow);
table!(WELDER_F_NUMBERS, welder_f_numbers, "asme-ix-welder-f-numbers", WelderFNumberRow);

/// One variable of a group of processes.
#[derive(Debug, Clone, PartialEq)]
pub struct VariableRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Paragraph that defines the variable, such as `QW-404.4`.
    pub paragraph: &'static str,
    /// The variable in words.
    pub subject: &'static str,
    /// What a change means.
    pub category: Category,
    /// Keys of a procedure that state it; `settings` stands for processes and runs.
    #[cfg_attr(false, optional)]
    pub keys: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// What a coupon of one or two P-Numbers covers.
#[derive(Debug, Clone, PartialEq)]
pub struct PNumberRow {
    /// P-Number of the one side; `any` or `unassigned`.
    pub coupon: &'static str,
    /// P-Number of the other side; `same` or `other`.
    pub with: &'static str,
    /// P-Numbers of the one side that are covered; `same` is that of the coupon.
    pub first: &'static [&'static str],
    /// P-Numbers of the other side that are covered; `same` and `other` are those of the coupon.
    pub second: &'static [&'static str],
    /// The row in words.
    pub wording: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Metals for which a rule holds.
#[derive(Debug, Clone, PartialEq)]
pub struct MetalRuleRow {
    /// Paragraph of the variable, or name of the rule.
    pub rule: &'static str,
    /// P-Numbers for which it holds.
    pub p_numbers: &'static [&'static str],
    /// The metals in words.
    pub wording: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// P-Numbers that cover each other for welders.
#[derive(Debug, Clone, PartialEq)]
pub struct WelderMetalRow {
    /// P-Numbers of the set.
    pub p_numbers: &'static [&'static str],
    /// The set in words.
    pub wording: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A group of filler metals.
#[derive(Debug, Clone, PartialEq)]
pub struct FNumberRow {
    /// The group.
    pub f_number: u32,
    /// Last two digits of covered electrodes.
    #[cfg_attr(false, optional)]
    pub coverings: &'static [&'static str],
    /// Whether the row is for stainless electrodes.
    #[cfg_attr(false, optional)]
    pub austenitic: bool,
    /// Classes in words.
    pub classes: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A group of weld metal; shares in mass percent.
#[derive(Debug, Clone, PartialEq)]
pub struct ANumberRow {
    /// Kind of weld metal.
    pub deposit: &'static str,
    /// Carbon.
    pub carbon_pct: Band,
    /// Chromium.
    pub chromium_pct: Band,
    /// Molybdenum.
    pub molybdenum_pct: Band,
    /// Nickel.
    pub nickel_pct: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Positions that a welder test covers: `flat`, `horizontal`, `vertical`, `overhead`.
#[derive(Debug, Clone, PartialEq)]
pub struct WelderPositionRow {
    /// Product of the coupon: `plate` or `pipe`.
    pub product: &'static str,
    /// Positions of the test, all of them together.
    pub tested: &'static [&'static str],
    /// Groove welds in plate and in pipe over 610 mm.
    #[cfg_attr(false, optional)]
    pub groove_plate: &'static [&'static str],
    /// Groove welds in pipe of 73 to 610 mm.
    #[cfg_attr(false, optional)]
    pub groove_pipe: &'static [&'static str],
    /// Fillet welds.
    pub fillet: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// F-Numbers that a welder test covers.
#[derive(Debug, Clone, PartialEq)]
pub struct WelderFNumberRow {
    /// F-Numbers of the test.
    pub tested: &'static [u32],
    /// Whether the test had backing; either where absent.
    pub backing: Option<bool>,
    /// F-Numbers covered with backing.
    #[cfg_attr(false, optional)]
    pub covers_with_backing: &'static [u32],
    /// F-Numbers covered without backing.
    #[cfg_attr(false, optional)]
    pub covers_without_backing: &'static [u32],
    /// Whether only numbers up to the tested one count.
    #[cfg_attr(false, optional)]
    pub up_to_tested: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The variables of a process (number or letters).
pub fn variables_of(process: &str) -> Vec<&'static VariableRow> {
    let number = processes::get(process).map_or(process, |row| row.number);
    variables().iter().filter(|row| row.processes.contains(&number)).collect()
}

/// The row for the base metal range that a coupon qualifies, by its thickness and bend specimens (`transverse` or
/// `longitudinal`).
pub fn base_thickness(tested: Size, bends: &str) -> Option<&'static RangeRow> {
    qualified::holding(ranges(), "base-thickness", tested)
        .find(|row| row.bends.is_some_and(|own| find::same(own, bends)))
}

/// The row for the deposit range that a process qualifies, and the size that it multiplies: the process's own deposit, or
/// the coupon's thickness for a thick one.
pub fn deposit_thickness(deposit: Size, coupon: Size) -> Option<(Size, &'static RangeRow)> {
    let thin = qualified::holding(ranges(), "deposit-thickness", deposit).next();
    thin.map(|row| (deposit, row))
        .or_else(|| Some((coupon, qualified::holding(ranges(), "thick-deposit-by-base", coupon).next()?)))
}

/// The rows for a range of a welder test: `welder-deposit`, `welder-diameter` or `welder-fillet-thickness`, by the tested
/// value; a row with a condition in words comes after the one without.
pub fn welder_range(quantity: &str, tested: Size) -> Vec<&'static RangeRow> {
    qualified::holding(ranges(), quantity, tested).collect()
}

/// Whether a coupon between two P-Numbers covers a joint between two others, and the row that says so.
///
/// The order of the sides does not count. No row means not covered.
pub fn p_numbers_cover(coupon: (&str, &str), joint: (&str, &str)) -> Option<&'static PNumberRow> {
    let sides = [(coupon.0, coupon.1), (coupon.1, coupon.0)];
    let joints = [(joint.0, joint.1), (joint.1, joint.0)];
    let covers = |row: &PNumberRow, (one, other): (&str, &str), (first, second): (&str, &str)| {
        let named = |own: &str, number: &str| find::same(own, number) || own == "any";
        let paired = match row.with {
            "same" => find::same(one, other),
            "other" => !find::same(one, other),
            with => find::same(with, other),
        };
        let among = |list: &[&str], number: &str| {
            list.iter().any(|own| match *own {
                "same" => find::same(one, number),
                "other" => find::same(other, number),
                own => find::same(own, number),
            })
        };
        named(row.coupon, one) && paired && among(row.first, first) && among(row.second, second)
    };
    // `same` in the second list of an equal pair is the same number, so one sweep over both orders is enough.
    p_numbers()
        .iter()
        .filter(|row| row.coupon != "unassigned")
        .find(|row| sides.iter().any(|side| joints.iter().any(|joint| covers(row, *side, *joint))))
}

/// Whether a welder who tested on one P-Number may weld another, and the row that says so.
pub fn welder_metal_covers(tested: &str, welded: &str) -> Option<&'static WelderMetalRow> {
    let has = |row: &&WelderMetalRow, number: &str| row.p_numbers.iter().any(|own| find::same(own, number));
    welder_metals().iter().find(|row| has(row, tested) && has(row, welded))
}

/// The F-Number of a covered electrode by its last two digits, such as `18`, and whether it is stainless.
pub fn f_number(covering: &str, austenitic: bool) -> Option<&'static FNumberRow> {
    f_numbers().iter().find(|row| row.austenitic == austenitic && row.coverings.contains(&covering))
}

/// What a welder may weld after a test in these positions (`3G`, `4G` ...) on `plate` or `pipe`.
///
/// Of the rows whose positions were all tested, the one that asks for most of them comes first.
pub fn welder_positions_covered(product: &str, tested: &[&str]) -> Vec<&'static WelderPositionRow> {
    let all = |row: &&WelderPositionRow| {
        find::same(row.product, product) && row.tested.iter().all(|own| tested.iter().any(|test| find::same(own, test)))
    };
    let mut rows: Vec<&WelderPositionRow> = welder_positions().iter().filter(all).collect();
    rows.sort_by_key(|row| std::cmp::Reverse(row.tested.len()));
    rows
}

/// Whether a welder who tested with an F-Number may use another, with backing or without.
pub fn welder_f_number_covers(
    tested: u32,
    test_had_backing: bool,
    used: u32,
    with_backing: bool,
) -> Option<&'static WelderFNumberRow> {
    let rows = welder_f_numbers()
        .iter()
        .filter(|row| row.tested.contains(&tested) && row.backing.is_none_or(|backing| backing == test_had_backing));
    // The row for the tested number alone speaks before the general one.
    let own = rows.min_by_key(|row| row.tested.len())?;
    let covers = if with_backing { &own.covers_with_backing } else { &own.covers_without_backing };
    (covers.contains(&used) && (!own.up_to_tested || used <= tested)).then_some(own)
}

/// Every F-Number, in order.
pub fn f_number_groups() -> impl Iterator<Item = u32> {
    let mut numbers: Vec<u32> = f_numbers().iter().map(|row| row.f_number).collect();
    numbers.dedup();
    numbers.into_iter()
}

/// The metals to which a variable is limited, by its paragraph; nothing where it is for all.
pub fn metals_of(paragraph: &str) -> Option<&'static MetalRuleRow> {
    metal_rules().iter().find(|row| row.rule == paragraph)
}

/// Whether a rule holds for a P-Number, such as `dissimilar-uncapped-listed` or `heat-treatment-cap`.
pub fn holds_for(rule: &str, p_number: &str) -> bool {
    let rows = metal_rules().iter().filter(|row| row.rule == rule);
    rows.flat_map(|row| row.p_numbers).any(|own| find::same(own, p_number))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::sizes::{inches, mm};

    #[test]
    fn ranges_are_sound() {
        qualified::tests::no_two_rows_hold(ranges());
        let own: Vec<RangeRow> =
            ranges().iter().filter(|row| row.quantity != "thick-deposit-by-base").cloned().collect();
        qualified::tests::a_test_covers_itself(&own, 0.5);
    }

    // QW-451.1 (from memory): 10 mm qualifies 1.5 to 20 mm, 12 mm 5 to 24 mm, 38 mm 5 to 200 mm.
    #[test]
    fn coupons_qualify_the_range_of_the_table() {
        let span = |tested| {
            let span = base_thickness(mm(tested), "transverse").map(|row| row.span(mm(tested)));
            span.map(|span| span.band)
        };
        assert_eq!(span(10.0), Some(Band::new(1.5, 20.0)));
        assert_eq!(span(12.0), Some(Band::new(5.0, 24.0)));
        assert_eq!(span(38.0), Some(Band::new(5.0, 200.0)));
        assert_eq!(span(1.0), Some(Band::new(1.0, 2.0)));
    }

    // QW-451.1 note (from memory): a deposit below 19 mm covers twice itself even in a thick coupon.
    #[test]
    fn a_thin_deposit_in_a_thick_coupon_covers_twice_itself() {
        let high = |deposit, coupon| {
            let (size, row) = deposit_thickness(deposit, coupon).unwrap();
            row.span(size).band.high_end()
        };
        assert_eq!(high(mm(6.0), mm(40.0)), Some(12.0));
        assert_eq!(high(mm(20.0), mm(40.0)), Some(200.0));
        assert_eq!(high(inches("3/4"), inches("1-1/2")), Some(8.0));
    }

    // QW-451.1 and QW-452.1(b) in inches (from memory): 3/8 in from 1/16 to 3/4; 1-1/2 in up to 8; 6 in too; a welder's
    // deposit of 1/2 in with three layers has no limit.
    #[test]
    fn coupons_in_inches_have_the_bounds_in_inches() {
        let span = |text| {
            let span = base_thickness(inches(text), "transverse").unwrap().span(inches(text));
            (span.band.low, span.band.high, span.unit)
        };
        assert_eq!(span("3/8"), (0.0625, 0.75, "in"));
        assert_eq!(span("1-1/2"), (0.1875, 8.0, "in"));
        assert_eq!(span("6"), (0.1875, 8.0, "in"));
        let rows = welder_range("welder-deposit", inches("1/2"));
        assert!(rows.iter().any(|row| row.condition == Some("at least three layers")));
        let diameter = welder_range("welder-diameter", inches("2-7/8"))[0];
        assert_eq!(diameter.span(inches("2-7/8")).band.low_end(), Some(1.0));
        let thin = IMPACT_THIN;
        assert!(!thin.below(inches("1/4")) && thin.below(inches("3/16")) && !thin.below(mm(6.0)));
    }

    // QW-424.1: 4 to 4 covers 4 to 4, 3 or 1; one P-Number to another covers those two.
    #[test]
    fn p_numbers_cover_what_the_table_says() {
        let covers = |coupon, joint| p_numbers_cover(coupon, joint).is_some();
        assert!(covers(("1", "1"), ("1", "1")) && !covers(("1", "1"), ("1", "3")));
        assert!(covers(("1", "8"), ("8", "1")) && !covers(("1", "8"), ("8", "8")));
        assert!(covers(("4", "4"), ("1", "4")) && !covers(("4", "4"), ("3", "3")));
        assert!(covers(("15E", "15E"), ("5B", "15E")) && covers(("8", "15E"), ("5B", "8")));
        assert!(covers(("5A", "1"), ("3", "5A")) && !covers(("4", "1"), ("4", "4")));
    }

    // QW-433: F-3 without backing covers F-1 to F-3 with backing, and F-3 without.
    #[test]
    fn welders_may_use_what_the_test_covers() {
        assert!(
            welder_f_number_covers(3, false, 2, true).is_some() && welder_f_number_covers(3, false, 2, false).is_none()
        );
        assert!(
            welder_f_number_covers(5, true, 4, true).is_none() && welder_f_number_covers(4, true, 3, true).is_some()
        );
        assert!(welder_f_number_covers(6, false, 6, false).is_some());
        // QW-433 (from memory): F-4 without backing covers F-1 to F-4 with, F-4 without; F-34 goes with the nickel fillers.
        assert!(
            welder_f_number_covers(4, false, 4, false).is_some() && welder_f_number_covers(4, false, 2, true).is_some()
        );
        assert!(
            welder_f_number_covers(4, false, 3, false).is_none()
                && welder_f_number_covers(1, false, 1, false).is_some()
        );
        assert!(
            welder_f_number_covers(23, false, 21, false).is_some()
                && welder_f_number_covers(31, true, 33, true).is_none()
        );
        assert!(welder_f_number_covers(43, false, 34, false).is_some() && f_number_groups().any(|number| number == 61));
        assert!(welder_metal_covers("1", "8").is_some() && welder_metal_covers("1", "51").is_none());
        let overhead = welder_positions_covered("plate", &["3G", "4g"]);
        assert_eq!(overhead[0].fillet.len(), 4);
        assert_eq!(f_number("18", false).unwrap().f_number, 4);
        assert_eq!(f_number("16", true).unwrap().f_number, 5);
    }

    #[test]
    fn every_process_of_a_variable_exists_and_paragraphs_are_unique() {
        for row in variables() {
            assert!(row.processes.iter().all(|number| processes::get(number).is_some()), "{}", row.paragraph);
        }
        for process in ["SMAW", "SAW", "GMAW", "FCAW", "GTAW"] {
            let mut paragraphs: Vec<&str> = variables_of(process).iter().map(|row| row.paragraph).collect();
            let count = paragraphs.len();
            assert!(count > 30, "{process}");
            paragraphs.sort_unstable();
            paragraphs.dedup();
            assert_eq!(paragraphs.len(), count, "{process}");
        }
    }
}
