//! The papers of a job: cover, traveller with a line to sign for each joint, office sheet, and price for the customer.

use seamwright_estimate::{Buy, Cost};
use seamwright_handbook::measure::trimmed;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Align, Block, Cell, Column, Field, NoticeItem, NoticeKind, Row, Sheet, Table};
use seamwright_page::words::label;

use super::{DEFERS, Subject, footer, masthead, source};

/// A paper of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JobPaper {
    /// What the binder holds.
    Cover,
    /// Each joint with lines to sign.
    Traveller,
    /// What the office reckons with.
    Office,
    /// What the customer is told.
    Quotation,
}

impl JobPaper {
    /// Every paper.
    pub const ALL: [Self; 4] = [Self::Cover, Self::Traveller, Self::Office, Self::Quotation];

    /// Its name, as file names have it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cover => "cover",
            Self::Traveller => "traveller",
            Self::Office => "office",
            Self::Quotation => "quotation",
        }
    }
}

/// What the papers print of a joint.
#[derive(Debug, Clone, PartialEq)]
pub struct JobRow {
    /// Name of the joint.
    pub joint: String,
    /// Drawing.
    pub drawing: String,
    /// Number of the procedure.
    pub procedure: String,
    /// Revision of the procedure.
    pub revision: String,
    /// Machine.
    pub machine: String,
    /// Welder.
    pub welder: String,
    /// Length of one piece, as stated.
    pub length: String,
    /// Leg that is asked for, as stated; empty where none is.
    pub leg: String,
    /// How many pieces.
    pub pieces: u32,
    /// Time of all pieces, h.
    pub hours: Option<f64>,
    /// Price of all pieces.
    pub price: Option<f64>,
    /// Price of one piece.
    pub each: Option<f64>,
}

/// What the papers of a job print.
#[derive(Debug, Clone, PartialEq)]
pub struct JobSheets {
    /// The joints.
    pub rows: Vec<JobRow>,
    /// The procedures that are not to be welded by, each with how it stands: `W-1 is a draft`.
    pub unready: Vec<String>,
    /// What it costs, where the shop states rates.
    pub cost: Option<Cost>,
    /// The price of all: the sum of those of the joints, each piece in whole cents; none where labour has no rate.
    pub total: Option<f64>,
    /// What must be bought.
    pub buying: Vec<Buy>,
    /// What stands against it: severity and words.
    pub findings: Vec<(String, String)>,
}

/// A paper of a job as a sheet.
pub fn job_sheet(paper: JobPaper, subject: Subject<'_>, papers: &JobSheets) -> Sheet {
    let mut blocks = Vec::new();
    let kind = match paper {
        JobPaper::Cover => {
            cover(&mut blocks, subject, papers);
            label::JOB
        }
        JobPaper::Traveller => {
            traveller(&mut blocks, papers);
            label::TRAVELLER
        }
        JobPaper::Office => {
            office(&mut blocks, papers);
            label::JOB_FOR_THE_OFFICE
        }
        JobPaper::Quotation => {
            quotation(&mut blocks, papers);
            label::QUOTATION
        }
    };
    if paper != JobPaper::Quotation {
        blocks.push(Block::Paragraph { text: DEFERS.into(), small: true });
    }
    let mut masthead = masthead(subject, kind, Vec::new(), SheetOptions::default());
    if masthead.manufacturer.is_empty() {
        let of_shop = subject.shop.and_then(|shop| shop.identification.manufacturer.as_deref());
        of_shop.unwrap_or_default().clone_into(&mut masthead.manufacturer);
    }
    let mut footer = footer(subject, SheetOptions::default());
    footer.checked = label::SOURCE_DIGEST_SENTENCE.fill(&[("digest", &source(subject).digest)]);
    Sheet {
        masthead,
        blocks,
        annex: Vec::new(),
        footer,
        one_page: false,
        large: false,
        planned: None,
        source: source(subject),
    }
}

fn table(columns: &[(&str, Align, f64)], rows: Vec<Vec<Cell>>) -> Block {
    let columns = columns.iter().map(|(heading, align, weight)| Column::new(*heading, *align, *weight)).collect();
    let rows = rows.into_iter().map(|cells| Row { cells, marked: false }).collect();
    Block::Table(Table { caption: None, columns, rows })
}

