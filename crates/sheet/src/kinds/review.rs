//! The review, as an inspector sends it back: verdict, findings by clause and item with room for disposition and reply,
//! what lies outside and within its limits, what is asked for and missing, what was not reviewed and why, the sources
//! numbered once.

mod data;

use seamwright_check::codes;
use seamwright_check::completeness::{self, Entry, State};
use seamwright_check::rule::Comparison;
use seamwright_check::rules::metal::{base_metal_unknown, filler_unknown};
use seamwright_handbook::variables::Terms;
use seamwright_model::capital::capital;
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Procedure, Route};
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Cell, Column, NoticeItem, NoticeKind, Row, Sheet, Table};
use seamwright_page::words::label;
use seamwright_weld::View;

use self::data::Numbered;
pub use self::data::{
    REVIEW_COLUMNS, ReviewFinding, ReviewedItem, review_csv, review_findings, review_too_long, reviewed_items,
};
use super::alike::{alike, places};
use super::compared;
use super::{DEFERS, Subject, ferrite, footer, joined, masthead, source};

/// Room to write in: a column of empty cells keeps its width.
const ROOM: &str = "";

/// The sheet of a subject; none where it is another kind of document.
pub(super) fn of(subject: Subject<'_>, options: SheetOptions) -> Option<Result<Sheet, String>> {
    let Document::Procedure(procedure) = &subject.loaded.document else { return None };
    let too_long = review_too_long(subject.outcome);
    Some(too_long.map_or_else(|| Ok(sheet(subject, procedure, &View::new(procedure), options)), Err))
}

/// Builds the sheet.
fn sheet(subject: Subject<'_>, procedure: &Procedure, view: &View<'_>, options: SheetOptions) -> Sheet {
    let terms = options.terms;
    let matrix = completeness::asked(view);
    let mut numbers = Numbered::default();
    let mut blocks = Vec::new();
    parties(&mut blocks, subject);
    verdict(&mut blocks, subject, &matrix);
    findings(&mut blocks, subject, view, terms, &mut numbers);
    missing(&mut blocks, &matrix);
    let (records, handbook) = compared::parted(&subject.outcome.comparisons);
    blocks.push(Block::heading(label::VALUES_AGAINST_LIMITS, None));
    values(&mut blocks, &handbook, terms, &mut numbers, &label::NO_VALUE_OF_THIS_DOCUMENT_HAS);
    blocks.push(Block::heading(label::RANGES_AGAINST_THE_TEST_RECORDS, None));
    let needs = needs_record(procedure);
    let without = if needs { label::ROUTE_NEEDS_A_RECORD } else { label::ROUTE_NEEDS_NO_RECORD };
    values(&mut blocks, &records, terms, &mut numbers, &without);
    blocks.extend(ferrite::block(view, subject.lately));
    deviations(&mut blocks, subject, terms);
    not_reviewed(&mut blocks, subject, procedure, needs && records.is_empty());
    stated(&mut blocks, &matrix);
    blocks.push(Block::heading(label::SOURCES, None));
    let lines = numbers.lines();
    let lines: Vec<String> = lines.iter().enumerate().map(|(at, line)| format!("[{}] {line}", at + 1)).collect();
    blocks.push(Block::Paragraph { text: format!("{}.", lines.join("; ")), small: true });
    blocks.push(Block::Signatures {
        boxes: vec![
            (label::REVIEWED_BY.into(), String::new()),
            (label::ACCEPTED_RETURNED_OR_REJECTED.into(), String::new()),
            (label::REPLY_OF_THE_SUBMITTER.into(), String::new()),
        ],
    });
    blocks.push(Block::Notice {
        kind: NoticeKind::Caution,
        title: None,
        items: vec![NoticeItem {
            lead: Some(label::A_REVIEW_READS_PAPER.into()),
            text: label::WHAT_A_REVIEW_DOES_NOT_SEE.fill(&[("defers", &DEFERS)]),
        }],
    });
    let mut facts = Vec::new();
    if let Some(code) = procedure.qualification.as_ref().and_then(|own| own.code) {
        facts.push((label::CODE.into(), codes::title(code).to_owned()));
    }
    Sheet {
        masthead: masthead(subject, label::REVIEW_OF_A_WELDING_PROCEDURE_SPECIFICATION, facts, options),
        blocks,
        annex: Vec::new(),
        footer: footer(subject, options),
        one_page: false,
        large: false,
        planned: None,
        source: source(subject),
    }
}

