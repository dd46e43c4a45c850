//! The estimate: weld metal, filler, gas, time and cost of a procedure over its joints, with the equations and what was put in.

use seamwright_calc::Spread;
use seamwright_estimate::{Cost, Estimate, GasPlace, RunEstimate, remainders, unit_of, us_unit};
use seamwright_handbook::measure::{MM_IN, trimmed};
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::document::Document;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::UnitSystem;
use seamwright_model::shop::Shop;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Align, Block, Cell, Column, Field, NoticeItem, NoticeKind, Row, Sheet, Table};
use seamwright_page::words::label;

use super::{DEFERS, Subject, footer, masthead, source};

const TRIAL: &str = label::TRIAL_LENGTH.english();

/// The sheet of a subject; none where it is another kind of document.
pub(super) fn of(subject: Subject<'_>, options: SheetOptions) -> Option<Result<Sheet, String>> {
    let Document::Procedure(_) = subject.loaded.document else { return None };
    let lacks = || "an estimate sheet needs a length of weld".to_owned();
    Some(subject.estimate.ok_or_else(lacks).map(|estimate| sheet(subject, estimate, options)))
}

/// The estimate of a procedure as a sheet.
fn sheet(subject: Subject<'_>, estimate: &Estimate, options: SheetOptions) -> Sheet {
    let terms = options.terms;
    let mut blocks = Vec::new();
    if let Some(words) = &estimate.cannot_make {
        let text = label::WORDS_NO_PRICE_HOLDS_BEFORE_THE.fill(&[("words", words)]);
        let items = vec![NoticeItem { lead: None, text }];
        let title = Some(label::CANNOT_MAKE_THE_WELD_AS_PLANNED.into());
        blocks.push(Block::Notice { kind: NoticeKind::Caution, title, items });
    }
    let units = Units::of(subject.shop, options.units == UnitSystem::Us);
    totals(&mut blocks, estimate, terms, units);
    cost(&mut blocks, estimate.cost.as_ref(), estimate.cannot_make.is_some());
    stock(&mut blocks, estimate, subject.shop);
    joints(&mut blocks, estimate, units);
    runs(&mut blocks, estimate, terms, units);
    not_stated(&mut blocks, estimate);
    assumptions(&mut blocks, estimate);
    blocks.push(Block::Paragraph { text: TRIAL.into(), small: true });
    blocks.push(Block::Paragraph { text: DEFERS.into(), small: true });
    Sheet {
        masthead: masthead(subject, label::ESTIMATE_SHEET, Vec::new(), options),
        blocks,
        footer: footer(subject, options),
        one_page: false,
        large: false,
        planned: None,
        annex: Vec::new(),
        source: source(subject),
    }
}

