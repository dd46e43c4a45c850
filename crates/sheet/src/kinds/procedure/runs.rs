//! The run table with its computed heat input.

use seamwright_handbook::variables::{self, Terms};
use seamwright_model::procedure::{Key, keys};
use seamwright_model::quantity::{HeatInput, Quantity, Range, UnitSystem};
use seamwright_model::stated::{NONE, Stated};
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Cell, Column, Row, Table};
use seamwright_page::words::label;
use seamwright_weld::{RunView, View, heat};

use crate::kinds::columns::{common_unit, setting_cell};
use crate::kinds::words::{clauses, position_name, process_name, setting};
use crate::kinds::{joined, sold, word};

/// Keys that the run table shows.
const RUN_KEYS: [&str; 6] = [
    "/runs/*/run",
    keys::POLARITY.of_process,
    keys::CURRENT.of_process,
    keys::VOLTAGE.of_process,
    keys::TRAVEL_SPEED.of_process,
    keys::HEAT_INPUT.of_process,
];

/// A column of the table: its heading, its weight, whether its values share a unit, and its cells.
struct Values {
    heading: String,
    weight: f64,
    measured: bool,
    cells: Vec<Cell>,
}

/// A column of a quantity.
fn quantity<Q: Quantity>(key: &Key<Stated<Range<Q>>>, weight: f64, view: &View<'_>, options: SheetOptions) -> Values {
    let of = |run: &RunView<'_>| Cell::bold(setting(run.value(key).map(|at| at.value), options.units));
    Values {
        heading: variables::term(key.of_process, options.terms).to_owned(),
        weight,
        measured: true,
        cells: view.runs.iter().map(of).collect(),
    }
}

/// The table, whole on one page, units in the heads of its columns.
pub(super) fn runs(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let SheetOptions { units, terms, .. } = options;
    if view.runs.is_empty() {
        return;
    }
    let label = |key: &'static str| variables::term(key, terms).to_owned();
    let words = |heading: String, weight: f64, of: &dyn Fn(&RunView<'_>) -> String| Values {
        heading,
        weight,
        measured: false,
        cells: view.runs.iter().map(|run| Cell::bold(of(run))).collect(),
    };
    let measured = |heading: String, weight: f64, of: &dyn Fn(&RunView<'_>) -> String| Values {
        measured: true,
        ..words(heading, weight, of)
    };
    let number = |run: &RunView<'_>| {
        let stated = run.run.process.as_deref().or(run.block.map(|(name, _)| name)).unwrap_or_default();
        process_name(stated, terms)
    };
    let mut columns = vec![
        words(label("/runs/*/run"), 0.5, &|run| run.run.run.to_string()),
        words(label("/runs/*/layer"), 0.7, &|run| run.run.layer.map_or(String::new(), |layer| layer.to_string())),
        words(label("/runs/*/process"), 0.7, &number),
    ];
    if view.runs.iter().any(|run| !run.run.positions.is_empty()) {
        columns.push(words(label("/runs/*/positions"), 0.8, &|run| {
            let names = run.run.positions.iter().map(|code| Some(position_name(code, terms, view)));
            joined(names)
        }));
    }
    if view.runs.iter().any(|run| run.run.condition.is_some()) {
        let of = |run: &RunView<'_>| run.run.condition.as_ref().map(ToString::to_string).unwrap_or_default();
        columns.push(words(label("/runs/*/condition"), 0.9, &of));
    }
    columns.push(Values {
        heading: label(keys::FILLER.of_process),
        weight: 1.9,
        measured: false,
        cells: view
            .runs
            .iter()
            .map(|run| {
                let Some((_, filler)) = run.filler(view.procedure) else { return Cell::bold(NONE) };
                // On one line where the column has room for it: a row for each run is what fills the page.
                Cell::bold(match sold(filler.diameter.as_ref(), units) {
                    Some(diameter) => format!("{}, {diameter}", filler.designation),
                    None => filler.designation.to_string(),
                })
            })
            .collect(),
    });
    let heats = heats(view, units);
    columns.extend([
        words(label(keys::POLARITY.of_process), 0.9, &|run| {
            let stated = run.setting(&keys::POLARITY);
            stated.and_then(|at| word(Some(at.value))).unwrap_or_default()
        }),
        quantity(&keys::CURRENT, 1.0, view, options),
        quantity(&keys::VOLTAGE, 0.9, view, options),
        quantity(&keys::WIRE_FEED_SPEED, 1.1, view, options),
        quantity(&keys::TRAVEL_SPEED, 1.2, view, options),
        measured(label(keys::HEAT_INPUT.of_process), 1.2, &|run| {
            heats.get(run.index).map_or(String::new(), |[input, _]| input.clone())
        }),
        measured(label::ARC_ENERGY.into(), 1.1, &|run| {
            heats.get(run.index).map_or(String::new(), |[_, energy]| energy.clone())
        }),
    ]);
    columns.retain(|column| column.cells.iter().any(|cell| !cell.text.is_empty()));

    let mut heads = Vec::new();
    let mut rows: Vec<Row> = view.runs.iter().map(|_| Row { cells: Vec::new(), marked: false }).collect();
    for column in columns {
        let texts: Vec<&str> = column.cells.iter().map(|cell| cell.text.as_str()).collect();
        let unit = if column.measured { common_unit(&texts) } else { None };
        for (row, cell) in rows.iter_mut().zip(&column.cells) {
            row.cells.push(if column.measured {
                setting_cell(&cell.text, unit.as_deref(), false)
            } else {
                cell.clone()
            });
        }
        heads.push(Column { unit, ..Column::words(column.heading, column.weight) });
    }
    blocks.push(Block::Together {
        blocks: vec![
            Block::heading(label::SET_THIS, clauses(RUN_KEYS, view, terms).as_deref()),
            Block::Table(Table { caption: None, columns: heads, rows }),
        ],
    });
}

/// Heat input and arc energy of each run, as printed; empty where they are not known.
fn heats(view: &View<'_>, units: UnitSystem) -> Vec<[String; 2]> {
    let mut all: Vec<[String; 2]> = Vec::with_capacity(view.runs.len());
    let mut before = None;
    for run in &view.runs {
        let heat = heat::of(run);
        // Most runs are like the one before.
        let own = match all.last() {
            Some(last) if heat == before => last.clone(),
            _ => heat.map_or_else(Default::default, |own| [kj(own.heat_input, units), kj(own.arc_energy, units)]),
        };
        all.push(own);
        before = heat;
    }
    all
}

/// How heat input was computed, and with which efficiency.
pub(super) fn heat_remark(view: &View<'_>, terms: Terms) -> String {
    let mut factors: Vec<String> = Vec::new();
    for run in &view.runs {
        let Some(heat) = heat::of(run) else { continue };
        let factor = format!("k = {} ({})", heat.k, process_name(run.number(), terms));
        if !factors.contains(&factor) {
            factors.push(factor);
        }
    }
    if factors.is_empty() {
        return String::new();
    }
    label::HEAT_REMARK.fill(&[("factors", &factors.join(", "))])
}

/// A computed range of heat input in the chosen units.
fn kj(range: seamwright_handbook::Band, units: UnitSystem) -> String {
    match (HeatInput::from_kj_per_mm(range.low), HeatInput::from_kj_per_mm(range.high)) {
        (Some(low), Some(high)) => HeatInput::print_range(low, high, units),
        _ => String::new(),
    }
}
