//! Findings for people: the line of the file, what was found, the limit with its source, and what to write.

use std::io::{self, IsTerminal, Write};
use std::ops::Range;

use annotate_snippets::renderer::{AnsiColor, Style};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use seamwright_check::rule::counted;
use seamwright_desk::current::{Current, SUPERSEDED};
use seamwright_desk::received::{Received, UNPROVED, Verdict};
use seamwright_desk::report::{Diagnostic, Report};
use seamwright_model::finding::Severity;
use seamwright_model::source::{Source, Span};

use crate::terminal::{self, visible};

/// Prints what was found, and a line of sums, to standard error: that it keeps a command from its work.
pub fn print(reports: &[Report]) {
    let mut out = io::stderr().lock();
    let mut told = Told::new(&out);
    // Where nobody listens, the exit status still tells.
    let _ = reports.iter().try_for_each(|report| told.report(report, &mut out)).and_then(|()| told.end(&mut out));
}

/// What was found, told file by file, and the sums of it.
pub struct Told {
    renderer: Renderer,
    width: Option<usize>,
    files: usize,
    unread: usize,
    unproved: usize,
    examined: usize,
    errors: usize,
    cautions: usize,
    notes: usize,
    deviations: usize,
}

impl Told {
    /// Nothing yet; `out` is where it will be printed.
    pub fn new(out: &impl IsTerminal) -> Self {
        let renderer = if terminal::coloured(out) { legible() } else { Renderer::plain() };
        let width = terminal::width();
        let renderer = match width {
            Some(width) => renderer.term_width(width),
            None => renderer,
        };
        let (files, unread, examined, unproved) = (0, 0, 0, 0);
        let (errors, cautions, notes, deviations) = (0, 0, 0, 0);
        Self { renderer, width, files, unread, unproved, examined, errors, cautions, notes, deviations }
    }

    /// Prints what was found in a file.
    pub fn report(&mut self, report: &Report, out: &mut impl Write) -> io::Result<()> {
        let texts = received(report, &self.renderer).into_iter().chain(findings(report, &self.renderer));
        for text in texts {
            writeln!(out, "{}\n", terminal::wrapped(&text, self.width))?;
        }
        self.unproved += usize::from(report.unproved().is_some());
        self.files += 1;
        if let Some((_, outcome)) = report.checked() {
            self.examined += outcome.examined;
            self.errors += report.count(Severity::Error);
            self.cautions += report.count(Severity::Caution);
            self.notes += report.count(Severity::Note);
            self.deviations += outcome.deviations.len();
        }
        self.unread += usize::from(report.result.is_err());
        Ok(())
    }

    /// Counts a file whose sheets stand, and in which nothing was found when they were made.
    pub fn standing(&mut self, examined: usize, deviations: usize) {
        self.files += 1;
        self.examined += examined;
        self.deviations += deviations;
    }

    /// Prints the sums.
    pub fn end(self, out: &mut impl Write) -> io::Result<()> {
        if terminal::quiet() {
            return Ok(());
        }
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
        if self.unproved > 0 {
            line.push_str(&format!("; {} not proved", counted(self.unproved, "sheet")));
        }
        writeln!(out, "{}", terminal::wrapped(&line, self.width))
    }
}

/// Colours that read on white as on black: red and magenta, and strong letters for the rest.
fn legible() -> Renderer {
    const STRONG: Style = Style::new().bold();
    const ERROR: Style = AnsiColor::Red.on_default().bold();
    const CAUTION: Style = AnsiColor::Magenta.on_default().bold();
    let renderer = Renderer::styled().error(ERROR).warning(CAUTION).note(STRONG).help(STRONG).info(STRONG);
    renderer.line_num(Style::new()).context(STRONG).emphasis(STRONG)
}

