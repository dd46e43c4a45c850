//! Deposition efficiency and rate, operating factor, stub loss, and ratios for estimating cost.

use crate::band::Band;
use crate::covered_electrodes;
use crate::designation;
use crate::find;
use crate::processes;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(EFFICIENCY, efficiencies, "deposition-efficiency", EfficiencyRow);
table!(RATE, rates, "deposition-rate", RateRow);
table!(BY_SIZE, sizes, "deposition-by-size", SizeRow);
table!(COUNTS, counts, "electrode-counts", CountRow);
table!(OPERATING_FACTOR, operating_factors, "operating-factor", OperatingFactorRow);
table!(STUB_LOSS, stub_losses, "stub-loss", StubLossRow);
table!(RULES, rules, "cost-rules", Rule);
named!("cost-rules");

/// Share of the filler bought that ends in the weld.
#[derive(Debug, Clone, PartialEq)]
pub struct EfficiencyRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// The process or electrode in words.
    #[cfg_attr(false, key = "for")]
    pub label: &'static str,
    /// Shielding gas, where the row is for one.
    pub gas: Option<&'static str>,
    /// Whether the figure counts the stub that is thrown away.
    pub stub_included: Option<bool>,
    /// Length of the electrode in millimetres.
    pub electrode_length_mm: Option<f64>,
    /// Length of the stub in millimetres.
    pub stub_mm: Option<f64>,
    /// Efficiency in percent.
    pub efficiency_pct: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Mass laid in an hour of arc time.
#[derive(Debug, Clone, PartialEq)]
pub struct RateRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// The process or electrode in words.
    #[cfg_attr(false, key = "for")]
    pub label: &'static str,
    /// Rate in kilograms per hour.
    pub rate_kg_h: Band,
    /// What a shop estimates with, in kilograms per hour.
    pub usual_kg_h: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Mass laid in an hour of arc time with one size of electrode or wire at one current.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// AWS classes; any of the process where empty.
    #[cfg_attr(false, optional)]
    pub classes: &'static [&'static str],
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Current in amperes; any usual one where none is named.
    pub current_a: Option<f64>,
    /// Rate in pounds an hour, as printed.
    pub rate_lb_h: Band,
    /// Deposited mass over mass melted, in percent.
    pub efficiency_pct: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// How many covered electrodes of a size weigh a pound.
#[derive(Debug, Clone, PartialEq)]
pub struct CountRow {
    /// AWS classes.
    pub classes: &'static [&'static str],
    /// Diameter of the core wire in millimetres.
    pub diameter_mm: f64,
    /// Length in millimetres.
    pub length_mm: f64,
    /// Number in a pound.
    pub per_lb: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A deposition rate between the rows of [`by_size`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizeRate {
    /// Rate in kilograms per hour; a range where the row has one.
    pub rate_kg_h: Band,
    /// Deposited mass over mass melted, in percent, without the stub.
    pub efficiency_pct: Option<f64>,
    /// The row next to the current.
    pub row: &'static SizeRow,
}

/// Share of the working time in which the arc burns.
#[derive(Debug, Clone, PartialEq)]
pub struct OperatingFactorRow {
    /// ISO 4063 numbers; all where empty.
    #[cfg_attr(false, optional)]
    pub processes: &'static [&'static str],
    /// Degree of mechanization.
    pub mechanization: &'static str,
    /// Range in percent.
    pub arc_on_pct: Band,
    /// Figure to estimate with, in percent.
    pub arc_on_typical_pct: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Share of an electrode that is thrown away.
#[derive(Debug, Clone, PartialEq)]
pub struct StubLossRow {
    /// Length of the stub in millimetres.
    pub stub_mm: f64,
    /// Length of the electrode in millimetres.
    pub electrode_length_mm: f64,
    /// Loss in percent.
    pub loss_pct: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Kilograms in a pound, exactly (NIST SP 811).
const KG_LB: f64 = 0.453_592_37;

fn number(process: &str) -> &str {
    processes::get(process).map_or(process, |row| row.number)
}

fn names(own: &[&str], number: &str) -> bool {
    own.contains(&number)
}

/// Efficiencies of a process (number or letters), those read in a published page first.
pub fn efficiency(process: &str) -> Vec<&'static EfficiencyRow> {
    let number = number(process);
    efficiencies().iter().filter(|row| names(row.processes, number)).collect()
}

/// Deposition rates of a process (number or letters).
pub fn rate(process: &str) -> Vec<&'static RateRow> {
    let number = number(process);
    rates().iter().filter(|row| names(row.processes, number)).collect()
}

/// How far past the currents of its rows a rate is taken in proportion to the current.
const REACH: f64 = 1.5;

