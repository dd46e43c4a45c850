//! Qualification, people, notes, history, deviations, and what was checked.

use seamwright_check::{Outcome, codes};
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::{Procedure, Qualification, Route};

use crate::block::{Block, Cell, Column, NoticeItem, NoticeKind, Row, Table};
use crate::kinds::words::{code_title, field, labels, section};
use crate::kinds::{compared, joined};

/// What a procedure whose route needs a test record is stamped without one, or where the given ones do not support it.
pub(super) fn stamp(qualification: Option<&Qualification>, outcome: &Outcome) -> Option<String> {
    let qualification = qualification?;
    let needs_record = matches!(qualification.route, Route::TestRecord | Route::PreProductionTest);
    let against = |finding: &Finding| codes::compare::RULES.iter().any(|rule| rule.name == finding.check);
    let why = if qualification.records.is_empty() {
        "no test record named"
    } else if outcome.findings.iter().any(|own| own.severity == Severity::Error && against(own)) {
        "outside its test records"
    } else {
        return None;
    };
    needs_record.then(|| format!("NOT QUALIFIED: {why}"))
}

/// What the test records beside the procedure support, where there are any.
pub(super) fn qualified(blocks: &mut Vec<Block>, outcome: &Outcome, terms: Terms) {
    let (records, _) = compared::parted(&outcome.comparisons);
    if !records.is_empty() {
        blocks.push(Block::heading("Qualified ranges", None));
        compared::values(blocks, &records, terms, "");
        blocks.push(Block::Paragraph {
            text:
                "Ranges of the test records of this procedure. What is from memory of a code may differ from its text; \
                   verify against your edition."
                    .into(),
            small: true,
        });
    }
}

/// Qualification, identification beyond the masthead, notes and the history.
pub(super) fn people(blocks: &mut Vec<Block>, procedure: &Procedure, terms: Terms) {
    let label = |key: &'static str| variables::term(key, terms);
    let identification = &procedure.identification;
    let qualification = procedure.qualification.as_ref();
    section(
        blocks,
        &labels(&["/qualification", "/identification"], terms),
        Some(&variables::clauses(["/qualification", "/identification"])),
        vec![
            field(label("/qualification/route"), qualification.map(|q| q.route.to_string())),
            field(
                label("/qualification/code"),
                qualification.map(|q| {
                    joined([
                        q.code.map(|code| code_title(code).to_owned()),
                        q.edition.as_deref().map(Into::into),
                        q.level.as_deref().map(|level| format!("level {level}")),
                    ])
                }),
            ),
            field(
                label("/qualification/records"),
                qualification.and_then(|q| {
                    (!q.records.is_empty())
                        .then(|| q.records.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "))
                }),
            ),
            field(label("/qualification/toughness"), qualification.and_then(|q| q.toughness.as_deref())),
            field(label("/identification/customer"), identification.customer.as_deref()),
            field(label("/identification/job"), identification.job.as_deref()),
            field(label("/identification/drawing"), identification.drawing.as_deref()),
            field(label("/identification/location"), identification.location.as_deref()),
            field(label("/identification/shop"), identification.shop.as_deref()),
        ],
    );
    if !procedure.notes.is_empty() {
        blocks.push(Block::heading(label("/notes"), None));
        blocks.push(Block::List {
            numbered: false,
            small: false,
            items: procedure.notes.iter().map(ToString::to_string).collect(),
        });
    }
    if !procedure.revisions.is_empty() {
        blocks.push(Block::heading(label("/revisions"), None));
        blocks.push(Block::Table(Table {
            caption: None,
            columns: vec![
                Column::words(label("/revisions/*/revision"), 0.6),
                Column::words(label("/revisions/*/date"), 0.8),
                Column::words(label("/revisions/*/change"), 3.0),
                Column::words(label("/revisions/*/by"), 1.0),
            ],
            rows: procedure
                .revisions
                .iter()
                .map(|entry| Row {
                    cells: vec![
                        Cell::bold(entry.revision.to_string()),
                        Cell::text(entry.date.map_or(String::new(), |date| date.to_string())),
                        Cell::text(entry.change.to_string()),
                        Cell::text(entry.by.as_deref().unwrap_or_default()),
                    ],
                    marked: false,
                })
                .collect(),
        }));
    }
}

pub(super) fn deviations(blocks: &mut Vec<Block>, outcome: &seamwright_check::Outcome) {
    if outcome.deviations.is_empty() {
        return;
    }
    blocks.push(Block::heading("Deviations", None));
    let items = outcome
        .deviations
        .iter()
        .map(|(finding, deviation)| NoticeItem {
            lead: Some(finding.check.to_owned()),
            text: format!(
                "{}. Accepted because: {}{}{}",
                finding.message,
                deviation.reason.as_deref().unwrap_or_default(),
                deviation.by.as_deref().map_or(String::new(), |by| format!(" ({by}")),
                match (&deviation.by, deviation.date) {
                    (Some(_), Some(date)) => format!(", {date})"),
                    (Some(_), None) => ")".to_owned(),
                    (None, Some(date)) => format!(" ({date})"),
                    (None, None) => String::new(),
                }
            ),
        })
        .collect();
    blocks.push(Block::Notice { kind: NoticeKind::Remark, title: None, items });
}

/// What was checked: findings that stand, and the sources of the limits used.
pub(super) fn checked(blocks: &mut Vec<Block>, outcome: &Outcome) {
    blocks.push(Block::heading("What was checked", None));
    let loud: Vec<&Finding> = outcome.findings.iter().collect();
    let limits = compared::parted(&outcome.comparisons).1.len();
    blocks.push(Block::paragraph(format!(
        "{} values examined and {limits} comparisons with limits of the handbook: {} errors, {} cautions, {} notes.",
        outcome.examined,
        outcome.count(Severity::Error),
        outcome.count(Severity::Caution),
        outcome.count(Severity::Note),
    )));
    if !loud.is_empty() {
        let items = loud
            .iter()
            .map(|finding| NoticeItem {
                lead: Some(finding.severity.as_str().to_owned()),
                text: format!(
                    "{} ({}){}",
                    finding.message,
                    finding.check,
                    finding.source.as_ref().map_or(String::new(), |source| format!(". {}", source.line()))
                ),
            })
            .collect();
        blocks.push(Block::Notice { kind: NoticeKind::Remark, title: Some("Findings".into()), items });
    }
    let mut sources: Vec<String> = outcome.comparisons.iter().map(|comparison| comparison.source.line()).collect();
    sources.sort();
    sources.dedup();
    if !sources.is_empty() {
        blocks.push(Block::Paragraph { text: "Sources of the limits used:".into(), small: true });
        blocks.push(Block::List { numbered: false, small: true, items: sources });
    }
}
