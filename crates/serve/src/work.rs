//! A document judged and printed: what the page shows of it, as values.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use rayon::prelude::*;
use seamwright_check::{Outcome, View};
use seamwright_desk::companions::{Companions, Named};
use seamwright_desk::files::{Files, Input, Overlay, Unread};
use seamwright_desk::follows::{Ask, Figures, Total, asks, figures, totals};
use seamwright_desk::report::Report;
use seamwright_desk::report::machine::Machine;
use seamwright_desk::report::number;
use seamwright_handbook::processes;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity, SourceRef};
use seamwright_model::job::Job;
use seamwright_model::procedure::Procedure;
use seamwright_model::{Loaded, load};
use seamwright_sheet::kinds;
use serde::Serialize;
use serde_json::Value;

use crate::app::App;
use crate::folder::{Listed, digest, read};
use crate::routes::{self, job::Planned};

/// A document with all that was found in it, and what stands beside it.
pub struct Judged<'a, 'f> {
    /// What all requests share.
    pub app: &'a App,
    /// Files, and the texts over them that are not saved.
    pub files: &'a dyn Files,
    /// Its path below the folder.
    pub below: &'a Path,
    /// What it is held against.
    pub companions: &'a Companions<'f>,
    /// The document, or why it cannot be read.
    pub report: &'a Report,
    /// The documents that it names.
    pub named: &'a Named,
    /// Companions that cannot be read, in words.
    pub trouble: &'a [String],
}

/// Judges a text in the place of a document's file, among all texts that are not saved, and hands it on.
pub fn judge<T>(app: &App, below: &Path, text: &str, then: impl FnOnce(&Judged<'_, '_>) -> T) -> T {
    judge_read(app, below, text, None, then)
}

/// The same of a text that was read as a document already.
pub fn judge_read<T>(
    app: &App,
    below: &Path,
    text: &str,
    loaded: Option<Loaded>,
    then: impl FnOnce(&Judged<'_, '_>) -> T,
) -> T {
    let disk = app.disk();
    let mut files = Overlay::new(&disk);
    for unsaved in app.store.all_unsaved() {
        files.put(&app.folder.path(&unsaved.below), unsaved.text);
    }
    let input = input_of(app, below);
    match loaded {
        Some(loaded) => files.put_read(&input.path, loaded),
        None => files.put(&input.path, text),
    }
    let mut trouble = Vec::new();
    let companions = Companions::read(&files, &app.companions, app.appearance()).unwrap_or_else(|failed| {
        trouble.extend(failed.iter().map(words));
        Companions::none(&files).keeping(&app.lately)
    });
    let companions = companions.remembering(Arc::clone(&app.opened));
    let (report, named) = companions.examine(input);
    then(&Judged {
        app,
        files: &files,
        below,
        companions: &companions,
        report: &report,
        named: &named,
        trouble: &trouble,
    })
}

/// A document of the folder, as the core reads it.
pub fn input_of(app: &App, below: &Path) -> Input {
    Input::found(app.folder.path(below), below.with_extension(""))
}

/// Why a file gives nothing, in a line.
fn words(report: &Report) -> String {
    let first = report.result.as_ref().err().and_then(|unread| unread.faults.first());
    format!("{}: {}", report.input.name, first.map_or("cannot be read", |fault| fault.message.as_str()))
}

/// A document's line in the list of the folder.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Row {
    /// Its id.
    pub id: String,
    /// Its path below the folder.
    pub file: String,
    /// The kind of document, in a word.
    pub kind: String,
    /// Its number.
    pub number: String,
    /// Its revision.
    pub revision: String,
    /// Its title.
    pub title: String,
    /// Processes, by number.
    pub processes: Vec<String>,
    /// Parent metals.
    pub metals: Vec<String>,
    /// Thicknesses.
    pub thicknesses: Vec<String>,
    /// Positions.
    pub positions: Vec<String>,
    /// Draft, issued or superseded.
    pub status: String,
    /// The worst severity, or `unreadable`, or `clean`.
    pub worst: String,
    /// How many findings of that severity.
    pub count: usize,
    /// The worst finding, in words.
    pub finding: String,
    /// When the file was changed (ISO 8601, UTC).
    pub changed: String,
    /// Whether a text of it is not saved.
    pub unsaved: bool,
    /// Other words by which it is looked for.
    pub words: String,
    /// Whether what was found may change with another document.
    #[serde(skip)]
    pub hangs_on_others: bool,
}