/// A table of the joints, with a column for the leg before that of the length where any of them states one.
///
/// What stands below the joints, a total, has no leg.
fn with_legs(papers: &JobSheets, mut columns: Vec<(&str, Align, f64)>, mut rows: Vec<Vec<Cell>>) -> Block {
    let length = columns.iter().position(|(heading, ..)| *heading == label::LENGTH.english());
    if let Some(place) = length.filter(|_| papers.rows.iter().any(|row| !row.leg.is_empty())) {
        columns.insert(place, (label::LEG_COLUMN.english(), Align::Right, 0.8));
        let legs = papers.rows.iter().map(|row| row.leg.as_str()).chain(std::iter::repeat(""));
        for (row, leg) in rows.iter_mut().zip(legs) {
            row.insert(place, Cell::text(whole(leg)));
        }
    }
    table(&columns, rows)
}

/// A quantity that does not break between its number and its unit.
fn whole(quantity: &str) -> String {
    quantity.replace(' ', "\u{a0}")
}

fn figure(value: f64) -> String {
    trimmed(value, if value.abs() >= 100.0 { 0 } else { 2 })
}

/// A price; nothing where no rate is known that would give one.
fn money(value: Option<f64>) -> String {
    value.filter(|value| *value > 0.0).map_or_else(String::new, |value| format!("{value:.2}"))
}

fn procedure(row: &JobRow) -> String {
    if row.revision.is_empty() {
        row.procedure.clone()
    } else {
        label::REFERENCE.fill(&[("number", &row.procedure), ("revision", &row.revision)])
    }
}

fn cover(blocks: &mut Vec<Block>, subject: Subject<'_>, papers: &JobSheets) {
    let identification = subject.loaded.document.identification();
    let mut fields = Vec::new();
    for (label, value) in [
        (label::CUSTOMER.english(), &identification.customer),
        (label::JOB_2.english(), &identification.job),
        (label::DRAWING.english(), &identification.drawing),
        (label::PREPARED_BY.english(), &identification.prepared_by),
    ] {
        fields.extend(value.as_deref().map(|value| Field::new(label, value)));
    }
    if !fields.is_empty() {
        blocks.push(Block::Fields { fields });
    }
    blocks.push(Block::heading(label::JOINTS, None));
    let rows = papers.rows.iter().map(|row| {
        let cells =
            [row.joint.clone(), row.drawing.clone(), procedure(row), whole(&row.length), row.pieces.to_string()];
        cells.into_iter().map(Cell::text).collect()
    });
    let columns = [
        (label::JOINT.english(), Align::Left, 1.0),
        (label::DRAWING.english(), Align::Left, 1.2),
        (label::PROCEDURE.english(), Align::Left, 1.4),
        (label::LENGTH.english(), Align::Right, 1.0),
        (label::PIECES_COLUMN.english(), Align::Right, 0.7),
    ];
    blocks.push(with_legs(papers, columns.to_vec(), rows.collect()));
    blocks.push(Block::heading(label::INSIDE, None));
    let mut cards: Vec<String> = Vec::new();
    for row in &papers.rows {
        let own = label::BENCH_CARD_PROCEDURE.fill(&[("procedure", &procedure(row))]);
        if !row.procedure.is_empty() && !cards.contains(&own) {
            cards.push(own);
        }
    }
    cards.insert(0, label::TRAVELLER_ENTRY.into());
    blocks.push(Block::List { numbered: true, small: false, items: cards });
    stands(blocks, papers);
}

fn stands(blocks: &mut Vec<Block>, papers: &JobSheets) {
    if papers.findings.is_empty() {
        return;
    }
    blocks.push(Block::heading(label::STANDS_AGAINST_IT, None));
    let mut items: Vec<String> = Vec::new();
    for (severity, text) in &papers.findings {
        let item = format!("{severity}: {text}");
        if !items.contains(&item) {
            items.push(item);
        }
    }
    blocks.push(Block::List { numbered: false, small: false, items });
}