/// Deposition rate of a process (number or letters) by the class and diameter (mm) of its electrode or wire and the current (A).
///
/// Diameters within 5 % count as one. A covered electrode without rows has those of its covering: E8018-B2 those of E7018, a
/// stainless or nickel class those of its specification. Between two rows the rate is taken in proportion to the current; past
/// their ends it goes with the current, up to 1.5 times. Nothing where no row is near.
pub fn by_size(process: &str, class: &str, diameter_mm: f64, current_a: f64) -> Option<SizeRate> {
    let mut rows: Vec<&SizeRow> =
        of_size(sizes(), process, class, diameter_mm, |row| (row.processes, row.classes, row.diameter_mm));
    let scaled = |row: &'static SizeRow, by: f64| SizeRate {
        rate_kg_h: row.rate_lb_h.scaled(KG_LB).scaled(by),
        efficiency_pct: row.efficiency_pct,
        row,
    };
    if let Some(any) = rows.iter().find(|row| row.current_a.is_none()) {
        return Some(scaled(any, 1.0));
    }
    rows.sort_by(|a, b| a.current_a.unwrap_or_default().total_cmp(&b.current_a.unwrap_or_default()));
    let at = |row: &SizeRow| row.current_a.unwrap_or_default();
    let (first, last) = (*rows.first()?, *rows.last()?);
    if !(current_a.is_finite() && current_a >= at(first) / REACH && current_a <= at(last) * REACH) {
        return None;
    }
    if current_a <= at(first) {
        return Some(scaled(first, current_a / at(first)));
    }
    let Some(above) = rows.iter().position(|row| at(row) >= current_a) else {
        return Some(scaled(last, current_a / at(last)));
    };
    let (low, high) = (rows[above - 1], rows[above]);
    let share = (current_a - at(low)) / (at(high) - at(low));
    let between = |low: f64, high: f64| low + (high - low) * share;
    let rate = |of: fn(&Band) -> f64| between(of(&low.rate_lb_h), of(&high.rate_lb_h)) * KG_LB;
    Some(SizeRate {
        rate_kg_h: Band::new(rate(|range| range.low), rate(|range| range.high)),
        efficiency_pct: low.efficiency_pct.zip(high.efficiency_pct).map(|(low, high)| between(low, high)),
        row: if share < 0.5 { low } else { high },
    })
}

/// How many covered electrodes of a class and diameter (mm) weigh a kilogram, and the length (mm) that they have.
pub fn electrodes_per_kg(class: &str, diameter_mm: f64) -> Option<(f64, &'static CountRow)> {
    let process = processes::rows().iter().find(|row| row.covered_electrode())?;
    let covered = std::slice::from_ref(&process.number);
    let rows = of_size(counts(), process.number, class, diameter_mm, |row| (covered, row.classes, row.diameter_mm));
    let row = *rows.first()?;
    Some((row.per_lb / KG_LB, row))
}

/// The rows of a process, a class and a diameter: of the class itself, else of its like.
fn of_size<'r, R>(
    rows: &'static [R],
    process: &str,
    class: &str,
    diameter_mm: f64,
    parts: impl Fn(&'static R) -> (&'r [&'static str], &'r [&'static str], f64),
) -> Vec<&'static R> {
    let number = number(process);
    let known = covered_electrodes::get(class).map_or(class, |row| row.classification);
    let sized = || {
        rows.iter().filter(|row| {
            let (processes, _, diameter) = parts(row);
            names(processes, number) && find::same_size(diameter, diameter_mm)
        })
    };
    let own: Vec<_> = sized().filter(|row| parts(row).1.iter().any(|own| find::same(own, known))).collect();
    if !own.is_empty() {
        return own;
    }
    // A wire lays down what its diameter and current give, whatever its class.
    let covered = processes::get(number).is_some_and(processes::Row::covered_electrode);
    let kind = covered.then(|| kind(known)).flatten();
    sized().filter(|row| !covered || parts(row).1.iter().any(|own| kind.is_some() && self::kind(own) == kind)).collect()
}

/// The specification of a covered electrode, and of one for steel the two last digits, which name its covering.
fn kind(class: &str) -> Option<(&'static str, String)> {
    let read = designation::parse(class).ok()?;
    let digits: String = read.class.chars().skip(1).take_while(char::is_ascii_digit).collect();
    Some(match read.standard {
        "AWS A5.1" | "AWS A5.5" => ("AWS A5.1", digits.get(digits.len().checked_sub(2)?..)?.to_owned()),
        other => (other, String::new()),
    })
}

/// The operating factor of a process (number or letters) at a degree of mechanization, else of that degree with any process.
pub fn operating_factor(process: &str, mechanization: &str) -> Option<&'static OperatingFactorRow> {
    let number = number(process);
    let of = || operating_factors().iter().filter(|row| find::same(row.mechanization, mechanization));
    of().find(|row| names(row.processes, number)).or_else(|| of().find(|row| row.processes.is_empty()))
}