/// The lines of documents, in their order.
pub fn rows(app: &App, listed: &[&Listed]) -> Vec<Row> {
    listed.par_iter().map(|one| row(app, one)).collect()
}

/// The line of a document.
pub fn row(app: &App, listed: &Listed) -> Row {
    let unsaved = app.store.unsaved(&listed.id);
    let mut row = Row {
        id: listed.id.clone(),
        file: listed.below.to_string_lossy().into_owned(),
        unsaved: unsaved.is_some(),
        changed: listed
            .stamp
            .changed
            .and_then(|time| jiff::Timestamp::try_from(time).ok())
            .map_or_else(String::new, |time| time.strftime("%Y-%m-%d %H:%M").to_string()),
        ..Row::default()
    };
    let text = match unsaved {
        Some(own) => own.text,
        None => match read(&app.folder.path(&listed.below)).map(String::from_utf8) {
            Ok(Ok(text)) => text,
            Ok(Err(_)) => return unreadable(row, "the file is not text in UTF-8"),
            Err(error) => return unreadable(row, &format!("cannot be read: {}", crate::folder::reason(&error))),
        },
    };
    judge(app, &listed.below, &text, |judged| {
        if let Some((loaded, _)) = judged.report.checked() {
            let identification = loaded.document.identification();
            loaded.document.kind().clone_into(&mut row.kind);
            row.number = identification.number.to_string();
            row.revision = identification.revision.to_string();
            row.title = identification.title.to_string();
            row.status = identification.status.map_or_else(String::new, |status| status.to_string());
            row.hangs_on_others =
                !judged.named.files().is_empty() || app.companions.shop.is_some() || judged.report.issued.is_some();
            if let Document::Procedure(procedure) = &loaded.document {
                describe(&mut row, procedure);
            }
        }
        if let Err(unread) = &judged.report.result {
            let first = unread.faults.first().map_or("cannot be read", |fault| fault.message.as_str());
            // What it names may come to be there.
            return Row { hangs_on_others: true, ..unreadable(row, first) };
        }
        let worst = judged.report.findings().max_by_key(|finding| finding.severity);
        worst.map_or("clean", |finding| finding.severity.as_str()).clone_into(&mut row.worst);
        row.count = worst.map_or(0, |finding| judged.report.count(finding.severity));
        row.finding = worst.map_or_else(String::new, |finding| finding.message.clone());
        row
    })
}

fn unreadable(row: Row, why: &str) -> Row {
    let title = if row.title.is_empty() { row.file.clone() } else { row.title };
    Row { worst: "unreadable".to_owned(), count: 1, finding: why.to_owned(), title, ..row }
}

/// What a procedure is looked for by.
fn describe(row: &mut Row, procedure: &Procedure) {
    let view = View::new(procedure);
    let mut words = Vec::new();
    for run in &view.runs {
        if once(&mut row.processes, run.number())
            && let Some(process) = run.process
        {
            words.push(process_words(process));
        }
    }
    for metal in &view.metals {
        once(&mut row.metals, &metal.stated.specification);
        words.push(metal.family().to_owned());
        if let Some(thickness) = metal.stated.thickness.as_ref().and_then(|stated| stated.value()) {
            once(&mut row.thicknesses, thickness.spelled());
        }
    }
    for position in &procedure.positions {
        once(&mut row.positions, position);
        if let Some(known) = seamwright_handbook::positions::get(position) {
            words.push(known.name.clone());
        }
    }
    if let Some(joint) = &procedure.joint {
        words.push(joint.kind.to_string());
        words.extend(joint.weld.map(|weld| weld.to_string()));
    }
    words.extend(procedure.fillers.iter().map(|(_, filler)| filler.designation.to_string()));
    row.words = words.join(" ");
}

/// The names of a process in the words of the trade.
pub fn process_words(process: &processes::Row) -> String {
    format!("{} {} {} {}", process.number, process.letters, process.also.join(" "), process.name)
}

