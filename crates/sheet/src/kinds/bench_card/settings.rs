//! The table of settings in large type.

use seamwright_model::procedure::{Key, keys};
use seamwright_model::quantity::{Quantity, Range};
use seamwright_model::stated::{NONE, Stated, Text};
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Cell, Column, Row, Table, Way};
use seamwright_weld::{RunView, View};

use crate::kinds::columns::{common_unit, setting_cell};
use crate::kinds::words::process_name;
use crate::kinds::{joined, print as said, setup, sold, word};

/// More rows than these may stand in the size of text, so that all of them fit the page.
const MOST_ROWS: usize = 8;

/// More rows than these take a second page.
const MOST_ROWS_OF_A_PAGE: usize = 40;

/// What a row shows of its runs.
const KEYS: [&str; 6] = [
    keys::CURRENT.of_process,
    keys::VOLTAGE.of_process,
    keys::WIRE_FEED_SPEED.of_process,
    keys::TRAVEL_SPEED.of_process,
    keys::POLARITY.of_process,
    keys::FILLER.of_process,
];

/// Runs that stand in one row.
type Group<'v, 'd> = Vec<&'v RunView<'d>>;

/// The runs in rows: those with equal settings together, and if that leaves too many rows, also those that do not follow
/// each other. No row has a setting that is not that of each of its runs.
fn groups<'v, 'd>(view: &'v View<'d>, options: SheetOptions) -> Vec<Group<'v, 'd>> {
    let equal = |run: &RunView<'d>| {
        format!("{:?}{:?}{}{}", when(run), run.run.side, run.number(), cells(view, run, options).join("|"))
    };
    let adjacent = gather(view, &equal, true);
    if adjacent.len() <= MOST_ROWS { adjacent } else { gather(view, &equal, false) }
}

/// Whether the settings take more rows than one page has room for beside all else.
pub(super) fn is_long(view: &View<'_>, options: SheetOptions) -> bool {
    groups(view, options).len() > MOST_ROWS_OF_A_PAGE
}

/// What its settings are for, where they are not for all of the weld.
fn when<'d>(run: &RunView<'d>) -> (&'d [Text], Option<&'d str>) {
    (&run.run.positions, run.run.condition.as_deref())
}