fn needs_record(procedure: &Procedure) -> bool {
    let qualification = procedure.qualification.as_ref();
    qualification.is_some_and(|own| matches!(own.route, Route::TestRecord | Route::PreProductionTest))
}

/// Who submits and who reviews, with cells to fill in.
fn parties(blocks: &mut Vec<Block>, subject: Subject<'_>) {
    let identification = subject.loaded.document.identification();
    let who = joined([
        identification.manufacturer.as_deref().map(Into::into),
        identification.prepared_by.as_deref().map(Into::into),
    ]);
    let columns = [label::SUBMITTED_BY, label::REVIEWED_BY, label::DATE_OF_REVIEW, label::REVIEW_NUMBER];
    let mut cells = vec![Cell::bold(who)];
    // Room to write: an empty line keeps its height.
    cells.extend((1..columns.len()).map(|_| Cell::text(ROOM)));
    blocks.push(Block::Table(Table {
        caption: None,
        columns: columns.into_iter().map(|heading| Column::words(heading, 1.0)).collect(),
        rows: vec![Row { cells, marked: false }],
    }));
}

/// What the review comes to, in a box.
fn verdict(blocks: &mut Vec<Block>, subject: Subject<'_>, matrix: &[Entry]) {
    let outcome = subject.outcome;
    let errors = outcome.count(Severity::Error);
    let cautions = outcome.count(Severity::Caution);
    let missing = completeness::missing(matrix).count();
    let not_reviewed: Vec<&str> = outcome
        .findings
        .iter()
        .filter(|finding| [base_metal_unknown::RULE.name, filler_unknown::RULE.name].contains(&finding.check))
        .map(|finding| finding.message.as_str())
        .collect();
    let (kind, lead) = if errors > 0 {
        (NoticeKind::Stop, label::NOT_ACCEPTABLE_AS_IT_STANDS)
    } else if !not_reviewed.is_empty() {
        (NoticeKind::Caution, label::NOT_REVIEWED_IN_PART)
    } else if cautions + missing + outcome.deviations.len() > 0 {
        (NoticeKind::Caution, label::ACCEPTABLE_WHERE_WHAT_IS_LISTED_IS)
    } else {
        (NoticeKind::Remark, label::NO_FAULT_FOUND)
    };
    let options = SheetOptions::default();
    let text = label::VERDICT_COUNTS.fill(&[
        ("errors", &options.count(errors, label::ONE_ERROR, label::MANY_ERRORS)),
        ("cautions", &options.count(cautions, label::ONE_CAUTION, label::MANY_CAUTIONS)),
        ("notes", &options.count(outcome.count(Severity::Note), label::ONE_NOTE, label::MANY_NOTES)),
        ("items", &options.count(missing, label::ONE_ITEM, label::MANY_ITEMS)),
        ("deviations", &options.count(outcome.deviations.len(), label::ONE_DEVIATION, label::MANY_DEVIATIONS)),
        ("values", &options.count(outcome.comparisons.len(), label::ONE_VALUE, label::MANY_VALUES)),
    ]);
    let text = if not_reviewed.is_empty() { text } else { format!("{text} {}.", capital(&not_reviewed.join("; "))) };
    blocks.push(Block::heading(label::VERDICT, None));
    blocks.push(Block::Notice { kind, title: None, items: vec![NoticeItem { lead: Some(lead.into()), text }] });
}

/// Every finding by clause and item, the worst first, with columns to answer it in.
fn findings(blocks: &mut Vec<Block>, subject: Subject<'_>, view: &View<'_>, terms: Terms, numbers: &mut Numbered) {
    let found = review_findings(subject.loaded, subject.outcome, view, terms);
    if found.is_empty() {
        return;
    }
    let rows = found.into_iter().map(|finding| {
        let source = finding.source.as_deref().map_or(String::new(), |line| format!(" [{}]", numbers.of(line)));
        let limit =
            finding.limit.as_deref().map_or(String::new(), |limit| label::LIMIT_LIMIT.fill(&[("limit", limit)]));
        Row {
            marked: finding.severity == Severity::Error.as_str(),
            cells: vec![
                Cell { note: Some(finding.severity), ..Cell::bold(finding.number.to_string()) },
                Cell { note: finding.clause, ..Cell::text(finding.item) },
                Cell { note: Some(finding.check), ..Cell::text(format!("{}.{limit}{source}", finding.found)) },
                Cell::text(finding.state),
                Cell::text(ROOM),
                Cell::text(ROOM),
            ],
        }
    });
    blocks.push(Block::heading(label::FINDINGS, None));
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            Column::words(label::ORDINAL, 0.5),
            Column::words(label::ITEM_AND_CLAUSE, 1.1),
            Column::words(label::FOUND, 2.1),
            Column::words(label::STATE_THIS, 1.6),
            Column::words(label::DISPOSITION, 0.8),
            Column::words(label::REPLY, 0.9),
        ],
        rows: rows.collect(),
    }));
}