fn once(all: &mut Vec<String>, text: &str) -> bool {
    let new = !text.is_empty() && !all.iter().any(|own| own == text);
    if new {
        all.push(text.to_owned());
    }
    new
}

/// A finding, as the page shows it.
#[derive(Debug, Clone, Serialize)]
pub struct Found {
    /// Its severity, in a word.
    pub severity: &'static str,
    /// The check.
    pub check: &'static str,
    /// What was found and the limit.
    pub message: String,
    /// What to write instead.
    pub hint: Option<String>,
    /// JSON pointer of the value.
    pub pointer: String,
    /// Where, in the words of the dictionary.
    pub place: String,
    /// The limit.
    pub limit: Option<String>,
    /// Where the limit is written, and its basis.
    pub source: Option<String>,
    /// A value that makes the finding go, with the place where it is written.
    pub fix: Option<Fix>,
    /// Why it is accepted, where it is.
    pub reason: Option<String>,
}

/// A value that makes a finding go.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Fix {
    /// JSON pointer.
    pub pointer: String,
    /// The value.
    pub value: Value,
}

/// Something wrong with the text, so that it cannot be read.
#[derive(Debug, Clone, Serialize)]
pub struct Wrong {
    /// What was found.
    pub message: String,
    /// What to write.
    pub hint: Option<String>,
    /// JSON pointer, where a value is meant.
    pub pointer: String,
    /// Line, from 1; 0 where the whole file is meant.
    pub line: usize,
    /// First character, counted as the browser counts (UTF-16).
    pub from: usize,
    /// One past the last character.
    pub to: usize,
}

/// The limit that a value was held against.
#[derive(Debug, Clone, Serialize)]
pub struct Usual {
    /// The limit as printed.
    pub limit: String,
    /// Where it is written: its place among the sources.
    pub source: usize,
}

/// What a page shows of a document and renews at each key.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Live {
    /// Digest of the text.
    pub digest: String,
    /// The verdict, in words.
    pub verdict: String,
    /// The worst severity, or `unreadable`, or `clean`.
    pub worst: String,
    /// What stands against it.
    pub findings: Vec<Found>,
    /// What is accepted for a reason.
    pub accepted: Vec<Found>,
    /// Why the text cannot be read.
    pub faults: Vec<Wrong>,
    /// Limits by the places of values.
    pub usual: BTreeMap<String, Usual>,
    /// Where these limits are written.
    pub sources: Vec<String>,
    /// What the standard still asks for.
    pub asks: Vec<Ask>,
    /// What follows for each entry of a table.
    pub figures: Vec<Figures>,
    /// What follows for the weld.
    pub totals: Vec<Total>,
    /// Machines of the shop, best first.
    pub machines: Vec<String>,
    /// Companions that cannot be read.
    pub trouble: Vec<String>,
    /// Kinds of sheet that the document has.
    pub sheets: Vec<&'static str>,
    /// What can hurt where this is welded.
    pub cautions: Vec<String>,
    /// Whether its thickness is stated in the units of the United States, so that its sheet is shown in them.
    pub us: bool,
}

/// What the page shows of a judged document.
pub fn live(text: &str, judged: &Judged<'_, '_>) -> Live {
    let mut live = Live { digest: digest(text.as_bytes()), trouble: judged.trouble.to_vec(), ..Live::default() };
    if let Err(unread) = &judged.report.result {
        live.faults = wrong(text, unread);
        "unreadable".clone_into(&mut live.worst);
        "This cannot be read as a document yet.".clone_into(&mut live.verdict);
    }
    if let Some((loaded, outcome)) = judged.report.checked() {
        let checked = (loaded, outcome);
        live.findings = judged.report.findings().map(|finding| found(finding, None)).collect();
        live.accepted = outcome.deviations.iter().map(|(finding, why)| found(finding, why.reason.as_deref())).collect();
        // Each fix is proved by a check of its own, which takes as long as all the rest. A thread of its own does not wait for a
        // long list of documents.
        let fixes = std::thread::scope(|scope| {
            let fixes = scope.spawn(|| fixes(judged, checked));
            tell(&mut live, judged, checked);
            fixes.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
        });
        for (own, fix) in live.findings.iter_mut().zip(fixes) {
            own.fix = fix;
        }
    }
    live
}

