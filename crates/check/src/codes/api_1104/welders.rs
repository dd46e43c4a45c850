//! API 1104 clause 6, single qualification: process, direction, filler group, diameter and wall groups, positions, backing.

use seamwright_handbook::api_1104::{self as tables};
use seamwright_handbook::{Origin, positions};
use seamwright_model::procedure::Progression;
use seamwright_model::shop::WelderTest;

use crate::codes::range::Qualified;
use crate::codes::summary::{ProcessSummary, Summary};
use crate::codes::welders::test::{aws_codes, process_number, size};
use crate::codes::words::clause;

/// What a test covers.
pub(super) fn ranges(test: &WelderTest) -> Vec<Qualified> {
    let mut ranges = Vec::new();
    let set = |variable, origin: &Origin, words: Vec<String>, tested: &str| {
        Qualified::set(variable, &clause(origin), words, origin.source_ref()).tested(tested)
    };
    let codes = aws_codes(test, true);
    let rows: Vec<_> = codes.iter().filter_map(|code| tables::welder_position(code)).collect();
    let Some(first) = tables::welder_positions().first() else { return ranges };
    ranges.push(set("process", &first.origin, vec![process_number(&test.process)], &test.process));
    let filler = test.filler.as_deref().and_then(tables::filler);
    let group = filler.or_else(|| {
        let stated = test.filler_group.as_deref()?;
        let digits: String = stated.chars().filter(char::is_ascii_digit).collect();
        tables::fillers().iter().find(|row| row.group == digits)
    });
    if let Some(row) = group {
        let words = row.covers.iter().map(|own| format!("group {own}")).collect();
        ranges.push(set("pipeline_filler_group", &row.origin, words, &format!("group {}", row.group)));
    }
    for (quantity, variable, value) in [
        ("outside-diameter", "outside_diameter", test.outside_diameter.as_ref()),
        ("wall", "base_metal_thickness", test.thickness.as_ref().or(test.deposit_thickness.as_ref())),
    ] {
        let Some((size, row)) = size(value).and_then(|own| Some((own, tables::group(quantity, own)?))) else {
            continue;
        };
        let (own, other) = (row.span(size.is_customary()), row.span(!size.is_customary()));
        let range = Qualified::sizes(variable, &clause(&row.origin), own, other, row.origin.source_ref());
        ranges.push(range.excluding(row.exclusive()).tested(size.text()));
    }
    let mut words: Vec<String> = Vec::new();
    for word in ["flat", "horizontal", "vertical", "overhead"] {
        if rows.iter().any(|row| row.covers.contains(&word)) {
            words.push(word.to_owned());
        }
    }
    if let (false, Some(row)) = (words.is_empty(), rows.first()) {
        ranges.push(set("position", &row.origin, words, &codes.join(", ")).note("butt welds of pipe"));
        let mut turns: Vec<String> = rows.iter().flat_map(|row| row.turns).map(|own| (*own).to_owned()).collect();
        turns.sort();
        turns.dedup();
        ranges.push(set("pipe_position", &row.origin, turns, &codes.join(", ")));
    }
    let vertical = codes.iter().filter_map(|code| positions::get(code)).any(|row| row.vertical);
    if let (true, Some(way)) = (vertical, test.progression) {
        let word = if way == Progression::Downward { "downward" } else { "upward" };
        ranges.push(set("progression", &first.origin, vec![word.to_owned()], word));
    }
    if let Some(backing) = test.backing {
        let words: &[&str] = if backing.0 { &["with backing"] } else { &["with backing", "without backing"] };
        let words = words.iter().map(ToString::to_string).collect();
        let tested = if backing.0 { "with backing" } else { "without backing" };
        ranges.push(set("backing", &first.origin, words, tested));
    }
    ranges
}

/// What a range does not cover of a process.
pub(super) fn not_covered(range: &Qualified, summary: &Summary<'_>, process: &ProcessSummary<'_>) -> Vec<String> {
    let (limit, reference) = (range.bounds.text(), &range.reference);
    match range.variable {
        "pipeline_filler_group" => {
            let outside = process.fillers.iter().filter_map(|filler| {
                let row = tables::filler(&filler.stated);
                let group = row.map_or_else(|| "in no group".to_owned(), |row| format!("group {}", row.group));
                (!range.has(&group))
                    .then(|| format!("filler {} is {group}, covered are {limit} ({reference})", filler.stated))
            });
            outside.collect()
        }
        "pipe_position" => {
            let outside = summary.positions.iter().filter_map(|position| {
                let turning = super::designs::turning(positions::get(&position.value)?);
                (!range.has(turning))
                    .then(|| format!("position {} is {turning}, the test was {limit} ({reference})", position.stated))
            });
            outside.collect()
        }
        _ => Vec::new(),
    }
}