/// What is asked for and missing, and what the parties may ask for.
fn missing(blocks: &mut Vec<Block>, matrix: &[Entry]) {
    for standard in standards(matrix) {
        let of = |state: State| matrix.iter().filter(move |entry| entry.standard == standard && entry.state == state);
        blocks.push(Block::heading(label::WHAT_STANDARD_ASKS_FOR.fill(&[("standard", standard)]), None));
        let count = |state: State| of(state).count().to_string();
        blocks.push(Block::paragraph(label::COMPLETENESS_COUNTS.fill(&[
            ("stated", &count(State::Stated)),
            ("inapplicable", &count(State::NotApplicable)),
            ("missing", &count(State::Missing)),
            ("unspecified", &count(State::Unspecified)),
        ])));
        let rows: Vec<Row> = of(State::Missing)
            .map(|entry| Row {
                cells: vec![
                    Cell::bold(entry.reference.as_str()),
                    Cell {
                        note: entry
                            .process
                            .as_ref()
                            .map(|process| label::PROCESS_PROCESS.fill(&[("process", process)])),
                        ..Cell::text(entry.item.as_str())
                    },
                    Cell::text(label::MISSING),
                    Cell::text(ROOM),
                    Cell::text(ROOM),
                ],
                marked: true,
            })
            .collect();
        if !rows.is_empty() {
            blocks.push(Block::Table(Table {
                caption: None,
                columns: vec![
                    Column::words(label::CLAUSE, 0.6),
                    Column::words(label::ITEM, 2.4),
                    Column::words(label::RESULT, 0.6),
                    Column::words(label::DISPOSITION, 0.8),
                    Column::words(label::REPLY, 0.9),
                ],
                rows,
            }));
        }
        if of(State::Unspecified).next().is_some() {
            let items: Vec<String> =
                of(State::Unspecified).map(|entry| format!("{} {}", entry.reference, entry.item)).collect();
            blocks.push(Block::Paragraph {
                text: label::NOT_SPECIFIED_ITEMS.fill(&[("items", &items.join("; "))]),
                small: true,
            });
        }
    }
}

fn standards(matrix: &[Entry]) -> Vec<&'static str> {
    let mut standards: Vec<&'static str> = matrix.iter().map(|entry| entry.standard).collect();
    standards.dedup();
    standards
}

/// What is asked for and stated, item by item in running text: it is complete, and asks for no answer.
fn stated(blocks: &mut Vec<Block>, matrix: &[Entry]) {
    for standard in standards(matrix) {
        let of = |entry: &&Entry| entry.standard == standard && entry.state == State::Stated;
        let items: Vec<String> = matrix
            .iter()
            .filter(of)
            .map(|entry| format!("{} {}: {}", entry.reference, entry.item, entry.stated))
            .collect();
        if items.is_empty() {
            continue;
        }
        blocks.push(Block::heading(label::STATED_OF_WHAT_STANDARD_ASKS_FOR.fill(&[("standard", standard)]), None));
        blocks.push(Block::Paragraph {
            text: label::WHICH_ITEMS_APPLY.fill(&[("items", &items.join("; "))]),
            small: true,
        });
    }
}