fn gather<'v, 'd>(view: &'v View<'d>, key: &dyn Fn(&RunView<'d>) -> String, adjacent: bool) -> Vec<Group<'v, 'd>> {
    let mut groups: Vec<(String, Group<'v, 'd>)> = Vec::new();
    for run in &view.runs {
        let name = key(run);
        let last = groups.len().saturating_sub(1);
        let found = groups.iter_mut().enumerate().find(|(at, (other, _))| *other == name && (!adjacent || *at == last));
        match found {
            Some((_, (_, group))) => group.push(run),
            None => groups.push((name, vec![run])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

/// Current, voltage, wire feed, travel speed, polarity and filler of a run.
fn cells(view: &View<'_>, run: &RunView<'_>, options: SheetOptions) -> [String; 6] {
    let filler = run.filler(view.procedure).map_or_else(
        || options.word(NONE).into_owned(),
        |(_, filler)| joined([Some(filler.designation.to_string()), sold(filler.diameter.as_ref(), options)]),
    );
    let polarity = run.setting(&keys::POLARITY).and_then(|at| word(Some(at.value)));
    [
        of(run, options, &keys::CURRENT),
        of(run, options, &keys::VOLTAGE),
        of(run, options, &keys::WIRE_FEED_SPEED),
        of(run, options, &keys::TRAVEL_SPEED),
        polarity.map(|own| options.word(&own).into_owned()).unwrap_or_default(),
        filler,
    ]
}

/// A setting of a run as it is spelled.
fn of<Q: Quantity>(run: &RunView<'_>, options: SheetOptions, key: &Key<Stated<Range<Q>>>) -> String {
    run.value(key).map(|at| said(at.value, options)).unwrap_or_default()
}

/// The numbers of the runs of a group: `2–8, 11`.
fn numbers(group: &[&RunView<'_>]) -> String {
    let mut spans: Vec<(u32, u32)> = Vec::new();
    for run in group {
        let (first, last) = run.numbers;
        match spans.last_mut() {
            Some(span) if first <= span.1.saturating_add(1) && first >= span.0 => span.1 = span.1.max(last),
            _ => spans.push((first, last)),
        }
    }
    let open = |last: u32| group.iter().any(|run| run.open && run.numbers.1 == last);
    let texts: Vec<String> = spans
        .iter()
        .map(|(first, last)| match (first == last, open(*last)) {
            (_, true) => format!("{first}–n"),
            (true, false) => first.to_string(),
            (false, false) => format!("{first}–{last}"),
        })
        .collect();
    texts.join(", ")
}

/// Adds the table.
pub(super) fn settings(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    if view.runs.is_empty() {
        return;
    }
    let groups = groups(view, options);
    let several = setup::setups(view).len() > 1;
    let by_position = groups.iter().flatten().any(|run| !run.run.positions.is_empty());
    let values: Vec<[String; 6]> =
        groups.iter().map(|group| group.first().map(|run| cells(view, run, options)).unwrap_or_default()).collect();
    let mut columns = vec![Column::words(options.term("/runs/*/run"), 5.5)];
    if by_position {
        columns.push(Column::words(options.term("/runs/*/positions"), 6.0));
    }
    let by_condition = groups.iter().flatten().any(|run| run.run.condition.is_some());
    if by_condition {
        columns.push(Column::words(options.term("/runs/*/condition"), 7.0));
    }
    if several {
        columns.push(Column::words(options.term("/runs/*/process"), 5.5));
    }
    let lead = columns.len();
    let mut shown: Vec<usize> = Vec::new();
    for (index, key) in KEYS.into_iter().enumerate() {
        let texts: Vec<&str> = values.iter().filter_map(|row| row.get(index).map(String::as_str)).collect();
        if texts.iter().all(|text| text.is_empty()) {
            continue;
        }
        let unit = if index < 4 { common_unit(&texts) } else { None };
        // As wide as its longest setting asks, so that numbers do not wrap.
        let longest = texts.iter().map(|text| {
            let cell = setting_cell(text, unit.as_deref(), index == 5);
            cell.text.chars().count().max(cell.note.map_or(0, |note| note.chars().count() / 2))
        });
        let weight = f64::from(u32::try_from(longest.max().unwrap_or(0)).unwrap_or(u32::MAX).clamp(4, 14)) + 1.5;
        columns.push(Column { unit, ..Column::words(options.term(key), weight) });
        shown.push(index);
    }
    let rows: Vec<Row> = groups
        .iter()
        .zip(&values)
        .map(|(group, values)| {
            let mut layers: Vec<String> = group
                .iter()
                .filter_map(|run| run.run.layer.map(|layer| options.word(layer.as_str()).into_owned()))
                .collect();
            layers.dedup();
            let mut row =
                vec![Cell { note: (!layers.is_empty()).then(|| layers.join(", ")), ..Cell::bold(numbers(group)) }];
            let first = group.first();
            if by_position {
                row.push(Cell::bold(first.map_or(String::new(), |run| {
                    run.run.positions.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
                })));
            }
            if by_condition {
                row.push(Cell::bold(first.and_then(|run| run.run.condition.as_deref()).unwrap_or_default()));
            }
            if several {
                row.push(Cell::bold(first.map_or_else(String::new, |run| process_name(run.number(), options.terms))));
            }
            for (&index, column) in shown.iter().zip(columns.iter().skip(lead)) {
                let text = values.get(index).map(String::as_str).unwrap_or_default();
                row.push(setting_cell(text, column.unit.as_deref(), index == 5));
            }
            Row { cells: row, marked: false }
        })
        .collect();
    let long = rows.len() > MOST_ROWS;
    let table = Table { caption: None, columns, rows };
    blocks.push(if long {
        let small = vec![Block::Table(in_one_line(table.clone()))];
        Block::GivesWay { way: Way::Settings, blocks: vec![Block::Settings(table)], instead: small }
    } else {
        Block::Settings(table)
    });
}

/// A table whose rows take a line each: what stands under a value stands behind it.
fn in_one_line(mut table: Table) -> Table {
    for cell in table.rows.iter_mut().flat_map(|row| &mut row.cells) {
        if let Some(note) = cell.note.take() {
            cell.text = format!("{} {note}", cell.text);
        }
    }
    table
}