/// What the page shows of a checked document beside its findings.
fn tell(live: &mut Live, judged: &Judged<'_, '_>, (loaded, outcome): (&Loaded, &Outcome)) {
    (live.usual, live.sources) = usual(outcome);
    if live.faults.is_empty() {
        live.verdict = verdict(judged.report, outcome.examined);
        let worst = judged.report.findings().map(|finding| finding.severity).max();
        worst.map_or("clean", Severity::as_str).clone_into(&mut live.worst);
    } else {
        live.verdict = format!(
            "{} faults of the text; as far as it goes, {}",
            live.faults.len(),
            verdict(judged.report, outcome.examined)
        );
    }
    live.sheets = sheets_of(&loaded.document);
    if let Document::Job(job) = &loaded.document {
        job_live(live, judged, job);
    }
    if let Document::Procedure(procedure) = &loaded.document {
        let view = View::new(procedure);
        live.us = view.metals.iter().filter_map(|metal| metal.stated.thickness.as_ref()?.value()).any(|own| {
            let (_, unit) = own.spelled().rsplit_once(' ').unwrap_or_default();
            matches!(unit, "in" | "ga")
        });
        live.asks = asks(&view);
        live.figures = figures(&view);
        live.totals = totals(&view);
        live.cautions = kinds::cautions_of(procedure)
            .into_iter()
            .map(|item| item.lead.map_or(item.text.clone(), |lead| format!("{lead}: {}", item.text)))
            .collect();
        if let Some(shop) = judged.companions.shop(judged.named) {
            live.machines = Machine::for_procedure(&view, shop).iter().map(ToString::to_string).collect();
        }
    }
}

/// What the page shows of a job: each joint against its procedure, machine and welder, its time and price.
fn job_live(live: &mut Live, judged: &Judged<'_, '_>, job: &Job) {
    let planned = Planned::of(judged, job);
    live.trouble.extend(planned.trouble.iter().cloned());
    live.findings.extend(planned.worked.against.iter().map(|own| {
        Found {
            severity: own.severity.as_str(),
            check: "job",
            message: own.message.clone(),
            hint: None,
            pointer: own.pointer.clone(),
            place: "Joints".to_owned(),
            limit: None,
            source: None,
            fix: own
                .covered_by
                .as_ref()
                .map(|number| Fix { pointer: own.pointer.clone(), value: Value::from(number.as_str()) }),
            reason: None,
        }
    }));
    if live.faults.is_empty() {
        live.verdict = routes::job::verdict(&planned.worked);
        let worst = planned.worked.against.iter().map(|own| own.severity).max();
        worst.map_or("clean", Severity::as_str).clone_into(&mut live.worst);
    }
    live.figures = planned
        .worked
        .papers
        .rows
        .iter()
        .enumerate()
        .map(|(index, row)| {
            let hours = row.hours.map(|own| format!("{} h", number(own)));
            let all =
                [("hours", hours), ("each", routes::job::money(row.each)), ("price", routes::job::money(row.price))];
            Figures { index, values: all.into_iter().filter_map(|(key, own)| Some((key, own?))).collect() }
        })
        .collect();
    live.totals.push(Total {
        name: "All joints".to_owned(),
        value: routes::job::total(&planned.worked),
        how: planned.shop().map_or_else(String::new, |shop| format!("at the rates of {}", shop.identification.title)),
    });
    live.totals.extend(routes::job::not_stated(&planned.worked).map(|value| Total {
        name: "Not in the price".to_owned(),
        value,
        how: String::new(),
    }));
    live.totals.extend(planned.worked.papers.buying.iter().map(routes::job::buy).map(|(what, amount)| Total {
        name: format!("To buy: {what}"),
        value: amount,
        how: String::new(),
    }));
    if planned.worked.papers.cost.is_none() {
        live.sheets.retain(|own| *own != "quotation");
    }
}