/// Values outside their limits, loud, a row each; those within, quiet, two abreast.
fn values(blocks: &mut Vec<Block>, comparisons: &[&Comparison], terms: Terms, numbers: &mut Numbered, without: &str) {
    if comparisons.is_empty() {
        blocks.push(Block::paragraph(without));
        return;
    }
    let said = |own: &Comparison, within| (own.stated.clone(), own.limit.clone(), own.source.line(), within);
    let lines = compared::merged(comparisons)
        .into_iter()
        .map(|(own, is_within)| (own.pointer.as_str(), said(own, is_within), (own, is_within)));
    let (mut outside, mut within, mut count) = (Vec::new(), Vec::new(), 0);
    for ((comparison, is_within), pointers) in alike(lines) {
        let item = places(&pointers, terms);
        let limit = format!("{} [{}]", comparison.limit, numbers.of(&comparison.source.line()));
        if is_within {
            within.push(format!("{item}: {} ({limit})", comparison.stated));
            count += pointers.len();
        } else {
            let cells = vec![
                Cell::bold(item),
                Cell::bold(comparison.stated.as_str()),
                Cell::text(limit),
                Cell::bold(label::OUTSIDE),
            ];
            outside.push(Row { cells, marked: true });
        }
    }
    if !outside.is_empty() {
        blocks.push(Block::Table(Table {
            caption: None,
            columns: vec![
                Column::words(label::ITEM, 1.4),
                Column::words(label::STATED, 1.0),
                Column::words(label::LIMIT_AND_SOURCE, 2.0),
                Column::words(label::RESULT, 0.6),
            ],
            rows: outside,
        }));
    }
    if within.is_empty() {
        return;
    }
    blocks.push(Block::Paragraph {
        text: label::VALUES_WITHIN_SAID.fill(&[
            ("values", &SheetOptions::default().count(count, label::ONE_VALUE, label::MANY_VALUES)),
            ("said", &within.join("; ")),
        ]),
        small: true,
    });
}

fn deviations(blocks: &mut Vec<Block>, subject: Subject<'_>, terms: Terms) {
    if subject.outcome.deviations.is_empty() {
        return;
    }
    let all = subject.outcome.deviations.iter().map(|(finding, why)| {
        let said = (data::said(finding), why.reason.as_deref(), why.by.as_deref(), why.date);
        (finding.pointer.as_str(), said, (finding, why))
    });
    let rows = alike(all).into_iter().map(|((finding, deviation), pointers)| {
        let cells = vec![
            Cell { note: Some(finding.check.to_owned()), ..Cell::text(places(&pointers, terms)) },
            Cell::text(finding.message.as_str()),
            Cell::text(deviation.reason.as_deref().unwrap_or_default()),
            Cell {
                note: deviation.date.map(|date| date.to_string()),
                ..Cell::text(deviation.by.as_deref().unwrap_or_default())
            },
            Cell::text(ROOM),
        ];
        Row { cells, marked: false }
    });
    blocks.push(Block::heading(label::DEVIATIONS, None));
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            Column::words(label::ITEM, 1.2),
            Column::words(label::FOUND, 2.0),
            Column::words(label::REASON, 2.0),
            Column::words(label::BY, 0.9),
            Column::words(label::DISPOSITION, 0.8),
        ],
        rows: rows.collect(),
    }));
}

/// What the review leaves out, and why.
fn not_reviewed(blocks: &mut Vec<Block>, subject: Subject<'_>, procedure: &Procedure, record_lacks: bool) {
    let mut items: Vec<String> = Vec::new();
    if record_lacks {
        items.push(label::QUALIFIED_RANGES_NO_TEST_RECORD_CAME_WITH.into());
    }
    if subject.shop.is_none() {
        items.push(label::MACHINES_STOCK_AND_WELDERS_NO_SHOP_WAS.into());
    }
    let compared = subject.outcome.comparisons.len();
    let options = SheetOptions::default();
    items.push(label::VALUES_WITHOUT_A_LIMIT_IN_THE.fill(&[
        ("values", &options.count(subject.outcome.examined, label::ONE_VALUE, label::MANY_VALUES)),
        ("comparisons", &options.count(compared, label::ONE_COMPARISON, label::MANY_COMPARISONS)),
    ]));
    match procedure.qualification.as_ref() {
        Some(own) if own.edition.is_some() => {
            items.push(label::TEXT_OF_THE_CODE.into());
        }
        _ => items.push(label::THE_EDITION_OF_THE_CODE_NONE_IS.into()),
    }
    if procedure.notes.iter().any(|note| !note.is_empty()) {
        items.push(label::NOTES_OF_THE_AUTHOR_WORDS_WHICH_NO.into());
    }
    items.push(label::CERTIFICATES_CALIBRATION_DRAWINGS_AND_THE_WELD_ITSELF.into());
    blocks.push(Block::heading(label::NOT_REVIEWED_AND_WHY, None));
    blocks.push(Block::List { numbered: false, small: false, items });
}
