//! Findings for people: the line of the file, what was found, the limit with its source, and what to write.

use std::io::IsTerminal;
use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use seamwright_check::rule::counted;
use seamwright_desk::report::{Diagnostic, Report};
use seamwright_model::finding::Severity;
use seamwright_model::source::{Source, Span};

use crate::terminal;

/// Prints what was found to standard error, and a line of sums.
pub fn print(reports: &[Report]) {
    let mut told = Told::new();
    for report in reports {
        told.report(report);
    }
    told.end();
}

/// What was found, told file by file, and the sums of it.
pub struct Told {
    renderer: Renderer,
    files: usize,
    standing: usize,
    unread: usize,
    examined: usize,
    errors: usize,
    cautions: usize,
    notes: usize,
    deviations: usize,
}

impl Told {
    /// Nothing yet.
    pub fn new() -> Self {
        let coloured =
            std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
        let renderer = if coloured { Renderer::styled() } else { Renderer::plain() };
        let (files, standing, unread, examined) = (0, 0, 0, 0);
        Self { renderer, files, standing, unread, examined, errors: 0, cautions: 0, notes: 0, deviations: 0 }
    }

    /// Prints what was found in a file.
    pub fn report(&mut self, report: &Report) {
        for text in findings(report, &self.renderer) {
            terminal::print(format_args!("{text}\n"));
        }
        self.files += 1;
        if let Some((_, outcome)) = report.checked() {
            self.examined += outcome.examined;
            self.errors += outcome.count(Severity::Error);
            self.cautions += outcome.count(Severity::Caution);
            self.notes += outcome.count(Severity::Note);
            self.deviations += outcome.deviations.len();
        }
        self.unread += usize::from(report.result.is_err());
    }

    /// Counts a file whose sheets stand, and in which nothing was found when they were made.
    pub fn standing(&mut self, examined: usize, deviations: usize) {
        self.files += 1;
        self.standing += 1;
        self.examined += examined;
        self.deviations += deviations;
    }

    /// Prints the sums.
    pub fn end(self) {
        let mut line = format!(
            "{}, {} examined: {}, {}, {}",
            counted(self.files, "file"),
            counted(self.examined, "value"),
            counted(self.errors, "error"),
            counted(self.cautions, "caution"),
            counted(self.notes, "note")
        );
        if self.deviations > 0 {
            line.push_str(&format!(", {} under a stated deviation", self.deviations));
        }
        if self.unread > 0 {
            line.push_str(&format!("; {} could not be read", self.unread));
        }
        if self.standing > 0 {
            line.push_str(&format!("; the sheets of {} stand as they are", self.standing));
        }
        terminal::print(line);
    }
}

fn findings(report: &Report, renderer: &Renderer) -> Vec<String> {
    let name = report.input.name.as_str();
    let source = match &report.result {
        Ok((loaded, _)) => Some(&loaded.source),
        Err(unread) => unread.source.as_ref(),
    };
    by_line(report).into_iter().map(|own| renderer.render(&[group(name, source, &own)])).collect()
}

fn group<'a>(name: &'a str, source: Option<&'a Source>, own: &Diagnostic<'a>) -> Group<'a> {
    let level = match own.severity {
        Severity::Error => Level::ERROR,
        Severity::Caution => Level::WARNING.with_name("caution"),
        Severity::Note => Level::NOTE,
    };
    let mut group = match (source, own.span) {
        (Some(source), Some(span)) => {
            let mut mark = AnnotationKind::Primary.span(one_line(&source.text, span));
            if !own.is_fault() {
                mark = mark.label(own.limit.map_or("here".to_owned(), |limit| format!("limit: {limit}")));
            }
            let place = Snippet::source(&*source.text).path(name).annotation(mark);
            level.primary_title(own.message).id(own.check).element(place)
        }
        _ => Group::with_title(level.primary_title(format!("{name}: {}", own.message)).id(own.check)),
    };
    if let Some(source) = own.source {
        group = group.element(Level::NOTE.with_name("source").message(source.line()));
        if let Some(doubt) = &source.doubt {
            group = group.element(Level::NOTE.with_name("doubt").message(&**doubt));
        }
    }
    if let Some(hint) = own.hint {
        group = group.element(Level::HELP.with_name("hint").message(hint));
    }
    group
}

/// Faults first, then findings in the order of the file, those of one place the worst first.
fn by_line(report: &Report) -> Vec<Diagnostic<'_>> {
    let mut sorted = report.diagnostics();
    sorted.retain(|own| own.accepted.is_none());
    sorted.sort_by_key(|own| {
        let place = own.span.filter(|_| !own.is_fault()).map_or((0, 0), |span| (span.line, span.column));
        (!own.is_fault(), place, std::cmp::Reverse(own.severity))
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