/// The kinds of sheet that a document has.
pub fn sheets_of(document: &Document) -> Vec<&'static str> {
    match document {
        Document::Procedure(_) => vec!["procedure", "bench-card", "review", "estimate"],
        Document::TestRecord(_) => vec!["coupon"],
        Document::Lesson(_) => vec!["lesson"],
        Document::Job(_) => vec!["office", "traveller", "cover", "quotation"],
        Document::Shop(_) => Vec::new(),
    }
}

fn verdict(report: &Report, examined: usize) -> String {
    let count = |severity, one: &str, many: &str| match report.count(severity) {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let parts: Vec<String> = [
        count(Severity::Error, "error", "errors"),
        count(Severity::Caution, "caution", "cautions"),
        count(Severity::Note, "note", "notes"),
    ]
    .into_iter()
    .flatten()
    .collect();
    let found = if parts.is_empty() { "nothing found".to_owned() } else { parts.join(", ") };
    format!("{examined} values examined: {found}")
}

fn found(finding: &Finding, reason: Option<&str>) -> Found {
    Found {
        severity: finding.severity.as_str(),
        check: finding.check,
        message: finding.message.clone(),
        // A command to type is of no use on a page.
        hint: finding.hint.as_ref().map(|hint| hint.split("; `seamwright explain ").next().unwrap_or(hint).to_owned()),
        pointer: finding.pointer.clone(),
        place: variables::term(&finding.pointer, Terms::Iso).to_owned(),
        limit: finding.limit.clone(),
        source: finding.source.as_ref().map(|source| source.line()),
        fix: None,
        reason: reason.map(str::to_owned),
    }
}

/// Why a text cannot be read, with places as the browser counts them.
pub fn wrong(text: &str, unread: &Unread) -> Vec<Wrong> {
    let units = |byte: usize| {
        let mut at = byte.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        text.get(..at).map_or(0, |before| before.encode_utf16().count())
    };
    unread
        .faults
        .iter()
        .map(|fault| Wrong {
            message: fault.message.clone(),
            hint: fault.hint.clone(),
            pointer: fault.pointer.clone(),
            line: fault.span.map_or(0, |span| span.line),
            from: fault.span.map_or(0, |span| units(span.start)),
            to: fault.span.map_or(0, |span| units(span.end)),
        })
        .collect()
}

/// The limits that values were held against, one for each value, and the sources of all: the narrowest that has two ends goes first.
fn usual(outcome: &Outcome) -> (BTreeMap<String, Usual>, Vec<String>) {
    let mut all: BTreeMap<String, Usual> = BTreeMap::new();
    let mut sources: Vec<&SourceRef> = Vec::new();
    for comparison in &outcome.comparisons {
        // Beneath a field stands a limit in its own unit: a share or a multiple of something else says nothing there.
        let unit = crate::typed::unit_of(&comparison.limit);
        let other = unit.is_empty() || unit != crate::typed::unit_of(&comparison.stated);
        if other || all.contains_key(&comparison.pointer) {
            continue;
        }
        let own = &comparison.source;
        let source = sources.iter().position(|one| *one == own).unwrap_or_else(|| {
            sources.push(own);
            sources.len() - 1
        });
        all.insert(comparison.pointer.clone(), Usual { limit: comparison.limit.clone(), source });
    }
    (all, sources.into_iter().map(SourceRef::line).collect())
}

/// Looks for each of the gravest findings for what makes it go: proved on the changed text.
fn fixes(judged: &Judged<'_, '_>, (loaded, outcome): (&Loaded, &Outcome)) -> Vec<Option<Fix>> {
    /// So many findings are looked after at each key.
    const MOST: usize = 8;
    judged
        .report
        .findings()
        .take(MOST)
        .map(|own| {
            let finding = outcome.findings.iter().find(|one| one.check == own.check && one.pointer == own.pointer)?;
            let fix = judged.companions.fix(loaded, outcome, judged.named, finding)?;
            Some(Fix { pointer: fix.pointer, value: fix.value })
        })
        .collect()
}

/// A text as a document, without what stands beside it.
pub fn loaded(name: &str, text: &str) -> Result<Loaded, String> {
    load(name, text.as_bytes())
        .map_err(|(_, faults)| faults.into_iter().next().map_or_else(String::new, |fault| fault.message))
}
