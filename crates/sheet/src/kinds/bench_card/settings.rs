//! The table of settings in large type.

use seamwright_model::procedure::{Key, keys};
use seamwright_model::quantity::{Current, Quantity, Range, Speed, UnitSystem, Voltage};
use seamwright_model::stated::{NONE, Stated, Text};
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Cell, Column, Row, Table};
use seamwright_page::words::label;
use seamwright_weld::{RunView, View};

use crate::kinds::columns::{common_unit, setting_cell};
use crate::kinds::words::process_name;
use crate::kinds::{joined, print as said, setup, sold, word};

/// More rows than these are drawn together, so that the type stays large.
const MOST_ROWS: usize = 8;

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

/// The runs in rows: those with equal settings together, and if that leaves too many rows, those of a kind.
fn groups<'v, 'd>(view: &'v View<'d>, options: SheetOptions) -> Vec<Group<'v, 'd>> {
    let equal = |run: &RunView<'d>| {
        format!("{:?}{:?}{}{}", when(run), run.run.side, run.number(), cells(view, &[run], options).join("|"))
    };
    let layer = |run: &RunView<'d>| format!("{:?}{:?}{}", when(run), run.run.layer, run.number());
    let process = |run: &RunView<'d>| run.number().to_owned();
    let adjacent = gather(view, &equal, true);
    if adjacent.len() <= MOST_ROWS {
        return adjacent;
    }
    let of_a_kind = gather(view, &layer, false);
    if of_a_kind.len() <= MOST_ROWS { of_a_kind } else { gather(view, &process, false) }
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

/// Current, voltage, wire feed, travel speed and filler of a group, each over all its runs.
fn cells(view: &View<'_>, group: &[&RunView<'_>], options: SheetOptions) -> [String; 6] {
    let mut fillers: Vec<String> = Vec::new();
    let mut polarities: Vec<String> = Vec::new();
    for run in group {
        let filler = run.filler(view.procedure).map_or_else(
            || options.word(NONE).into_owned(),
            |(_, filler)| joined([Some(filler.designation.to_string()), sold(filler.diameter.as_ref(), options)]),
        );
        let polarity =
            run.setting(&keys::POLARITY).and_then(|at| word(Some(at.value))).map(|own| options.word(&own).into_owned());
        for (list, text) in [(&mut fillers, Some(filler)), (&mut polarities, polarity)] {
            if let Some(text) = text.filter(|text| !list.contains(text)) {
                list.push(text);
            }
        }
    }
    [
        over(group, options, &keys::CURRENT, Current::print_range),
        over(group, options, &keys::VOLTAGE, Voltage::print_range),
        over(group, options, &keys::WIRE_FEED_SPEED, Speed::print_range),
        over(group, options, &keys::TRAVEL_SPEED, Speed::print_range),
        polarities.join(", "),
        fillers.join("; "),
    ]
}

/// The range over all runs of a group; as it is spelled where there is only one.
fn over<Q: Quantity + Copy + PartialOrd>(
    group: &[&RunView<'_>],
    options: SheetOptions,
    key: &Key<Stated<Range<Q>>>,
    print: fn(Q, Q, UnitSystem) -> String,
) -> String {
    let ranges: Vec<&Range<Q>> = group.iter().filter_map(|run| run.quantity(key)).map(|at| at.value).collect();
    let Some(first) = ranges.first() else { return String::new() };
    let texts: Vec<String> = ranges.iter().map(|range| said(range, options)).collect();
    if texts.iter().all(|text| Some(text) == texts.first()) {
        return said(first, options);
    }
    let least = ranges.iter().filter_map(|range| range.low()).reduce(|a, b| if b < a { b } else { a });
    let most = ranges.iter().filter_map(|range| range.high()).reduce(|a, b| if b > a { b } else { a });
    match (least, most) {
        (Some(least), Some(most)) => print(least, most, options.units),
        _ => said(first, options),
    }
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
    let values: Vec<[String; 6]> = groups.iter().map(|group| cells(view, group, options)).collect();
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
    let rows = groups
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
    blocks.push(Block::Settings(Table { caption: None, columns, rows }));
    if groups.iter().any(|group| group.len() > 1 && cells(view, &group[..1], options) != cells(view, group, options)) {
        blocks.push(Block::Paragraph {
            text: options.fill(label::ROWS_OF_A_KIND, &[("runs", &options.term("/runs"))]),
            small: true,
        });
    }
}
