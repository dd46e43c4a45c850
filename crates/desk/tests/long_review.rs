//! A review of many runs: what is found alike at all of them is told once, and a review that no one could answer is refused.

use std::path::Path;

use seamwright_desk::companions::Companions;
use seamwright_desk::files::{Disk, Input, Overlay};
use seamwright_desk::review::Review;
use seamwright_desk::sheets::{SheetRequest, Sheets};
use seamwright_handbook::variables::Terms;
use seamwright_page::Kind;
use seamwright_page::block::{Block, Table};

/// The starter with as many runs, each with a current of its own making.
fn with_runs(count: usize, current: impl Fn(usize) -> String) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures/lap-fillet-2-carbon-141.yaml");
    let text = std::fs::read_to_string(path).unwrap();
    let (head, rest) = text.split_once("\nruns:\n").unwrap();
    let (_, tail) = rest.split_once("\n\n").unwrap();
    let runs: String = (0..count)
        .map(|run| {
            let current = current(run);
            let rest = "voltage: 9-12 V, travel_speed: 130-200 mm/min";
            format!("  - {{run: {}, process: 141, current: {current}, {rest}}}\n", run + 1)
        })
        .collect();
    format!("{head}\nruns:\n{runs}\n{tail}")
}

/// The findings of a text, the review of it as data, and its review sheet.
fn reviewed(text: &str) -> (usize, Review, Sheets) {
    let disk = Disk::new("2026-06-01".parse().unwrap());
    let path = Path::new("long.yaml");
    let files = Overlay::new(&disk).with(path, text);
    let companions = Companions::none(&files);
    let (report, named) = companions.examine(Input::typed(path));
    let (loaded, outcome) = report.result.unwrap_or_else(|unread| panic!("{:?}", unread.faults));
    let request = SheetRequest { kinds: vec![Kind::Review], ..SheetRequest::default() };
    let sheets = companions.sheets(&request, &loaded, &outcome, &named);
    (outcome.findings.len(), Review::of(&loaded, &outcome, Terms::Iso).unwrap(), sheets)
}

fn tables(sheets: &Sheets) -> impl Iterator<Item = &Table> {
    sheets.made.iter().flat_map(|own| &own.sheet.blocks).filter_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    })
}

#[test]
fn a_finding_of_many_runs_is_one_row_that_names_them() {
    let (one, own, alone) = reviewed(&with_runs(1, |_| "300 A".to_owned()));
    let (many, review, sheets) = reviewed(&with_runs(600, |_| "300 A".to_owned()));
    assert!(many >= 600 && one < 30, "{one} and {many} findings");
    let rows = |sheets: &Sheets| tables(sheets).map(|table| table.rows.len()).sum::<usize>();
    // Runs that are alike say what one says, but for what only several can: that they are too many.
    assert!(review.findings.len() <= own.findings.len() + 3, "{} and {}", own.findings.len(), review.findings.len());
    assert!(rows(&sheets) <= rows(&alone) + 6, "{} and {} rows", rows(&alone), rows(&sheets));
    let named = review.findings.iter().find(|own| own.item.contains("Current, entries 1-600 of the runs"));
    let named = named.unwrap_or_else(|| panic!("{:#?}", review.findings));
    // The data say what the sheet says, under the same number: whoever answers one answers the other.
    let findings = tables(&sheets).find(|table| table.columns.iter().any(|own| own.heading == "Disposition"));
    let cells = &findings.unwrap().rows[named.number - 1].cells;
    assert_eq!((&cells[0].text, &cells[1].text), (&named.number.to_string(), &named.item));
    let csv = String::from_utf8(review.csv()).unwrap();
    assert!(csv.contains("\"Current, entries 1-600 of the runs\""), "{csv}");
    // What lies within its limits is told once, too.
    let said = sheets.made[0].sheet.blocks.iter().find_map(|block| match block {
        Block::Paragraph { text, .. } if text.contains("Travel speed, entries 1-600 of the runs") => Some(text),
        _ => None,
    });
    assert!(said.is_some_and(|text| text.len() < 20_000));
}

#[test]
fn runs_that_differ_are_told_apart() {
    let current = |run: usize| if run == 4 { "310 A".to_owned() } else { "300 A".to_owned() };
    let (_, review, _) = reviewed(&with_runs(9, current));
    let items: Vec<&str> = review.findings.iter().map(|own| own.item.as_str()).collect();
    assert!(items.contains(&"Current, entries 1-4, 6-9 of the runs"), "{items:#?}");
    assert!(items.contains(&"Current, entry 5 of the runs"), "{items:#?}");
}

#[test]
fn a_review_that_no_one_could_answer_is_refused_and_its_data_are_whole() {
    let (found, review, sheets) = reviewed(&with_runs(1100, |run| format!("{} A", 300 + run)));
    assert!(sheets.made.is_empty());
    let why = sheets.failures.iter().map(ToString::to_string).collect::<String>();
    assert!(why.contains("different findings are more than a review sheet of 1000 holds"), "{why}");
    assert!(found >= 1100 && review.findings.len() >= 1100);
}