/// What can be said of a sheet that comes from elsewhere; a file without a source says so by its own fault.
fn received(report: &Report, renderer: &Renderer) -> Vec<String> {
    let Some(received) = &report.received else { return Vec::new() };
    let mut texts: Vec<String> = proof(&report.input.name, received, renderer).into_iter().collect();
    texts.extend(received.current.as_ref().map(|own| current(&report.input.name, own, renderer)));
    texts
}

/// How a sheet stands to the procedure that was named beside it.
fn current(name: &str, own: &Current, renderer: &Renderer) -> String {
    let words = format!("{name}: {}", own.words());
    let Some(hint) = own.hint() else { return visible(&words).into_owned() };
    let mut group = Group::with_title(Level::ERROR.primary_title(visible(&words)).id(SUPERSEDED));
    for change in &own.changes {
        group = group.element(Level::NOTE.with_name("changed").message(visible(change).into_owned()));
    }
    renderer.render(&[group.element(Level::HELP.with_name("hint").message(hint))])
}

/// Whether a sheet is proved, or what holds of it.
fn proof(name: &str, received: &Received, renderer: &Renderer) -> Option<String> {
    if received.proved() {
        return Some(format!("{name}: {}", visible(&received.words())));
    }
    if matches!(received.verdict, Verdict::NoSource { .. }) {
        return None;
    }
    let words = format!("{name}: {}", received.words());
    let mut group = Group::with_title(Level::ERROR.primary_title(visible(&words)).id(UNPROVED));
    if let Some(hint) = received.hint() {
        group = group.element(Level::HELP.with_name("hint").message(visible(&hint).into_owned()));
    }
    if let Some(caveat) = received.caveat() {
        group = group.element(Level::NOTE.message(visible(&caveat).into_owned()));
    }
    Some(renderer.render(&[group]))
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
    let mut group = if let (Some(source), Some(span)) = (source, own.span) {
        let (text, place) = excerpt(&source.text, span);
        let mut mark = AnnotationKind::Primary.span(place);
        if !own.is_fault() {
            let label = own.limit.map_or("here".to_owned(), |limit| format!("limit: {limit}"));
            mark = mark.label(visible(&label).into_owned());
        }
        let place = Snippet::source(text).line_start(span.line).path(name).annotation(mark);
        level.primary_title(visible(own.message)).id(own.check).element(place)
    } else {
        let title = visible(&format!("{name}: {}", own.message)).into_owned();
        Group::with_title(level.primary_title(title).id(own.check))
    };
    if let Some(source) = own.source {
        group = group.element(Level::NOTE.with_name("source").message(source.line()));
        if let Some(doubt) = &source.doubt {
            group = group.element(Level::NOTE.with_name("doubt").message(&**doubt));
        }
    }
    if let Some(hint) = own.hint {
        group = group.element(Level::HELP.with_name("hint").message(visible(hint)));
    }
    group
}

/// What ends a line of YAML.
const BREAKS: [char; 2] = ['\n', '\r'];

/// The line of a file on which a span begins, as it may be shown, and the part of the span on it.
///
/// A file may have thousands of findings: no more than the line is looked at.
fn excerpt(text: &str, span: Span) -> (String, Range<usize>) {
    let place = one_line(text, span);
    let from = text.get(..place.start).and_then(|before| before.rfind(BREAKS)).map_or(0, |at| at + 1);
    let after = text.get(place.end..).unwrap_or_default();
    let rest = after.split(BREAKS).next().unwrap_or_default();
    let (before, within) = (text.get(from..place.start), text.get(place.clone()));
    let [before, within] = [before, within].map(|part| visible(part.unwrap_or_default()));
    let shown = before.len()..before.len() + within.len();
    (format!("{before}{within}{}", visible(rest)), shown)
}

/// Faults first, then findings in the order of the file, those of one place the worst first.
fn by_line(report: &Report) -> Vec<Diagnostic<'_>> {
    let mut sorted = report.diagnostics();
    sorted.retain(|own| own.accepted.is_none() && !(terminal::quiet() && own.severity == Severity::Note));
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
