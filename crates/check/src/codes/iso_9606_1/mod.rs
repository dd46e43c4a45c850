//! ISO 9606-1: what the test of a welder of steel covers.

use seamwright_handbook::{filler_classes, find, iso_9606_1 as iso};
use seamwright_model::shop::WelderTest;
use seamwright_model::stated::Date;

use crate::codes::code::{Code, Weld};
use crate::codes::iso_9606::{Covered, Part, plate_not_covered};
use crate::codes::range::Qualified;
use crate::codes::summary::{ProcessSummary, Summary};
use crate::codes::welders::test::process_number;
use crate::codes::words::{clause, owned};

/// The code.
pub(super) struct Iso9606;

const PART: Part = Part {
    processes,
    groove_covers: &["groove"],
    ranges: iso::ranges,
    rules: iso::rules,
    positions,
    source: || iso::fillers().first().map(|row| row.origin.source_ref()),
    clauses: ["5.2", "5.4", "Table 12"],
};

impl Code for Iso9606 {
    fn word(&self) -> &'static str {
        "iso-9606-1"
    }

    fn welder(&self, test: &WelderTest) -> Vec<Qualified> {
        PART.ranges(test, fillers(test).into_iter().chain(transfer(test)))
    }

    fn lapses(&self, test: &WelderTest) -> Vec<(Date, &'static str)> {
        PART.lapses(test)
    }

    fn speaks_of(&self, variable: &str, weld: Weld) -> bool {
        variable != "base_metal_thickness" || weld.fillet
    }

    fn not_covered(&self, range: &Qualified, summary: &Summary<'_>, process: &ProcessSummary<'_>) -> Vec<String> {
        let (limit, reference) = (range.bounds.text(), &range.reference);
        match range.variable {
            "transfer_mode" => {
                let outside = process.transfer.iter().filter(|mode| !range.has(&mode.stated));
                outside.map(|mode| format!("{} transfer, covered are {limit} ({reference})", mode.stated)).collect()
            }
            "filler_group" => {
                let outside = process.fillers.iter().filter_map(|filler| {
                    let group = filler_group(filler.value?)?;
                    (!range.has(group))
                        .then(|| format!("filler {} is {group}, covered are {limit} ({reference})", filler.stated))
                });
                outside.collect()
            }
            _ => plate_not_covered(range, summary),
        }
    }
}

/// The filler groups that a test covers.
fn fillers(test: &WelderTest) -> Option<Qualified> {
    let by_class = || filler_group(filler_classes::find(test.filler.as_deref()?)?);
    let group = test.filler_group.as_deref().or_else(by_class)?;
    let row = iso::fillers().iter().find(|row| find::same(row.tested, group))?;
    let range =
        Qualified::set("filler_group", &clause(&row.origin), row.covers.iter().copied(), row.origin.source_ref());
    Some(range.tested(row.tested.to_owned()))
}

/// The modes of transfer that a test covers.
fn transfer(test: &WelderTest) -> Option<Qualified> {
    let mode = test.transfer_mode?;
    let row = iso::transfer(mode.as_str())?;
    let range =
        Qualified::set("transfer_mode", &clause(&row.origin), row.covers.iter().copied(), row.origin.source_ref());
    Some(range.tested(mode.to_string()))
}

/// What a test in a position covers.
fn positions(weld: &str, tested: &str) -> Vec<Covered> {
    let rows = iso::positions().iter().filter(|row| row.weld == weld && row.tested == tested);
    rows.map(|row| (row.covers, &row.origin)).collect()
}

/// The processes that a test covers.
fn processes(tested: &str) -> Vec<String> {
    let own = process_number(tested);
    iso::processes(&own).map_or_else(|| vec![own.clone()], |row| owned(row.covers))
}

/// Filler group of ISO 9606-1 of a class, by the family that it is meant for; the table has the families.
fn filler_group(row: &filler_classes::Row) -> Option<&'static str> {
    iso::fillers()
        .iter()
        .find(|own| own.families.iter().any(|family| row.families.first() == Some(family)))
        .map(|own| own.tested)
}
