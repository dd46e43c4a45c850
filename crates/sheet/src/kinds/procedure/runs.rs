//! The run table with its computed heat input.

use seamwright_check::{View, heat};
use seamwright_handbook::variables;
use seamwright_model::quantity::{HeatInput, UnitSystem};

use crate::block::{Align, Block, Cell, Column, Row, Table};
use crate::kinds::words::setting;
use crate::kinds::{SheetOptions, quantity, word};

/// Keys that the run table shows.
const RUN_KEYS: [&str; 6] = [
    "/runs/*/run",
    "/processes/*/polarity",
    "/processes/*/current",
    "/processes/*/voltage",
    "/processes/*/travel_speed",
    "/processes/*/heat_input",
];

pub(super) fn runs(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    if view.runs.is_empty() {
        return;
    }
    let by_position = view.runs.iter().any(|run| !run.run.positions.is_empty());
    let wire = view.runs.iter().any(|run| run.quantity("wire_feed_speed", |s| s.wire_feed_speed.as_ref()).is_some());
    let mut columns = vec![
        Column::new(label("/runs/*/run"), Align::Left, 0.6),
        Column::new(label("/runs/*/layer"), Align::Left, 0.7),
        Column::new(label("/runs/*/process"), Align::Left, 0.75),
    ];
    if by_position {
        columns.push(Column::new(label("/runs/*/positions"), Align::Left, 0.8));
    }
    columns.extend([
        Column::new(label("/processes/*/filler"), Align::Left, 1.2),
        Column::new(label("/processes/*/polarity"), Align::Left, 0.9),
        Column::new(label("/processes/*/current"), Align::Right, 1.1),
        Column::new(label("/processes/*/voltage"), Align::Right, 0.9),
    ]);
    if wire {
        columns.push(Column::new(label("/processes/*/wire_feed_speed"), Align::Right, 1.2));
    }
    columns.extend([
        Column::new(label("/processes/*/travel_speed"), Align::Right, 1.3),
        Column::new(label("/processes/*/heat_input"), Align::Right, 1.4),
    ]);
    let mut remarks: Vec<String> = Vec::new();
    let rows = view
        .runs
        .iter()
        .map(|run| {
            let filler = run.filler(view.procedure).map(|(_, filler)| filler);
            let heat = heat::of(run);
            if let Some(heat) = heat {
                let remark = format!("{} k = {}", run.number(), heat.k);
                if !remarks.contains(&remark) {
                    remarks.push(remark);
                }
            }
            let mut cells = vec![
                Cell::bold(run.run.run.to_string()),
                Cell::text(run.run.layer.map_or(String::new(), |layer| layer.to_string())),
                Cell::text(run.run.process.as_deref().or(run.block.map(|(name, _)| name)).unwrap_or_default()),
            ];
            if by_position {
                cells
                    .push(Cell::text(run.run.positions.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")));
            }
            cells.extend([
                Cell {
                    note: filler.and_then(|filler| quantity(filler.diameter.as_ref(), units)),
                    ..Cell::bold(filler.map_or("none".to_owned(), |filler| filler.designation.to_string()))
                },
                Cell::text(
                    run.setting("polarity", |s| s.polarity.as_ref())
                        .map_or(String::new(), |at| word(Some(at.value)).unwrap_or_default()),
                ),
                Cell::bold(setting(run.quantity("current", |s| s.current.as_ref()).map(|at| at.value), units)),
                Cell::bold(setting(run.quantity("voltage", |s| s.voltage.as_ref()).map(|at| at.value), units)),
            ]);
            if wire {
                cells.push(Cell::bold(setting(
                    run.quantity("wire_feed_speed", |s| s.wire_feed_speed.as_ref()).map(|at| at.value),
                    units,
                )));
            }
            cells.extend([
                Cell::bold(setting(
                    run.quantity("travel_speed", |s| s.travel_speed.as_ref()).map(|at| at.value),
                    units,
                )),
                heat.map_or(Cell::text(""), |heat| Cell {
                    note: Some(format!("arc energy {}", kj(heat.arc_energy, units))),
                    ..Cell::bold(kj(heat.heat_input, units))
                }),
            ]);
            Row { cells, marked: false }
        })
        .collect();
    blocks.push(Block::heading(label("/runs"), Some(&variables::clauses(RUN_KEYS))));
    blocks.push(Block::Table(Table { caption: None, columns, rows }));
    if !remarks.is_empty() {
        blocks.push(Block::Paragraph {
            text: format!(
                "Heat input by ISO/TR 17671-1 with thermal efficiency {}; arc energy without k is the heat input of ASME IX QW-409.1(a). Computed from the lowest and highest stated values.",
                remarks.join(", ")
            ),
            small: true,
        });
    }
}

/// A computed range of heat input in the chosen units.
fn kj(range: seamwright_handbook::Range, units: UnitSystem) -> String {
    match (HeatInput::from_kj_per_mm(range.low), HeatInput::from_kj_per_mm(range.high)) {
        (Some(low), Some(high)) => HeatInput::print_range(low, high, units),
        _ => String::new(),
    }
}
