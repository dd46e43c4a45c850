//! Findings for people: the line of the file, what was found, the limit with its source, and what to write.

use std::io::IsTerminal;
use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use seamwright_model::Loaded;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::source::Span;

use super::{Report, UNREADABLE};

/// Prints what was found to standard error, and a line of sums.
pub fn print(reports: &[Report]) {
    let coloured = std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    let renderer = if coloured { Renderer::styled() } else { Renderer::plain() };
    for report in reports {
        for text in findings(report, &renderer) {
            eprintln!("{text}\n");
        }
    }
    eprintln!("{}", sums(reports));
}

fn findings(report: &Report, renderer: &Renderer) -> Vec<String> {
    let name = report.input.name.as_str();
    match &report.result {
        Ok((loaded, outcome)) => by_line(loaded, &outcome.findings)
            .into_iter()
            .map(|finding| {
                let level = match finding.severity {
                    Severity::Error => Level::ERROR,
                    Severity::Caution => Level::WARNING.with_name("caution"),
                    Severity::Note => Level::NOTE,
                };
                let span = loaded.tree.span_of(&finding.pointer);
                let mut group = level.primary_title(finding.message.as_str()).id(finding.check).element(
                    Snippet::source(&*loaded.source.text).path(name).annotation(
                        AnnotationKind::Primary.span(one_line(&loaded.source.text, span)).label(
                            finding.limit.as_deref().map_or("here".to_owned(), |limit| format!("limit: {limit}")),
                        ),
                    ),
                );
                if let Some(source) = &finding.source {
                    group = group.element(Level::NOTE.with_name("source").message(source.line()));
                }
                if let Some(hint) = &finding.hint {
                    group = group.element(Level::HELP.with_name("hint").message(hint.as_str()));
                }
                renderer.render(&[group])
            })
            .collect(),
        Err(unread) => unread
            .faults
            .iter()
            .map(|fault| {
                let title = Level::ERROR.primary_title(fault.message.as_str()).id(UNREADABLE);
                let mut group = match (&unread.source, fault.span) {
                    (Some(source), Some(span)) => title.element(
                        Snippet::source(&*source.text)
                            .path(name)
                            .annotation(AnnotationKind::Primary.span(one_line(&source.text, span))),
                    ),
                    _ => Group::with_title(
                        Level::ERROR.primary_title(format!("{name}: {}", fault.message)).id(UNREADABLE),
                    ),
                };
                if let Some(hint) = &fault.hint {
                    group = group.element(Level::HELP.with_name("hint").message(hint.as_str()));
                }
                renderer.render(&[group])
            })
            .collect(),
    }
}

/// Findings in the order of the file, those of one place the worst first.
fn by_line<'f>(loaded: &Loaded, findings: &'f [Finding]) -> Vec<&'f Finding> {
    let mut sorted: Vec<&Finding> = findings.iter().collect();
    sorted.sort_by_key(|finding| {
        let span = loaded.tree.span_of(&finding.pointer);
        (span.line, span.column, std::cmp::Reverse(finding.severity))
    });
    sorted
}

/// The part of a span on its first line, inside the text and on character boundaries.
fn one_line(text: &str, span: Span) -> Range<usize> {
    let mut start = span.start.min(text.len());
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    let rest = text.get(start..).unwrap_or_default();
    let line = rest.find('\n').map_or(text.len(), |at| start + at);
    let mut end = span.end.clamp(start, line.max(start));
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    start..end
}

fn sums(reports: &[Report]) -> String {
    let count = |severity| {
        reports
            .iter()
            .filter_map(|report| report.result.as_ref().ok())
            .map(|(_, outcome)| outcome.count(severity))
            .sum::<usize>()
    };
    let unread = reports.iter().filter(|report| report.result.is_err()).count();
    let examined: usize =
        reports.iter().filter_map(|report| report.result.as_ref().ok()).map(|(_, outcome)| outcome.examined).sum();
    let deviations: usize = reports
        .iter()
        .filter_map(|report| report.result.as_ref().ok())
        .map(|(_, outcome)| outcome.deviations.len())
        .sum();
    let files = reports.len();
    let mut line = format!(
        "{files} file{}, {examined} values examined: {} errors, {} cautions, {} notes",
        if files == 1 { "" } else { "s" },
        count(Severity::Error),
        count(Severity::Caution),
        count(Severity::Note),
    );
    if deviations > 0 {
        line.push_str(&format!(", {deviations} under a stated deviation"));
    }
    if unread > 0 {
        line.push_str(&format!("; {unread} could not be read"));
    }
    line
}
