//! The estimate: weld metal, filler, gas, time and cost of a procedure over its joints, with the equations and what was put in.

use seamwright_calc::Spread;
use seamwright_estimate::{Cost, Estimate, RunEstimate, remainders};
use seamwright_handbook::variables::{self, Terms};

use super::words::low;
use super::{DEFERS, SheetOptions, Subject, footer, masthead, source};
use crate::block::{Align, Block, Cell, Column, Field, NoticeItem, NoticeKind, Row, Sheet, Table};

const TRIAL: &str =
    "An estimate from stated and usual figures: weld a trial length and time it before a price depends on it.";

/// The estimate of a procedure as a sheet.
pub(super) fn sheet(subject: Subject<'_>, estimate: &Estimate, options: SheetOptions) -> Sheet {
    let terms = options.terms;
    let mut blocks = Vec::new();
    if let Some(words) = &estimate.cannot_make {
        let text = format!("{words}. No price holds before the runs are planned anew.");
        let items = vec![NoticeItem { lead: None, text }];
        let title = Some("Cannot make the weld as planned".into());
        blocks.push(Block::Notice { kind: NoticeKind::Caution, title, items });
    }
    totals(&mut blocks, estimate, terms);
    cost(&mut blocks, estimate.cost.as_ref(), estimate.cannot_make.is_some());
    stock(&mut blocks, estimate);
    joints(&mut blocks, estimate);
    runs(&mut blocks, estimate, terms);
    not_stated(&mut blocks, estimate);
    assumptions(&mut blocks, estimate);
    blocks.push(Block::Paragraph { text: TRIAL.into(), small: true });
    blocks.push(Block::Paragraph { text: DEFERS.into(), small: true });
    Sheet {
        masthead: masthead(subject, "estimate", Vec::new()),
        blocks,
        footer: footer(subject),
        one_page: false,
        planned: None,
        annex: Vec::new(),
        source: source(subject),
    }
}

