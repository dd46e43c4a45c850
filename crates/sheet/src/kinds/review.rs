//! The review sheet, for the inspector: verdict, findings, each value beside its limit, what is asked for and missing,
//! what the test records support, deviations, signature.

use seamwright_check::completeness::{self, Entry, State};
use seamwright_check::rule::Comparison;
use seamwright_check::{View, codes};
use seamwright_handbook::variables::Terms;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::{Procedure, Route};

use super::compared::{self, place};
use super::{DEFERS, SheetOptions, Subject, footer, masthead, source};
use crate::block::{Block, Cell, Column, NoticeItem, NoticeKind, Row, Sheet, Table};

/// Builds the sheet.
pub(super) fn sheet(subject: Subject<'_>, procedure: &Procedure, view: &View<'_>, options: SheetOptions) -> Sheet {
    let terms = options.terms;
    let matrix = completeness::matrix(view);
    let mut blocks = Vec::new();
    verdict(&mut blocks, subject, &matrix);
    findings(&mut blocks, subject, terms);
    let comparisons = &subject.outcome.comparisons;
    let (records, handbook) = compared::parted(comparisons);
    blocks.push(Block::heading("Values against limits", None));
    compared::values(&mut blocks, &handbook, terms, "No value of this document has a limit in the handbook.");
    blocks.push(Block::heading("Ranges against the test records", None));
    let needs = procedure
        .qualification
        .as_ref()
        .is_some_and(|own| matches!(own.route, Route::TestRecord | Route::PreProductionTest));
    let without = if needs {
        "The route needs a test record; none was given with this review, so no range was compared."
    } else {
        "The route needs no test record, and none was given with this review."
    };
    compared::values(&mut blocks, &records, terms, without);
    asked(&mut blocks, &matrix);
    deviations(&mut blocks, subject, terms);
    sources(&mut blocks, comparisons);
    blocks.push(Block::Signatures {
        boxes: vec![
            ("Reviewed by".into(), String::new()),
            ("Accepted, returned or rejected".into(), String::new()),
            ("Witness".into(), String::new()),
        ],
    });
    blocks.push(Block::Paragraph { text: DEFERS.into(), small: true });
    let mut facts = Vec::new();
    if let Some(code) = procedure.qualification.as_ref().and_then(|own| own.code) {
        facts.push(("Code".to_owned(), codes::title(code).to_owned()));
    }
    Sheet {
        masthead: masthead(subject, "review of a welding procedure specification", facts),
        blocks,
        footer: footer(subject),
        one_page: false,
        source: source(subject),
    }
}

fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// What the review comes to, in a box.
fn verdict(blocks: &mut Vec<Block>, subject: Subject<'_>, matrix: &[Entry]) {
    let outcome = subject.outcome;
    let errors = outcome.count(Severity::Error);
    let cautions = outcome.count(Severity::Caution);
    let missing = completeness::missing(matrix).count();
    let (kind, lead) = if errors > 0 {
        (NoticeKind::Stop, "Not acceptable as it stands")
    } else if cautions + missing + outcome.deviations.len() > 0 {
        (NoticeKind::Caution, "Acceptable where what is listed is answered")
    } else {
        (NoticeKind::Remark, "No fault found")
    };
    let text = format!(
        "{}, {}, {}; {} asked for and not stated; {}; {} held against a limit.",
        counted(errors, "error", "errors"),
        counted(cautions, "caution", "cautions"),
        counted(outcome.count(Severity::Note), "note", "notes"),
        counted(missing, "item", "items"),
        counted(outcome.deviations.len(), "stated deviation", "stated deviations"),
        counted(outcome.comparisons.len(), "value", "values"),
    );
    blocks.push(Block::heading("Verdict", None));
    blocks.push(Block::Notice { kind, title: None, items: vec![NoticeItem { lead: Some(lead.into()), text }] });
}

