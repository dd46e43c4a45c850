//! Inspection, qualification, deviations, and what was checked.

use seamwright_check::Outcome;
use seamwright_handbook::code_scope::full_title;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::capital::capital;
use seamwright_model::finding::Severity;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, NoticeItem, NoticeKind};
use seamwright_page::words::label;
use seamwright_weld::View;

use crate::kinds::words::{clauses, joined_option, plain, push_strip, strip_field};
use crate::kinds::{Subject, compared, joined, standing};

/// Findings that stand on the sheet in words, the gravest; the review has all.
const MOST_FINDINGS: usize = 4;

/// How the weld is inspected and the procedure qualified, with the findings counted by severity.
pub(super) fn inspect(blocks: &mut Vec<Block>, subject: Subject<'_>, view: &View<'_>, terms: Terms) {
    let options = SheetOptions { terms, ..SheetOptions::default() };
    let label = |key: &'static str| variables::term(key, terms);
    let procedure = view.procedure;
    let identification = &procedure.identification;
    let qualification = procedure.qualification.as_ref();
    let mut fields = Vec::new();
    for entry in &procedure.inspection {
        let name = joined([Some(plain(&entry.method)), entry.extent.as_deref().map(Into::into)]);
        let name = capital(&name);
        let asked = entry.acceptance.as_deref().unwrap_or(&label::ACCEPTANCE_NOT_STATED);
        fields.push(strip_field(&name, Some(asked)));
    }
    fields.extend([
        strip_field(label("/qualification/route"), qualification.map(|q| plain(q.route.as_str()))),
        strip_field(
            label("/qualification/code"),
            qualification.filter(|q| q.edition.is_some() || q.level.is_some()).map(|q| {
                joined([
                    q.code.map(|code| full_title(code.as_str()).to_owned()),
                    q.edition.as_deref().map(Into::into),
                    q.level.as_deref().map(|level| label::LEVEL_LEVEL.fill(&[("level", level)])),
                ])
            }),
        ),
        strip_field(
            label("/qualification/records"),
            qualification.and_then(|q| {
                (!q.records.is_empty())
                    .then(|| q.records.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "))
            }),
        ),
        strip_field(
            label("/qualification/construction"),
            qualification.and_then(|q| {
                joined_option([
                    q.construction.map(|own| full_title(own.as_str()).to_owned()),
                    q.execution_class.map(|own| own.to_string()),
                ])
            }),
        ),
        strip_field(label("/qualification/toughness"), qualification.and_then(|q| q.toughness.as_deref())),
        strip_field(label("/identification/customer"), identification.customer.as_deref()),
        strip_field(label("/identification/job"), identification.job.as_deref()),
        strip_field(label("/identification/drawing"), identification.drawing.as_deref()),
        strip_field(label("/identification/location"), identification.location.as_deref()),
    ]);
    if let Some(last) = procedure.revisions.last() {
        let name = format!("{} {}", label("/revisions/*/revision"), last.revision);
        let date = last.date.map(|date| date.to_string());
        fields.push(strip_field(&name, Some(joined([date, Some(last.change.to_string())]))));
    }
    fields.push(strip_field(&label::WHAT_WAS_COUNTED, Some(standing::counts(subject, options).trim_end_matches('.'))));
    let found = &subject.outcome.findings;
    for finding in found.iter().take(MOST_FINDINGS) {
        fields.push(strip_field(&capital(finding.severity.as_str()), Some(finding.message.as_str())));
    }
    if found.len() > MOST_FINDINGS {
        let rest = options.count(found.len() - MOST_FINDINGS, label::ONE_FINDING, label::MANY_FINDINGS);
        fields.push(strip_field(&label::MORE, Some(label::REST_SEE_THE_REVIEW.fill(&[("rest", &rest)]))));
    }
    for reference in &procedure.references {
        fields.push(strip_field(label("/references"), Some(reference.to_string())));
    }
    for note in &procedure.notes {
        fields.push(strip_field(label("/notes"), Some(note.to_string())));
    }
    blocks.push(Block::heading(
        label::INSPECT_AND_QUALIFY,
        clauses(["/qualification", "/identification", "/inspection"], view, terms).as_deref(),
    ));
    push_strip(blocks, fields);
}

/// What the test records beside the procedure support, where there are any.
pub(super) fn qualified(blocks: &mut Vec<Block>, outcome: &Outcome, terms: Terms) {
    let (records, _) = compared::parted(&outcome.comparisons);
    if !records.is_empty() {
        blocks.push(Block::heading(label::QUALIFIED_RANGES, None));
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

pub(super) fn deviations(blocks: &mut Vec<Block>, outcome: &Outcome, terms: Terms) {
    if outcome.deviations.is_empty() {
        return;
    }
    let items = outcome
        .deviations
        .iter()
        .map(|(finding, deviation)| NoticeItem {
            lead: Some(label::DEVIATION_PLACE.fill(&[("place", &compared::place(&finding.pointer, terms))])),
            text: label::FOUND_ACCEPTED_BECAUSE_REASONWHO.fill(&[
                ("found", &finding.message),
                ("reason", deviation.reason.as_deref().unwrap_or_default()),
                (
                    "who",
                    &match (&deviation.by, deviation.date) {
                        (Some(by), Some(date)) => format!(" ({by}, {date})"),
                        (Some(by), None) => format!(" ({by})"),
                        (None, Some(date)) => format!(" ({date})"),
                        (None, None) => String::new(),
                    },
                ),
            ]),
        })
        .collect();
    blocks.push(Block::Notice { kind: NoticeKind::Remark, title: None, items });
}

/// What was checked: findings that stand, and the sources of the limits used.
pub(super) fn checked(blocks: &mut Vec<Block>, outcome: &Outcome) {
    blocks.push(Block::heading(label::WHAT_WAS_CHECKED, None));
    let limits = compared::parted(&outcome.comparisons).1.len();
    let options = SheetOptions::default();
    blocks.push(Block::paragraph(label::VALUES_EXAMINED_AND_COMPARISONS_WITH_LIMITS.fill(&[
        ("values", &options.count(outcome.examined, label::ONE_VALUE, label::MANY_VALUES)),
        ("comparisons", &options.count(limits, label::ONE_COMPARISON, label::MANY_COMPARISONS)),
        ("errors", &options.count(outcome.count(Severity::Error), label::ONE_ERROR, label::MANY_ERRORS)),
        ("cautions", &options.count(outcome.count(Severity::Caution), label::ONE_CAUTION, label::MANY_CAUTIONS)),
        ("notes", &options.count(outcome.count(Severity::Note), label::ONE_NOTE, label::MANY_NOTES)),
    ])));
    if !outcome.findings.is_empty() {
        let items = outcome
            .findings
            .iter()
            .map(|finding| NoticeItem {
                lead: Some(finding.severity.as_str().to_owned()),
                text: format!(
                    "{} ({}){}",
                    finding.message,
                    finding.check,
                    finding.source.as_ref().map_or(String::new(), |source| format!(". {}", source.line_with_doubt()))
                ),
            })
            .collect();
        blocks.push(Block::Notice { kind: NoticeKind::Remark, title: Some(label::FINDINGS.into()), items });
    }
    let mut sources: Vec<String> = outcome.comparisons.iter().map(|comparison| comparison.source.line()).collect();
    sources.sort();
    sources.dedup();
    if !sources.is_empty() {
        blocks.push(Block::Paragraph { text: label::SOURCES_OF_THE_LIMITS_USED.into(), small: true });
        blocks.push(Block::List { numbered: false, small: true, items: sources });
    }
}