/// Three significant digits, no empty decimals.
fn number(value: f64) -> String {
    let decimals = match value.abs() {
        value if value >= 100.0 => 0,
        value if value >= 10.0 => 1,
        value if value >= 1.0 => 2,
        _ => 3,
    };
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

fn spread(spread: Spread) -> String {
    if (spread.high - spread.low).abs() < 1e-9 * spread.high.abs().max(1e-9) {
        number(spread.middle)
    } else {
        format!("{} ({}–{})", number(spread.middle), number(spread.low), number(spread.high))
    }
}

fn time(minutes: f64) -> String {
    if minutes >= 90.0 { format!("{} h", number(minutes / 60.0)) } else { format!("{} min", number(minutes)) }
}

fn large(label: &str, value: String) -> Field {
    Field { large: true, ..Field::new(label, value) }
}

fn totals(blocks: &mut Vec<Block>, estimate: &Estimate, terms: Terms) {
    let label = |key: &'static str| variables::term(key, terms);
    blocks.push(Block::heading("Totals", None));
    let mut fields = vec![
        large(label("/weld_size/length"), format!("{} m", number(estimate.length_mm / 1000.0))),
        large("Weld metal", format!("{} kg", number(estimate.weld_metal_kg.middle))),
        large("Arc time", time(estimate.arc_time_min)),
        large("Working time", time(estimate.working_time_min)),
    ];
    if let Some(cost) = &estimate.cost {
        let label = if estimate.cannot_make.is_some() { "Price, provisional" } else { "Price" };
        fields.push(large(label, format!("{:.2} {}", cost.price, cost.currency).trim_end().to_owned()));
    }
    fields.push(Field::new("Cross-section", format!("{} mm²", spread(estimate.area_mm2))));
    fields.push(Field::new("Weld metal, low to high", format!("{} kg", spread(estimate.weld_metal_kg))));
    fields.push(Field::new("Electricity", format!("{} kWh", number(estimate.energy_kwh))));
    for filler in &estimate.fillers {
        let pieces = filler.pieces.map_or(String::new(), |(count, kind)| format!(", {}", kind.count(count)));
        fields.push(
            Field::new(
                format!("{} {}", label("/processes/*/filler"), filler.designation),
                format!("{} kg{pieces}", spread(filler.mass_kg)),
            )
            .wide(2),
        );
    }
    for gas in &estimate.gases {
        let what = label(if gas.backing { "/backing_gas" } else { "/processes/*/shielding_gas" });
        let share = gas.cylinders.map_or(String::new(), |share| format!(", {} cylinders", number(share)));
        fields.push(Field::new(format!("{what} {}", gas.designation), format!("{} L{share}", number(gas.volume_l))));
    }
    blocks.push(Block::Fields { fields });
}

fn column(heading: &str, unit: Option<&str>, align: Align, weight: f64) -> Column {
    Column { unit: unit.map(Into::into), ..Column::new(heading, align, weight) }
}

fn row(cells: Vec<Cell>) -> Row {
    Row { cells, marked: false }
}

fn cost(blocks: &mut Vec<Block>, cost: Option<&Cost>, provisional: bool) {
    let Some(cost) = cost else { return };
    blocks.push(Block::heading("Cost", None));
    let currency = Some(cost.currency.as_str()).filter(|currency| !currency.is_empty());
    let mut rows: Vec<Row> = cost
        .lines
        .iter()
        .map(|line| {
            row(vec![
                Cell::text(&line.what),
                Cell::text(format!("{} {}", number(line.amount), line.unit)),
                Cell::text(format!("{:.2}", line.price)),
                Cell::text(format!("{:.2}", line.cost)),
            ])
        })
        .collect();
    let mut sum = |what: &str, value: f64, marked: bool| {
        let cells = vec![Cell::bold(what), Cell::text(""), Cell::text(""), Cell::bold(format!("{value:.2}"))];
        rows.push(Row { cells, marked });
    };
    sum("Cost", cost.total, false);
    if let Some((what, amount)) = &cost.added {
        sum(what, *amount, false);
    }
    let price = match (provisional, cost.least_charge) {
        (true, _) => "Price, provisional: the runs do not make the size",
        (false, true) => "Price, the least charge",
        (false, false) => "Price",
    };
    sum(price, cost.price, true);
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            column("What", None, Align::Left, 2.0),
            column("Amount", None, Align::Right, 1.0),
            column("Price of one", currency, Align::Right, 1.0),
            column("Cost", currency, Align::Right, 1.0),
        ],
        rows,
    }));
    if let Some(days) = cost.days {
        let text = format!("Time of all work: {}, {} working days.", time(cost.time_min), number(days));
        blocks.push(Block::Paragraph { text, small: false });
    }
    if cost.joints.len() > 1 || cost.joints.iter().any(|joint| joint.pieces > 1) {
        let rows = cost.joints.iter().map(|joint| {
            row(vec![
                Cell::text(&joint.name),
                Cell::text(joint.pieces.to_string()),
                Cell::text(number(joint.time_min / 60.0)),
                Cell::text(format!("{:.2}", joint.each)),
                Cell::text(format!("{:.2}", joint.price)),
            ])
        });
        blocks.push(Block::Table(Table {
            caption: Some("Price by joint".into()),
            columns: vec![
                column("Joint", None, Align::Left, 2.0),
                column("Pieces", None, Align::Right, 0.8),
                column("Time", Some("h"), Align::Right, 0.8),
                column("Each", currency, Align::Right, 1.0),
                column("Price", currency, Align::Right, 1.0),
            ],
            rows: rows.collect(),
        }));
    }
}

fn stock(blocks: &mut Vec<Block>, estimate: &Estimate) {
    let remainders = remainders([estimate]);
    if remainders.is_empty() {
        return;
    }
    blocks.push(Block::heading("Stock of the shop", None));
    let rows = remainders
        .iter()
        .map(|own| {
            let amount = |amount: f64| format!("{} {}", number(amount), own.unit);
            let left = own.left();
            row(vec![
                Cell::text(&own.what),
                Cell::text(amount(own.in_stock)),
                Cell::text(amount(own.used)),
                if left < 0.0 { Cell::bold(format!("short by {}", amount(-left))) } else { Cell::text(amount(left)) },
            ])
        })
        .collect();
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            column("What", None, Align::Left, 2.0),
            column("In stock", None, Align::Right, 1.0),
            column("Used", None, Align::Right, 1.0),
            column("Left", None, Align::Right, 1.0),
        ],
        rows,
    }));
}

