//! Findings as JSON, in the shape that programs rely on.

use seamwright_model::finding::Severity;
use serde_json::{Value, json};

use super::{Report, UNREADABLE};

/// All files of a run.
pub fn document(reports: &[Report]) -> Value {
    let (mut errors, mut cautions, mut notes) = (0, 0, 0);
    let files: Vec<Value> = reports
        .iter()
        .map(|report| match &report.result {
            Ok((loaded, outcome)) => {
                errors += outcome.count(Severity::Error);
                cautions += outcome.count(Severity::Caution);
                notes += outcome.count(Severity::Note);
                let findings: Vec<Value> = outcome
                    .findings
                    .iter()
                    .map(|finding| {
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
                    })
                    .collect();
                json!({
                    "file": report.input.name,
                    "document": loaded.document.kind(),
                    "number": loaded.document.number(),
                    "findings": findings,
                    "examined": outcome.examined,
                    "out_of_range": outcome.out_of_range,
                    "not_stated": outcome.not_stated,
                    "deviations": outcome.deviations.iter().map(|(finding, deviation)| json!({
                        "check": finding.check, "pointer": finding.pointer, "message": finding.message, "reason": deviation.reason,
                    })).collect::<Vec<_>>(),
                })
            }
            Err(unread) => {
                errors += unread.faults.len();
                let findings: Vec<Value> = unread
                    .faults
                    .iter()
                    .map(|fault| {
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
                    })
                    .collect();
                json!({
                    "file": report.input.name,
                    "document": null,
                    "number": null,
                    "findings": findings,
                    "examined": 0,
                    "out_of_range": 0,
                    "not_stated": 0,
                    "deviations": [],
                })
            }
        })
        .collect();
    json!({"files": files, "errors": errors, "cautions": cautions, "notes": notes})
}