/// Every finding with its line, the worst first.
fn findings(blocks: &mut Vec<Block>, subject: Subject<'_>, terms: Terms) {
    let mut found: Vec<(usize, &Finding)> = subject
        .outcome
        .findings
        .iter()
        .map(|finding| (subject.loaded.tree.span_of(&finding.pointer).line, finding))
        .collect();
    if found.is_empty() {
        return;
    }
    let rank = |severity| match severity {
        Severity::Error => 0,
        Severity::Caution => 1,
        Severity::Note => 2,
    };
    found.sort_by_key(|(line, finding)| (rank(finding.severity), *line));
    let rows = found.into_iter().map(|(line, finding)| Row {
        cells: vec![
            Cell::bold(finding.severity.as_str()),
            Cell { note: Some(format!("line {line}")), ..Cell::text(place(&finding.pointer, terms)) },
            Cell { note: Some(finding.check.to_owned()), ..Cell::text(finding.message.as_str()) },
            Cell {
                note: finding.source.as_ref().map(seamwright_model::finding::SourceRef::line_with_doubt),
                ..Cell::text(finding.limit.as_deref().unwrap_or_default())
            },
            Cell::text(finding.hint.as_deref().unwrap_or_default()),
        ],
        marked: finding.severity == Severity::Error,
    });
    blocks.push(Block::heading("Findings", None));
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            Column::words("Severity", 0.65),
            Column::words("Where", 1.1),
            Column::words("Found", 2.0),
            Column::words("Limit", 1.7),
            Column::words("To write", 1.4),
        ],
        rows: rows.collect(),
    }));
}

/// The matrix of what the standard and the code ask for.
fn asked(blocks: &mut Vec<Block>, matrix: &[Entry]) {
    let mut standards: Vec<&'static str> = matrix.iter().map(|entry| entry.standard).collect();
    standards.dedup();
    for standard in standards {
        let entries: Vec<&Entry> = matrix.iter().filter(|entry| entry.standard == standard).collect();
        let count = |state| entries.iter().filter(|entry| entry.state == state).count();
        blocks.push(Block::heading(format!("What {standard} asks for"), None));
        blocks.push(Block::paragraph(format!(
            "{} stated, {} not applicable, {} missing; {} not specified, which the parties may ask for.",
            count(State::Stated),
            count(State::NotApplicable),
            count(State::Missing),
            count(State::Unspecified),
        )));
        let rows = entries.iter().map(|entry| Row {
            cells: vec![
                Cell::text(entry.reference.as_str()),
                Cell {
                    note: entry.process.as_ref().map(|process| format!("process {process}")),
                    ..Cell::text(entry.item.as_str())
                },
                Cell::text(entry.stated.as_str()),
                Cell { bold: entry.state == State::Missing, ..Cell::text(entry.state.in_words()) },
            ],
            marked: entry.state == State::Missing,
        });
        blocks.push(Block::Table(Table {
            caption: None,
            columns: vec![
                Column::words("Clause", 0.6),
                Column::words("Item", 1.8),
                Column::words("Stated", 2.6),
                Column::words("Result", 0.8),
            ],
            rows: rows.collect(),
        }));
    }
    blocks.push(Block::Paragraph {
        text: "Which items apply is from memory of the standards; verify against your edition.".into(),
        small: true,
    });
}

fn deviations(blocks: &mut Vec<Block>, subject: Subject<'_>, terms: Terms) {
    if subject.outcome.deviations.is_empty() {
        return;
    }
    let rows = subject.outcome.deviations.iter().map(|(finding, deviation)| Row {
        cells: vec![
            Cell { note: Some(finding.check.to_owned()), ..Cell::text(place(&finding.pointer, terms)) },
            Cell::text(finding.message.as_str()),
            Cell::text(deviation.reason.as_deref().unwrap_or_default()),
            Cell {
                note: deviation.date.map(|date| date.to_string()),
                ..Cell::text(deviation.by.as_deref().unwrap_or_default())
            },
        ],
        marked: false,
    });
    blocks.push(Block::heading("Deviations", None));
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            Column::words("Where", 1.2),
            Column::words("Found", 2.0),
            Column::words("Reason", 2.0),
            Column::words("By", 1.0),
        ],
        rows: rows.collect(),
    }));
}

fn sources(blocks: &mut Vec<Block>, comparisons: &[Comparison]) {
    let mut lines: Vec<String> = comparisons.iter().map(|comparison| comparison.source.line()).collect();
    lines.sort();
    lines.dedup();
    if !lines.is_empty() {
        blocks.push(Block::heading("Sources of the limits used", None));
        blocks.push(Block::List { numbered: false, small: true, items: lines });
    }
}
