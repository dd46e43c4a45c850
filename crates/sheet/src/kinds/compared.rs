//! Values beside the limits that they were held against: those of the handbook, and the ranges of test records.

use std::collections::HashMap;

use seamwright_check::codes;
use seamwright_check::rule::Comparison;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::source::steps;
use seamwright_page::block::{Block, Cell, Column, Row, Table};
use seamwright_page::words::label;

/// What was held against test records, and what against the handbook.
pub(super) fn parted(comparisons: &[Comparison]) -> (Vec<&Comparison>, Vec<&Comparison>) {
    let against = |check: &str| codes::compare::RULES.iter().any(|rule| rule.name == check);
    comparisons.iter().partition(|comparison| against(comparison.check))
}

/// Values beside their limits, each once, those outside first; a sentence where there are none.
pub(super) fn values(blocks: &mut Vec<Block>, comparisons: &[&Comparison], terms: Terms, without: &str) {
    if comparisons.is_empty() {
        blocks.push(Block::paragraph(without));
        return;
    }
    let lines = merged(comparisons);
    let rows = lines
        .into_iter()
        .map(|(comparison, within)| Row {
            cells: vec![
                Cell::text(place(&comparison.pointer, terms)),
                Cell::bold(comparison.stated.as_str()),
                Cell::text(comparison.limit.as_str()),
                Cell::text(comparison.source.line()),
                Cell::bold(if within { label::WITHIN } else { label::OUTSIDE }),
            ],
            marked: !within,
        })
        .collect();
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            Column::words(label::VARIABLE, 1.4),
            Column::words(label::STATED, 1.0),
            Column::words(label::LIMIT, 1.1),
            Column::words(label::SOURCE, 2.2),
            Column::words(label::RESULT, 0.6),
        ],
        rows,
    }));
}

/// Comparisons, each value against each limit once, those outside first.
pub(super) fn merged<'c>(comparisons: &[&'c Comparison]) -> Vec<(&'c Comparison, bool)> {
    // Two checks may hold a value against the two ends of one limit: it is within where both say so.
    let mut lines: Vec<(&Comparison, bool)> = Vec::new();
    let mut places: HashMap<(&str, &str, &str), usize> = HashMap::new();
    for comparison in comparisons {
        let same = (comparison.pointer.as_str(), comparison.limit.as_str(), comparison.stated.as_str());
        let place = *places.entry(same).or_insert_with(|| {
            lines.push((comparison, true));
            lines.len() - 1
        });
        if let Some((_, within)) = lines.get_mut(place) {
            *within &= comparison.within;
        }
    }
    // What lies outside comes first; the sort leaves the others as they stand.
    lines.sort_by_key(|(_, within)| *within);
    lines
}

/// A place in the words of the dictionary: `Current, run 2`, `Nozzle, process 141`, `Thickness, metal 1`.
pub(super) fn place(pointer: &str, terms: Terms) -> String {
    let term = variables::term(pointer, terms);
    let mut path = steps(pointer);
    let (section, entry) = (path.next().unwrap_or_default(), path.next());
    let number =
        |index: &str| index.parse::<usize>().map_or_else(|_| index.to_owned(), |index| (index + 1).to_string());
    match (section.as_str(), entry) {
        ("processes", Some(entry)) => label::TERM_PROCESS_ENTRY.fill(&[("term", term), ("entry", &entry)]),
        ("runs", Some(entry)) => {
            label::TERM_ENTRY_NUMBER_OF_THE_RUNS.fill(&[("term", term), ("number", &number(&entry).clone())])
        }
        ("parent_metals", Some(entry)) => match (path.next().as_deref(), path.next()) {
            // One row of the dictionary is for all elements.
            (Some("composition"), Some(element)) => label::TERM_ELEMENT_METAL_NUMBER.fill(&[
                ("term", term),
                ("element", &element),
                ("number", &number(&entry).clone()),
            ]),
            _ => label::TERM_METAL_NUMBER.fill(&[("term", term), ("number", &number(&entry).clone())]),
        },
        ("fillers", Some(entry)) => format!("{term}, {entry}"),
        _ => term.to_owned(),
    }
}
