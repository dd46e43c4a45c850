//! What the page shows of a judged document, as values.

use std::collections::{BTreeMap, HashMap};

use seamwright_check::Outcome;
use seamwright_desk::files::Unread;
use seamwright_desk::follows::{Ask, Figures, Total, asks, figures, totals};
use seamwright_desk::report::Report;
use seamwright_desk::report::machine::Machine;
use seamwright_desk::report::number;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity, SourceRef};
use seamwright_model::job::Job;
use seamwright_page::Kind;
use seamwright_sheet::kinds;
use seamwright_weld::View;
use serde::Serialize;
use serde_json::Value;

use crate::folder::digest;
use crate::hints;
use crate::judge::Judged;
use crate::planned::{self, Planned};

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
    /// What a word stands for, by the place where it is written.
    pub means: BTreeMap<String, String>,
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
        live.means.extend(all_positions(loaded).map(|(_, means)| (POSITIONS.to_owned(), means)));
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

/// Where the positions stand.
pub const POSITIONS: &str = "/positions";

/// The word for all positions as it is written, where it stands for them, and the positions that it stands for.
pub fn all_positions(loaded: &Loaded) -> Option<(String, String)> {
    let Document::Procedure(procedure) = &loaded.document else { return None };
    let span = loaded.tree.at(POSITIONS)?.span;
    let written = loaded.source.text.get(span.start..span.end)?;
    let written = written.trim_matches(|own: char| !own.is_alphabetic());
    let positions: Vec<&str> = procedure.positions.iter().map(|own| &**own).collect();
    written.eq_ignore_ascii_case("all").then(|| (written.to_owned(), positions.join(", ")))
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
            "{}; as far as it goes, {}",
            if live.faults.len() == 1 { "1 fault".to_owned() } else { format!("{} faults", live.faults.len()) },
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
        live.asks = asks(&view, outcome.missing(&view));
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
        live.verdict = planned::verdict(&planned.worked);
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
            let all = [("hours", hours), ("each", planned::money(row.each)), ("price", planned::money(row.price))];
            Figures { index, values: all.into_iter().filter_map(|(key, own)| Some((key, own?))).collect() }
        })
        .collect();
    live.totals.push(Total {
        name: "All joints".to_owned(),
        value: planned::total(&planned.worked),
        how: planned.shop().map_or_else(String::new, |shop| format!("at the rates of {}", shop.identification.title)),
    });
    live.totals.extend(planned::not_stated(&planned.worked).map(|value| Total {
        name: "Not in the price".to_owned(),
        value,
        how: String::new(),
    }));
    live.totals.extend(planned.worked.papers.buying.iter().map(planned::buy).map(|(what, amount)| Total {
        name: format!("To buy: {what}"),
        value: amount,
        how: String::new(),
    }));
    if planned.worked.papers.total.is_none() {
        live.sheets.retain(|own| *own != "quotation");
    }
}

/// The kinds of sheet that a document has.
pub fn sheets_of(document: &Document) -> Vec<&'static str> {
    match document {
        Document::Job(_) => vec!["office", "traveller", "cover", "quotation"],
        other => Kind::made_of(other.kind()).map(Kind::name).collect(),
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
        hint: finding.hint.as_ref().map(|hint| hints::hint(hint, &finding.pointer)),
        pointer: finding.pointer.clone(),
        place: variables::term(&finding.pointer, Terms::Iso).to_owned(),
        limit: finding.limit.as_deref().map(str::to_owned),
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
            message: hints::message(&fault.message, &fault.pointer),
            hint: fault.hint.as_ref().map(|hint| hints::hint(hint, &fault.pointer)),
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
    // Runs are mostly alike, and so are their values and limits.
    let mut units: HashMap<&str, &str> = HashMap::new();
    let mut unit_of = |text| *units.entry(text).or_insert_with(|| crate::typed::unit_of(text));
    for comparison in &outcome.comparisons {
        // Beneath a field stands a limit in its own unit: a share or a multiple of something else says nothing there.
        let unit = unit_of(&comparison.limit);
        let other = unit.is_empty() || unit != unit_of(&comparison.stated);
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