/// The units in which the shop reckons, or the sheet is asked for, each with how many of it the base unit is.
#[derive(Clone, Copy)]
struct Units {
    /// Of kilograms.
    mass: (&'static str, f64),
    /// Of litres.
    gas: (&'static str, f64),
    /// Of millimetres.
    length: (&'static str, f64),
    /// Of square millimetres.
    area: (&'static str, f64),
}

impl Units {
    fn of(shop: Option<&Shop>, us: bool) -> Self {
        let own = |unit| if us { us_unit(unit) } else { unit_of(shop, unit) };
        let mass = own("kg");
        let pounds = mass.0 == "lb";
        let length = if pounds { ("ft", 1.0 / (12.0 * MM_IN)) } else { ("m", 0.001) };
        let area = if pounds { ("in\u{b2}", 1.0 / (MM_IN * MM_IN)) } else { ("mm\u{b2}", 1.0) };
        Self { mass, gas: own("L"), length, area }
    }
}

fn in_unit((unit, by): (&str, f64), value: f64) -> String {
    format!("{} {unit}", number(value * by))
}

fn spread_in((unit, by): (&str, f64), value: Spread) -> String {
    format!("{} {unit}", spread(value.times(by)))
}

/// Three significant digits, no empty decimals.
fn number(value: f64) -> String {
    let decimals = match value.abs() {
        value if value >= 100.0 => 0,
        value if value >= 10.0 => 1,
        value if value >= 1.0 => 2,
        _ => 3,
    };
    trimmed(value, decimals)
}

fn spread(spread: Spread) -> String {
    if spread.is_single() {
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

fn totals(blocks: &mut Vec<Block>, estimate: &Estimate, terms: Terms, units: Units) {
    let label = |key: &'static str| variables::term(key, terms);
    blocks.push(Block::heading(label::TOTALS, None));
    let mut fields = vec![
        large(label("/weld_size/length"), in_unit(units.length, estimate.length_mm)),
        large(&label::WELD_METAL, in_unit(units.mass, estimate.weld_metal_kg.middle)),
        large(&label::ARC_TIME, time(estimate.arc_time_min)),
        large(&label::WORKING_TIME, time(estimate.working_time_min)),
    ];
    if let Some(cost) = &estimate.cost {
        let label = if estimate.cannot_make.is_some() { label::PRICE_PROVISIONAL } else { label::PRICE };
        fields.push(large(&label, format!("{:.2} {}", cost.price, cost.currency).trim_end().to_owned()));
    }
    fields.push(Field::new(label::CROSS_SECTION, spread_in(units.area, estimate.area_mm2)));
    fields.push(Field::new(label::WELD_METAL_LOW_TO_HIGH, spread_in(units.mass, estimate.weld_metal_kg)));
    fields.push(Field::new(label::ELECTRICITY, format!("{} kWh", number(estimate.energy_kwh))));
    for filler in &estimate.fillers {
        let pieces = filler.pieces.map_or(String::new(), |(count, kind)| format!(", {}", kind.count(count)));
        fields.push(
            Field::new(
                format!("{} {}", label(keys::FILLER.of_process), filler.designation),
                format!("{}{pieces}", spread_in(units.mass, filler.mass_kg)),
            )
            .wide(2),
        );
    }
    for gas in &estimate.gases {
        let what = label(match gas.place {
            GasPlace::Torch => keys::SHIELDING_GAS.of_process,
            GasPlace::Root => "/backing_gas",
            GasPlace::Trailing => keys::TRAILING_GAS.of_process,
        });
        let share = gas.cylinders.map_or(String::new(), |share| label::CYLINDERS.fill(&[("count", &number(share))]));
        fields.push(Field::new(
            format!("{what} {}", gas.designation),
            format!("{}{share}", in_unit(units.gas, gas.volume_l)),
        ));
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
    blocks.push(Block::heading(label::COST, None));
    let currency = Some(cost.currency.as_str()).filter(|currency| !currency.is_empty());
    let mut rows: Vec<Row> = cost
        .lines
        .iter()
        .map(|line| {
            row(vec![
                Cell::text(&line.what),
                Cell::text(format!("{} {}", number(line.amount), line.unit)),
                Cell::text(
                    line.share_of().map_or_else(|| format!("{:.2}", line.price), |whole| format!("of {whole:.2}")),
                ),
                Cell::text(format!("{:.2}", line.cost)),
            ])
        })
        .collect();
    let mut sum = |what: &str, value: f64, marked: bool| {
        let cells = vec![Cell::bold(what), Cell::text(""), Cell::text(""), Cell::bold(format!("{value:.2}"))];
        rows.push(Row { cells, marked });
    };
    sum(&label::COST, cost.total, false);
    if let Some((what, amount)) = &cost.added {
        sum(what, *amount, false);
    }
    let price = match (provisional, cost.least_charge) {
        (true, _) => label::PRICE_PROVISIONAL_THE_RUNS_DO_NOT,
        (false, true) => label::PRICE_THE_LEAST_CHARGE,
        (false, false) => label::PRICE,
    };
    sum(&price, cost.price, true);
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            column(&label::WHAT, None, Align::Left, 2.0),
            column(&label::AMOUNT, None, Align::Right, 1.0),
            column(&label::PRICE_OF_ONE, currency, Align::Right, 1.0),
            column(&label::COST, currency, Align::Right, 1.0),
        ],
        rows,
    }));
    if let Some(days) = cost.days {
        let text = label::TIME_OF_ALL_WORK_TIME_DAYS.fill(&[("time", &time(cost.time_min)), ("days", &number(days))]);
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
            caption: Some(label::PRICE_BY_JOINT.into()),
            columns: vec![
                column(&label::JOINT, None, Align::Left, 2.0),
                column(&label::PIECES_COLUMN, None, Align::Right, 0.8),
                column(&label::TIME, Some("h"), Align::Right, 0.8),
                column(&label::EACH, currency, Align::Right, 1.0),
                column(&label::PRICE, currency, Align::Right, 1.0),
            ],
            rows: rows.collect(),
        }));
    }
}

fn stock(blocks: &mut Vec<Block>, estimate: &Estimate, shop: Option<&Shop>) {
    let remainders: Vec<_> = remainders([estimate], shop).into_iter().map(|own| own.in_units_of(shop)).collect();
    if remainders.is_empty() {
        return;
    }
    blocks.push(Block::heading(label::STOCK_OF_THE_SHOP, None));
    let rows = remainders
        .iter()
        .map(|own| {
            let amount = |amount: f64| format!("{} {}", number(amount), own.unit);
            let left = own.left();
            row(vec![
                Cell::text(&own.what),
                Cell::text(amount(own.in_stock)),
                Cell::text(amount(own.used)),
                if left < 0.0 {
                    Cell::bold(label::SHORT_BY_AMOUNT.fill(&[("amount", &amount(-left))]))
                } else {
                    Cell::text(amount(left))
                },
            ])
        })
        .collect();
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            column(&label::WHAT, None, Align::Left, 2.0),
            column(&label::IN_STOCK, None, Align::Right, 1.0),
            column(&label::USED, None, Align::Right, 1.0),
            column(&label::LEFT, None, Align::Right, 1.0),
        ],
        rows,
    }));
}

