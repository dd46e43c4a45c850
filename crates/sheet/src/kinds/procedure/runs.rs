//! The run table with its computed heat input.

use seamwright_handbook::variables::{self, Terms};
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{HeatInput, UnitSystem};
use seamwright_model::stated::NONE;
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
    "/processes/*/polarity",
    "/processes/*/current",
    "/processes/*/voltage",
    "/processes/*/travel_speed",
    "/processes/*/heat_input",
];

/// A column of the table: its heading, its weight, whether its values share a unit, and its cells.
struct Values {
    heading: String,
    weight: f64,
    measured: bool,
    cells: Vec<Cell>,
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
        heading: label("/processes/*/filler"),
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
        words(label("/processes/*/polarity"), 0.9, &|run| {
            let stated = run.setting(&keys::POLARITY);
            stated.and_then(|at| word(Some(at.value))).unwrap_or_default()
        }),
        measured(label("/processes/*/current"), 1.0, &|run| {
            setting(run.quantity(&keys::CURRENT).map(|at| at.value), units)
        }),
        measured(label("/processes/*/voltage"), 0.9, &|run| {
            setting(run.quantity(&keys::VOLTAGE).map(|at| at.value), units)
        }),
        measured(label("/processes/*/wire_feed_speed"), 1.1, &|run| {
            setting(run.quantity(&keys::WIRE_FEED_SPEED).map(|at| at.value), units)
        }),
        measured(label("/processes/*/travel_speed"), 1.2, &|run| {
            setting(run.quantity(&keys::TRAVEL_SPEED).map(|at| at.value), units)
        }),
        measured(label("/processes/*/heat_input"), 1.2, &|run| {
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
fn kj(range: seamwright_handbook::Range, units: UnitSystem) -> String {
    match (HeatInput::from_kj_per_mm(range.low), HeatInput::from_kj_per_mm(range.high)) {
        (Some(low), Some(high)) => HeatInput::print_range(low, high, units),
        _ => String::new(),
    }
}