fn traveller(blocks: &mut Vec<Block>, papers: &JobSheets) {
    if !papers.unready.is_empty() {
        let text = label::NOT_TO_BE_WELDED_BY.fill(&[("procedures", &papers.unready.join("; "))]);
        let items = vec![NoticeItem { lead: None, text }];
        blocks.push(Block::Notice { kind: NoticeKind::Stop, title: None, items });
    }
    blocks.push(Block::Paragraph { text: label::TRAVELLER_ASKS.into(), small: false });
    let rows = papers.rows.iter().map(|row| {
        let cells = [
            row.joint.clone(),
            row.drawing.clone(),
            procedure(row),
            row.machine.clone(),
            row.welder.clone(),
            whole(&row.length),
            row.pieces.to_string(),
        ];
        cells.into_iter().map(Cell::text).chain((0..3).map(|_| Cell::to_write_in())).collect()
    });
    let columns = [
        (label::JOINT.english(), Align::Left, 0.7),
        (label::DRAWING.english(), Align::Left, 0.9),
        (label::PROCEDURE.english(), Align::Left, 1.2),
        (label::MACHINE.english(), Align::Left, 1.1),
        (label::WELDER.english(), Align::Left, 1.0),
        (label::LENGTH.english(), Align::Right, 0.8),
        (label::PIECES_COLUMN.english(), Align::Right, 0.6),
        (label::FIT_UP_SIGN.english(), Align::Left, 1.2),
        (label::WELDED_SIGN_AND_DATE.english(), Align::Left, 1.5),
        (label::EXAMINED_SIGN_AND_DATE.english(), Align::Left, 1.5),
    ];
    blocks.push(with_legs(papers, columns.to_vec(), rows.collect()));
    blocks.push(Block::Paragraph { text: label::CAUTIONS_HOLD.into(), small: true });
}

fn office(blocks: &mut Vec<Block>, papers: &JobSheets) {
    blocks.push(Block::heading(label::JOINTS, None));
    let rows = papers.rows.iter().map(|row| {
        let cells = [
            row.joint.clone(),
            procedure(row),
            row.pieces.to_string(),
            whole(&row.length),
            row.hours.map_or_else(String::new, figure),
            money(row.each),
            money(row.price),
        ];
        cells.into_iter().map(Cell::text).collect()
    });
    blocks.push(table(
        &[
            (label::JOINT.english(), Align::Left, 1.0),
            (label::PROCEDURE.english(), Align::Left, 1.4),
            (label::PIECES_COLUMN.english(), Align::Right, 0.6),
            (label::LENGTH.english(), Align::Right, 0.9),
            (label::HOURS.english(), Align::Right, 0.7),
            (label::EACH.english(), Align::Right, 0.9),
            (label::PRICE.english(), Align::Right, 0.9),
        ],
        rows.collect(),
    ));
    if let Some(cost) = &papers.cost {
        blocks.push(Block::heading(label::COST, None));
        let mut rows: Vec<Vec<Cell>> = cost
            .lines
            .iter()
            .map(|line| {
                let amount = format!("{} {}", figure(line.amount), line.unit);
                vec![
                    Cell::text(&line.what),
                    Cell::text(amount),
                    Cell::text(
                        line.share_of().map_or_else(|| format!("{:.2}", line.price), |whole| format!("of {whole:.2}")),
                    ),
                    Cell::text(format!("{:.2}", line.cost)),
                ]
            })
            .collect();
        let mut sum = |what: &str, value: f64| {
            rows.push(vec![Cell::bold(what), Cell::text(""), Cell::text(""), Cell::bold(format!("{value:.2}"))]);
        };
        sum(&label::COST, cost.total);
        // Without a price of all, that of the cost is none either.
        if papers.total.is_some() {
            if let Some((what, amount)) = &cost.added {
                sum(what, *amount);
            }
            sum(if cost.least_charge { &label::PRICE_THE_LEAST_CHARGE } else { &label::PRICE }, cost.price);
        }
        if let Some(total) = papers.total.filter(|total| (total - cost.price).abs() > 0.004) {
            sum("Quoted, each piece in whole cents", total);
        }
        let price: String = if cost.currency.is_empty() {
            label::COST.into()
        } else {
            label::COST_CURRENCY.fill(&[("currency", &cost.currency)])
        };
        blocks.push(table(
            &[
                (label::WHAT.english(), Align::Left, 2.2),
                (label::AMOUNT.english(), Align::Right, 1.0),
                (label::PRICE_OF_ONE.english(), Align::Right, 1.0),
                (&price, Align::Right, 1.0),
            ],
            rows,
        ));
        if !cost.not_stated.is_empty() {
            blocks.push(Block::heading(label::NOT_IN_THE_COST, None));
            blocks.push(Block::List { numbered: false, small: false, items: cost.not_stated.clone() });
        }
    }
    if !papers.buying.is_empty() {
        blocks.push(Block::heading(label::TO_BUY, None));
        let rows = papers.buying.iter().map(|buy| {
            let packages = buy.packages().unwrap_or_default();
            let stock = buy.in_stock.map_or_else(String::new, |own| format!("{} {}", figure(own), buy.unit));
            [
                buy.what.clone(),
                format!("{} {}", figure(buy.used), buy.unit),
                stock,
                format!("{} {}", figure(buy.amount), buy.unit),
                packages,
            ]
            .into_iter()
            .map(Cell::text)
            .collect()
        });
        blocks.push(table(
            &[
                (label::WHAT.english(), Align::Left, 2.0),
                (label::NEEDED.english(), Align::Right, 1.0),
                (label::IN_STOCK.english(), Align::Right, 1.0),
                (label::TO_BUY.english(), Align::Right, 1.0),
                (label::PACKAGES.english(), Align::Right, 1.0),
            ],
            rows.collect(),
        ));
    }
    stands(blocks, papers);
}