/// What a cored wire weighs of a solid one, %; nothing for a solid wire.
pub fn of_cored_wire(efficiency: &EfficiencyRow) -> Option<&'static Rule> {
    match efficiency.label {
        label if label.starts_with("metal cored") => Some(METAL_CORED_WIRE_MASS),
        label if label.starts_with("flux cored") => Some(CORED_WIRE_MASS),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_process_number_exists() {
        let numbers = efficiencies()
            .iter()
            .flat_map(|row| row.processes)
            .chain(rates().iter().flat_map(|row| row.processes))
            .chain(operating_factors().iter().flat_map(|row| row.processes));
        for number in numbers {
            assert!(processes::get(number).is_some(), "{number}");
        }
    }

    // ESAB, Filler Metal Data Handbook, worksheets of section 8: E7018 of 3/16 in at 250 A lays down 5.4 lb/h, 64 % of what is
    // bought with a 2 in stub of 14 in; E71T-1 of 1/16 in at 300 A lays down 10.2 lb/h.
    #[test]
    fn rates_by_size_agree_with_printed_worksheets() {
        let lb_h = |process, class, inches: f64, current| {
            by_size(process, class, inches * 25.4, current).map(|found| found.rate_kg_h.middle() / KG_LB)
        };
        let stick = by_size("SMAW", "E7018", 25.4 * 0.1875, 250.0).unwrap();
        assert!((stick.rate_kg_h.middle() / KG_LB - 5.4).abs() < 0.05, "{stick:?}");
        assert!((stick.efficiency_pct.unwrap() * 12.0 / 14.0 - 64.0).abs() < 0.5, "{stick:?}");
        assert!((lb_h("136", "E71T-1", 0.0625, 300.0).unwrap() - 10.2).abs() < 1e-6);
        // Another wire of the size, and a covered electrode of the same covering.
        assert_eq!(lb_h("136", "E81T1-Ni1", 0.0625, 300.0), lb_h("136", "E71T-1", 0.0625, 300.0));
        assert_eq!(lb_h("111", "E8018-B2", 0.125, 120.0), lb_h("111", "E7018", 0.125, 120.0));
        assert!((lb_h("111", "E7018", 0.125, 130.0).unwrap() - f64::midpoint(2.58, 2.74)).abs() < 1e-6);
        assert!(lb_h("111", "E316L-16", 0.125, 90.0).is_some());
        assert_eq!(lb_h("111", "E7018", 0.125, 500.0), None);
        assert_eq!(lb_h("111", "E7018", 0.4, 120.0), None);
        let (per_kg, row) = electrodes_per_kg("E7018-1", 3.2).unwrap();
        assert!((per_kg * KG_LB - 14.0).abs() < 1e-9 && (row.length_mm - 356.0).abs() < 1.0);
    }

    // The more current, the more metal.
    #[test]
    fn rates_by_size_rise_with_the_current() {
        for row in sizes() {
            let Some(current) = row.current_a else { continue };
            for class in row.classes.iter().copied().chain(["any"]) {
                let at = |current| by_size(row.processes[0], class, row.diameter_mm, current);
                if let (Some(low), Some(high)) = (at(current * 0.95), at(current * 1.05)) {
                    assert!(low.rate_kg_h.middle() < high.rate_kg_h.middle(), "{row:?}");
                }
            }
        }
    }

    #[test]
    fn shares_are_shares() {
        assert!(efficiencies().iter().all(|row| Band::new(1.0, 100.0).covers(row.efficiency_pct)));
        for row in operating_factors() {
            assert!(row.arc_on_typical_pct.is_none_or(|typical| row.arc_on_pct.contains(typical)), "{row:?}");
        }
    }

    // Stub loss is the stub over the whole length: 50 mm of 350 mm is 14 %.
    #[test]
    fn stub_loss_is_stub_over_length() {
        for row in stub_losses() {
            assert!((row.loss_pct - 100.0 * row.stub_mm / row.electrode_length_mm).abs() < 0.6, "{row:?}");
        }
    }

    #[test]
    fn lookups_take_numbers_and_letters() {
        assert_eq!(operating_factor("SMAW", "manual").unwrap().arc_on_typical_pct, Some(25.0));
        assert_eq!(operating_factor("111", "automatic").unwrap().arc_on_typical_pct, Some(75.0));
        assert!(!efficiency("135").is_empty() && !rate("GTAW").is_empty());
    }
}
