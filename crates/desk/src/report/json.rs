//! Findings as JSON, in the shape that programs rely on. Each file is written as it comes, so that memory does not grow with
//! their number.

use std::cell::RefCell;
use std::io::{self, Write};

use anyhow::Result;
use seamwright_check::not_stated;
use seamwright_model::Loaded;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::load::Fault;
use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::{Value, json};

use super::machine::Machine;
use super::{Checked, Report, UNREADABLE, completeness, kit};

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
    match &report.result {
        Ok((_, outcome)) => [Severity::Error, Severity::Caution, Severity::Note].map(|own| outcome.count(own)),
        Err(unread) => [unread.faults.len(), 0, 0],
    }
}

fn file(checked: &Checked, matrix: bool) -> Value {
    let Checked { report, follow } = checked;
    let mut file = match &report.result {
        Ok((loaded, outcome)) => json!({
            "file": report.input.name,
            "document": loaded.document.kind(),
            "number": loaded.document.number(),
            "findings": outcome.findings.iter().map(|own| finding(own, loaded)).collect::<Vec<_>>(),
            "examined": outcome.examined,
            "out_of_range": outcome.out_of_range,
            "not_stated": not_stated(&loaded.document, outcome),
            "deviations": outcome.deviations.iter().map(|(finding, deviation)| json!({
                "check": finding.check, "pointer": finding.pointer, "message": finding.message, "reason": deviation.reason,
            })).collect::<Vec<_>>(),
        }),
        Err(unread) => json!({
            "file": report.input.name,
            "document": null,
            "number": null,
            "findings": unread.faults.iter().map(fault).collect::<Vec<_>>(),
            "examined": 0,
            "out_of_range": 0,
            "not_stated": 0,
            "deviations": [],
        }),
    };
    if let Some(file) = file.as_object_mut() {
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

fn finding(finding: &Finding, loaded: &Loaded) -> Value {
    let span = loaded.tree.span_of(&finding.pointer);
    json!({
        "check": finding.check,
        "severity": finding.severity.as_str(),
        "message": finding.message,
        "line": span.line,
        "column": span.column,
        "pointer": finding.pointer,
        "stated": finding.stated,
        "limit": finding.limit,
        "source": finding.source,
        "hint": finding.hint,
    })
}

fn fault(fault: &Fault) -> Value {
    json!({
        "check": UNREADABLE,
        "severity": "error",
        "message": fault.message,
        "line": fault.span.map(|span| span.line),
        "column": fault.span.map(|span| span.column),
        "pointer": fault.pointer,
        "stated": null,
        "limit": null,
        "source": null,
        "hint": fault.hint,
    })
}