fn joints(blocks: &mut Vec<Block>, estimate: &Estimate, units: Units) {
    if estimate.joints.len() < 2 && estimate.joints.iter().all(|joint| joint.count == 1) {
        return;
    }
    blocks.push(Block::heading(label::JOINTS, None));
    let rows = estimate
        .joints
        .iter()
        .map(|joint| {
            let length = joint.length_mm * units.length.1;
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
            column(&label::JOINT, None, Align::Left, 2.0),
            column(&label::COUNT, None, Align::Right, 1.0),
            column(&label::LENGTH_OF_ONE, Some(units.length.0), Align::Right, 1.0),
            column(&label::TOGETHER, Some(units.length.0), Align::Right, 1.0),
        ],
        rows,
    }));
}

fn runs(blocks: &mut Vec<Block>, estimate: &Estimate, terms: Terms, units: Units) {
    let options = SheetOptions { terms, ..SheetOptions::default() };
    let label = |key: &'static str| variables::term(key, terms);
    blocks.push(Block::heading(label("/runs"), None));
    let cells = |run: &RunEstimate| {
        let or_dash = |value: Option<f64>| value.map_or("–".to_owned(), number);
        let disagreement = run.disagreement_pct.map(|pct| format!("{pct:+.0} %"));
        row(vec![
            Cell::bold(&run.run),
            Cell::text(run.process),
            Cell::text(number(run.area_mm2.middle * units.area.1)),
            Cell::text(run.deposited_mm2.map_or("–".to_owned(), |area| spread(area.times(units.area.1)))),
            Cell::text(number(run.weld_metal_kg.middle * units.mass.1)),
            Cell::text(or_dash(run.filler.as_ref().map(|filler| filler.mass_kg.middle * units.mass.1))),
            Cell::text(or_dash(run.gas.as_ref().map(|gas| gas.volume_l * units.gas.1))),
            Cell::text(or_dash(run.arc_time_min)),
            Cell { note: disagreement, ..Cell::text(or_dash(run.by_rate_min)) },
        ])
    };
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            column(label("/runs/*/run"), None, Align::Left, 0.7),
            column(label("/runs/*/process"), None, Align::Left, 0.8),
            column(&label::SHARE, Some(units.area.0), Align::Right, 0.8),
            column(
                &label::LAID_BY_ONE_RUN.fill(&[("run", &options.low("/runs/*/run"))]),
                Some(units.area.0),
                Align::Right,
                1.6,
            ),
            column(&label::WELD_METAL, Some(units.mass.0), Align::Right, 1.0),
            column(label(keys::FILLER.of_process), Some(units.mass.0), Align::Right, 0.9),
            column(label(keys::SHIELDING_GAS.of_process), Some(units.gas.0), Align::Right, 0.8),
            column(&label::ARC_TIME, Some("min"), Align::Right, 0.9),
            column(&label::BY_RATE, Some("min"), Align::Right, 0.9),
        ],
        rows: estimate.runs.iter().map(cells).collect(),
    }));
    blocks.push(Block::Paragraph {
        text: label::SHARE_REMARK.fill(&[("run", &options.low("/runs/*/run"))]),
        small: true,
    });
}

fn not_stated(blocks: &mut Vec<Block>, estimate: &Estimate) {
    if estimate.not_stated.is_empty() {
        return;
    }
    let items = estimate.not_stated.iter().map(|text| NoticeItem { lead: None, text: text.clone() }).collect();
    blocks.push(Block::Notice { kind: NoticeKind::Caution, title: Some(label::NOT_STATED_AND_LEFT_OUT.into()), items });
}

fn assumptions(blocks: &mut Vec<Block>, estimate: &Estimate) {
    blocks.push(Block::heading(label::TAKEN_WHERE_NOTHING_IS_STATED, None));
    let items = estimate
        .assumptions
        .iter()
        .map(|assumption| {
            let source = assumption.source.as_ref().map_or(String::new(), |source| format!(". {}", source.line()));
            format!("{}{source}", assumption.text)
        })
        .collect();
    blocks.push(Block::List { numbered: false, small: true, items });
    blocks.push(Block::heading(label::EQUATIONS, None));
    let items = estimate.formulas.iter().map(|formula| format!("{}. {}", formula.equation, formula.source)).collect();
    blocks.push(Block::List { numbered: false, small: true, items });
}