fn quotation(blocks: &mut Vec<Block>, papers: &JobSheets) {
    let Some(cost) = &papers.cost else { return };
    let rows = papers.rows.iter().map(|row| {
        let cells = [
            row.joint.clone(),
            row.drawing.clone(),
            whole(&row.length),
            row.pieces.to_string(),
            money(row.each),
            money(row.price),
        ];
        cells.into_iter().map(Cell::text).collect()
    });
    let mut rows: Vec<Vec<Cell>> = rows.collect();
    let mut total = vec![Cell::bold(label::TOTAL)];
    total.extend((0..4).map(|_| Cell::text("")));
    total.push(Cell::bold(format!("{:.2}", papers.total.unwrap_or(cost.price))));
    rows.push(total);
    let price: String = if cost.currency.is_empty() {
        label::PRICE.into()
    } else {
        label::PRICE_CURRENCY.fill(&[("currency", &cost.currency)])
    };
    let columns = [
        (label::JOINT.english(), Align::Left, 1.2),
        (label::DRAWING.english(), Align::Left, 1.2),
        (label::LENGTH.english(), Align::Right, 1.0),
        (label::PIECES_COLUMN.english(), Align::Right, 0.7),
        (label::EACH.english(), Align::Right, 1.0),
        (&price, Align::Right, 1.0),
    ];
    blocks.push(with_legs(papers, columns.to_vec(), rows));
    if cost.least_charge {
        blocks.push(Block::Paragraph {
            text: "The least charge of the shop for a job is in the total.".into(),
            small: false,
        });
    }
    blocks.push(Block::Paragraph {
        text: "The price is for the welding as listed: material, cutting, coating, delivery and taxes are not in it."
            .into(),
        small: false,
    });
    let open = papers.rows.iter().filter(|row| row.price.is_none()).count();
    if open > 0 {
        blocks.push(Block::Paragraph {
            text: label::OPEN_JOINTS_ARE_NOT_PRICED_YET.fill(&[("open", &open.to_string())]),
            small: false,
        });
    }
    if papers.findings.iter().any(|(_, text)| text.contains("do not make the size")) {
        blocks.push(Block::Paragraph { text: label::THE_PRICE_IS_PROVISIONAL_THE_PROCEDURE_OF.into(), small: false });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cover_office_sheet_and_traveller_say_which_procedure_is_a_draft() {
        let finding = ("caution".to_owned(), "procedure W-1 is a draft, and not for use".to_owned());
        let papers = |unready: &[&str]| JobSheets {
            rows: Vec::new(),
            unready: unready.iter().map(|said| (*said).to_owned()).collect(),
            cost: None,
            total: None,
            buying: Vec::new(),
            findings: unready.iter().map(|_| finding.clone()).collect(),
        };
        for said in [true, false] {
            let papers = papers(if said { &["W-1 is a draft"] } else { &[] });
            for paper in [traveller, office, stands] {
                let mut blocks = Vec::new();
                paper(&mut blocks, &papers);
                assert_eq!(format!("{blocks:?}").contains("W-1 is a draft"), said);
            }
        }
    }
}