fn joints(blocks: &mut Vec<Block>, estimate: &Estimate) {
    if estimate.joints.len() < 2 && estimate.joints.iter().all(|joint| joint.count == 1) {
        return;
    }
    blocks.push(Block::heading("Joints", None));
    let rows = estimate
        .joints
        .iter()
        .map(|joint| {
            let length = joint.length_mm / 1000.0;
            row(vec![
                Cell::text(&joint.name),
                Cell::text(joint.count.to_string()),
                Cell::text(number(length)),
                Cell::text(number(length * f64::from(joint.count))),
            ])
        })
        .collect();
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            column("Joint", None, Align::Left, 2.0),
            column("Count", None, Align::Right, 1.0),
            column("Length of one", Some("m"), Align::Right, 1.0),
            column("Together", Some("m"), Align::Right, 1.0),
        ],
        rows,
    }));
}

fn runs(blocks: &mut Vec<Block>, estimate: &Estimate, terms: Terms) {
    let label = |key: &'static str| variables::term(key, terms);
    blocks.push(Block::heading(label("/runs"), None));
    let cells = |run: &RunEstimate| {
        let or_dash = |value: Option<f64>| value.map_or("–".to_owned(), number);
        let disagreement = run.disagreement_pct.map(|pct| format!("{pct:+.0} %"));
        row(vec![
            Cell::bold(&run.run),
            Cell::text(run.process),
            Cell::text(number(run.area_mm2.middle)),
            Cell::text(run.deposited_mm2.map_or("–".to_owned(), spread)),
            Cell::text(number(run.weld_metal_kg.middle)),
            Cell::text(or_dash(run.filler.as_ref().map(|filler| filler.mass_kg.middle))),
            Cell::text(or_dash(run.gas.as_ref().map(|gas| gas.volume_l))),
            Cell::text(or_dash(run.arc_time_min)),
            Cell { note: disagreement, ..Cell::text(or_dash(run.by_rate_min)) },
        ])
    };
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            column(label("/runs/*/run"), None, Align::Left, 0.7),
            column(label("/runs/*/process"), None, Align::Left, 0.8),
            column("Share", Some("mm²"), Align::Right, 0.8),
            column(&format!("Laid by one {}", low("/runs/*/run", terms)), Some("mm²"), Align::Right, 1.6),
            column("Weld metal", Some("kg"), Align::Right, 1.0),
            column(label("/processes/*/filler"), Some("kg"), Align::Right, 0.9),
            column(label("/processes/*/shielding_gas"), Some("L"), Align::Right, 0.8),
            column("Arc time", Some("min"), Align::Right, 0.9),
            column("By rate", Some("min"), Align::Right, 0.9),
        ],
        rows: estimate.runs.iter().map(cells).collect(),
    }));
    blocks.push(Block::Paragraph {
        text: format!(
            "Share: what the row fills of the cross-section. Laid by one {}: by its deposition rate and travel speed. \
             Arc time: by travel speed, else by deposition rate; beside it the time by rate and how far the two disagree.",
            low("/runs/*/run", terms)
        ),
        small: true,
    });
}

fn not_stated(blocks: &mut Vec<Block>, estimate: &Estimate) {
    if estimate.not_stated.is_empty() {
        return;
    }
    let items = estimate.not_stated.iter().map(|text| NoticeItem { lead: None, text: text.clone() }).collect();
    blocks.push(Block::Notice { kind: NoticeKind::Caution, title: Some("Not stated, and left out".into()), items });
}

fn assumptions(blocks: &mut Vec<Block>, estimate: &Estimate) {
    blocks.push(Block::heading("Taken where nothing is stated", None));
    let items = estimate
        .assumptions
        .iter()
        .map(|assumption| {
            let source = assumption.source.as_ref().map_or(String::new(), |source| format!(". {}", source.line()));
            format!("{}{source}", assumption.text)
        })
        .collect();
    blocks.push(Block::List { numbered: false, small: true, items });
    blocks.push(Block::heading("Equations", None));
    let items = estimate.formulas.iter().map(|formula| format!("{}. {}", formula.equation, formula.source)).collect();
    blocks.push(Block::List { numbered: false, small: true, items });
}
