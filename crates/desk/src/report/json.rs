//! Findings as JSON, in the shape that programs rely on. Each file is written as it comes, so that memory does not grow with
//! their number.

use std::cell::RefCell;
use std::io::{self, Write};

use anyhow::Result;
use seamwright_check::not_stated;
use seamwright_model::finding::Severity;
use seamwright_page::Kind;
use seamwright_page::attached::PRODUCER;
use seamwright_version::VERSION;
use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::{Map, Value, json};

use crate::received::Received;

use super::machine::Machine;
use super::{Checked, Diagnostic, Report, completeness, kit};

/// The version of the shapes of JSON; a key that goes or means something else makes another one, a new key does not.
pub const JSON_FORMAT: u32 = 1;

/// What stands first in the JSON of every command: the version of its shape, the program, and the command.
pub fn head(command: &str) -> Map<String, Value> {
    let mut head = Map::new();
    head.insert("json_format".to_owned(), json!(JSON_FORMAT));
    head.insert("program".to_owned(), json!({"name": PRODUCER, "version": VERSION}));
    head.insert("command".to_owned(), json!(command));
    head
}

/// Writes all files of a run; `matrix` asks for what each is to state.
pub fn write(files: impl Iterator<Item = Checked>, matrix: bool, out: &mut impl Write) -> Result<()> {
    let mut counts = [0; 3];
    let files = files.map(|checked| {
        for (count, own) in counts.iter_mut().zip(counted(&checked.report)) {
            *count += own;
        }
        file(&checked, matrix)
    });
    let mut serializer = serde_json::Serializer::pretty(&mut *out);
    let mut whole = serializer.serialize_map(None).map_err(io::Error::from)?;
    for (key, value) in head("check") {
        whole.serialize_entry(&key, &value).map_err(io::Error::from)?;
    }
    whole.serialize_entry("files", &Stream::of(files)).map_err(io::Error::from)?;
    for (name, count) in ["errors", "cautions", "notes"].into_iter().zip(counts) {
        whole.serialize_entry(name, &count).map_err(io::Error::from)?;
    }
    SerializeMap::end(whole).map_err(io::Error::from)?;
    writeln!(out)?;
    Ok(())
}

/// A list that is written while it is made, and only once.
pub struct Stream<I>(RefCell<Option<I>>);

impl<I> Stream<I> {
    /// The list of what an iterator gives.
    pub fn of(items: I) -> Self {
        Self(RefCell::new(Some(items)))
    }
}

impl<I: Iterator<Item: Serialize>> Serialize for Stream<I> {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.take().into_iter().flatten())
    }
}

/// Errors, cautions and notes.
fn counted(report: &Report) -> [usize; 3] {
    let all = report.diagnostics();
    let told = all.iter().filter(|own| own.accepted.is_none());
    let mut counts = [Severity::Error, Severity::Caution, Severity::Note]
        .map(|severity| told.clone().filter(|own| own.severity == severity).count());
    counts[0] += usize::from(report.result.is_ok() && report.unproved().is_some());
    counts
}

fn file(checked: &Checked, matrix: bool) -> Value {
    let Checked { report, follow, .. } = checked;
    let all = report.diagnostics();
    let (accepted, told): (Vec<_>, Vec<_>) = all.iter().partition(|own| own.accepted.is_some());
    let read = report.checked();
    let mut file = json!({
        "file": report.input.name,
        "document": read.map(|(loaded, _)| loaded.document.kind()),
        "number": read.map(|(loaded, _)| loaded.document.number()),
        "findings": told.into_iter().map(diagnostic).collect::<Vec<_>>(),
        "examined": read.map_or(0, |(_, outcome)| outcome.examined),
        "out_of_range": read.map_or(0, |(_, outcome)| outcome.out_of_range),
        "not_stated": read.map_or(0, |(loaded, outcome)| not_stated(&loaded.document, outcome)),
        "deviations": accepted.into_iter().map(|own| json!({
            "check": own.check, "pointer": own.pointer, "message": own.message,
            "reason": own.accepted.and_then(|deviation| deviation.reason.as_ref()),
        })).collect::<Vec<_>>(),
    });
    if let Some(file) = file.as_object_mut() {
        if let Some(own) = &report.received {
            file.insert("received".to_owned(), received(own));
        }
        if let (true, Ok((loaded, _))) = (matrix, &report.result) {
            file.insert("completeness".to_owned(), completeness::json(&completeness::of(loaded)));
        }
        if !follow.machines.is_empty() {
            file.insert("machines".to_owned(), follow.machines.iter().map(Machine::json).collect());
        }
        if let Some(own) = &follow.kit {
            file.insert("kit".to_owned(), kit::json(own));
        }
    }
    file
}

/// What can be said of a sheet that comes from elsewhere.
fn received(own: &Received) -> Value {
    let sources = own.sources.iter().map(|source| {
        json!({"name": source.file_name, "digest": source.digest, "places": source.places, "checked": source.checked})
    });
    json!({
        "proved": own.proved(),
        "verdict": own.verdict.name(),
        "message": own.words(),
        "hint": own.hint(),
        "sheet": own.kind.map(Kind::name),
        "version": own.version,
        "program": VERSION,
        "producer": own.producer,
        "signed": own.signed,
        "sources": sources.collect::<Vec<_>>(),
        "current": own.current.as_ref().map(|own| json!({
            "state": own.state.name(),
            "message": own.words(),
            "hint": own.hint(),
            "number": own.shown.0,
            "revision": own.shown.1,
            "revision_now": own.now.1,
            "changes": own.changes,
        })),
    })
}

fn diagnostic(own: &Diagnostic<'_>) -> Value {
    json!({
        "check": own.check,
        "severity": own.severity.as_str(),
        "message": own.message,
        "line": own.span.map(|span| span.line),
        "column": own.span.map(|span| span.column),
        "pointer": own.pointer,
        "stated": own.stated,
        "limit": own.limit.map(|limit| &limit.text),
        "limits": own.limit.and_then(|limit| limit.figures.as_ref()),
        "source": own.source,
        "hint": own.hint,
    })
}
