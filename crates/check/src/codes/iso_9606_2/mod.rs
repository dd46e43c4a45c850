//! ISO 9606-2: what the test of a welder of aluminium covers.

use seamwright_handbook::{base_metals, iso_9606_2 as iso};
use seamwright_model::shop::WelderTest;
use seamwright_model::stated::Date;

use crate::codes::code::{Code, Weld};
use crate::codes::iso_9606::{Covered, Part, plate_not_covered};
use crate::codes::iso_15614::group;
use crate::codes::range::Qualified;
use crate::codes::summary::{ProcessSummary, Summary};
use crate::codes::welders::test::process_number;
use crate::codes::words::clause;

/// The code.
pub(super) struct Iso9606Aluminium;

const PART: Part = Part {
    processes: |tested| vec![process_number(tested)],
    groove_covers: &["groove", "fillet"],
    ranges: iso::ranges,
    rules: iso::rules,
    positions,
    source: || iso::groups().first().map(|row| row.origin.source_ref()),
    clauses: ["5.2", "5.4", "Table 7"],
};

impl Code for Iso9606Aluminium {
    fn word(&self) -> &'static str {
        "iso-9606-2"
    }

    fn welder(&self, test: &WelderTest) -> Vec<Qualified> {
        PART.ranges(test, metals(test))
    }

    fn lapses(&self, test: &WelderTest) -> Vec<(Date, &'static str)> {
        PART.lapses(test)
    }

    fn speaks_of(&self, variable: &str, weld: Weld) -> bool {
        variable != "base_metal_thickness" || weld.fillet
    }

    fn not_covered(&self, range: &Qualified, summary: &Summary<'_>, _process: &ProcessSummary<'_>) -> Vec<String> {
        if range.variable != "metal_group" {
            return plate_not_covered(range, summary);
        }
        let outside = summary.view.metals.iter().filter_map(|metal| {
            let own = group(metal)?;
            let whole = own.split_once('.').map_or(own, |(whole, _)| whole);
            let (name, limit) = (&metal.stated.specification, range.bounds.text());
            (!range.has(whole)).then(|| format!("{name} is of group {own}, covered are {limit} ({})", range.reference))
        });
        outside.collect()
    }
}

/// The groups of metal that a test covers.
fn metals(test: &WelderTest) -> Option<Qualified> {
    let metal = base_metals::find(test.metal.as_deref()?)?;
    let row = iso::group(metal.iso_group?)?;
    let range =
        Qualified::set("metal_group", &clause(&row.origin), row.covers.iter().copied(), row.origin.source_ref());
    Some(range.tested(metal.specification.to_owned()))
}

/// What a test in a position covers.
fn positions(weld: &str, tested: &str) -> Vec<Covered> {
    let rows = iso::positions().iter().filter(|row| row.weld == weld && row.tested == tested);
    rows.map(|row| (row.covers, &row.origin)).collect()
}
