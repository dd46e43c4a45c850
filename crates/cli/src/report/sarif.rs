//! Findings as SARIF 2.1.0, so that a code host shows each on its line, with the explanation of the check as its help.
//!
//! Source: OASIS, Static Analysis Results Interchange Format (SARIF) Version 2.1.0.

use std::fmt::Write as _;

use seamwright_check::Explanation;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::source::Span;
use serde_json::{Map, Value, json};

use super::{Report, UNREADABLE};

/// All files of a run as one log.
pub fn document(reports: &[Report]) -> Value {
    let mut results = Vec::new();
    let mut used: Vec<&'static str> = Vec::new();
    let mut read = true;
    for report in reports {
        match &report.result {
            Ok((loaded, outcome)) => {
                let place = |finding: &Finding| {
                    location(&report.input.name, &loaded.source.text, Some(loaded.tree.span_of(&finding.pointer)))
                };
                for finding in &outcome.findings {
                    results.push(result(finding, &place(finding), &mut used));
                }
                for (finding, deviation) in &outcome.deviations {
                    let mut own = result(finding, &place(finding), &mut used);
                    let reason = deviation.reason.as_deref().unwrap_or_default();
                    own.insert(
                        "suppressions".into(),
                        json!([{"kind": "inSource", "status": "accepted", "justification": reason}]),
                    );
                    results.push(own);
                }
            }
            Err(unread) => {
                read = false;
                let text = unread.source.as_ref().map_or("", |source| &source.text);
                for fault in &unread.faults {
                    let message = match &fault.hint {
                        Some(hint) => format!("{}; {hint}", fault.message),
                        None => fault.message.clone(),
                    };
                    let mut own = Map::new();
                    own.insert("ruleId".into(), json!(UNREADABLE));
                    own.insert("ruleIndex".into(), json!(index(UNREADABLE, &mut used)));
                    own.insert("level".into(), json!("error"));
                    own.insert("message".into(), json!({"text": message}));
                    own.insert("locations".into(), json!([location(&report.input.name, text, fault.span)]));
                    results.push(own);
                }
            }
        }
    }
    let rules: Vec<Value> = used.iter().map(|name| rule(name)).collect();
    json!({
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": {"driver": {
                "name": "Seamwright",
                "version": env!("CARGO_PKG_VERSION"),
                "rules": rules,
            }},
            "columnKind": "unicodeCodePoints",
            "invocations": [{"executionSuccessful": read}],
            "results": results,
        }],
    })
}

fn result(finding: &Finding, location: &Value, used: &mut Vec<&'static str>) -> Map<String, Value> {
    let mut text = finding.message.clone();
    if let Some(source) = &finding.source {
        let _ = write!(text, ". Source: {}", source.line());
    }
    if let Some(hint) = &finding.hint {
        let _ = write!(text, ". Hint: {hint}");
    }
    let mut own = Map::new();
    own.insert("ruleId".into(), json!(finding.check));
    own.insert("ruleIndex".into(), json!(index(finding.check, used)));
    own.insert("level".into(), json!(level(finding.severity)));
    own.insert("message".into(), json!({"text": text}));
    own.insert("locations".into(), json!([location]));
    own.insert(
        "properties".into(),
        json!({"pointer": finding.pointer, "stated": finding.stated, "limit": finding.limit, "source": finding.source}),
    );
    own
}

/// SARIF has no caution: its word is warning.
const fn level(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Caution => "warning",
        Severity::Note => "note",
    }
}

/// The place of a rule in the list of those that are used.
fn index(name: &'static str, used: &mut Vec<&'static str>) -> usize {
    used.iter().position(|own| *own == name).unwrap_or_else(|| {
        used.push(name);
        used.len() - 1
    })
}

fn rule(name: &str) -> Value {
    let Ok(check) = seamwright_check::explain(name) else {
        let text = "A file that cannot be read as a document: the message says what is wrong and what to write.";
        return json!({"id": name, "shortDescription": {"text": "A file that cannot be read."}, "help": {"text": text}});
    };
    json!({
        "id": check.name,
        "shortDescription": {"text": check.finds},
        "fullDescription": {"text": format!("{} {}", check.finds, check.matters)},
        "help": {"text": help(&check, ""), "markdown": help(&check, "## ")},
    })
}

fn help(check: &Explanation, mark: &str) -> String {
    let mut parts: Vec<String> =
        check.parts().iter().map(|(heading, text)| format!("{mark}{heading}\n\n{text}")).collect();
    if !check.tables.is_empty() {
        let tables: Vec<String> = check.tables.iter().map(|name| format!("seamwright table {name}")).collect();
        parts.push(format!("{mark}Tables\n\n{}", tables.join("\n")));
    }
    parts.join("\n\n")
}

fn location(file: &str, text: &str, span: Option<Span>) -> Value {
    let mut place = json!({"artifactLocation": {"uri": uri(file)}});
    if let (Some(span), Some(map)) = (span, place.as_object_mut()) {
        let stretch = text.get(span.bytes()).unwrap_or_default();
        let lines = stretch.matches('\n').count();
        let last = stretch.rsplit('\n').next().unwrap_or_default().chars().count();
        let end = if lines == 0 { span.column + last } else { last + 1 };
        map.insert(
            "region".into(),
            json!({"startLine": span.line.max(1), "startColumn": span.column.max(1), "endLine": span.line.max(1) + lines, "endColumn": end.max(1)}),
        );
    }
    json!({"physicalLocation": place})
}

/// A file name as a URI reference (RFC 3986).
fn uri(file: &str) -> String {
    let path = file.replace('\\', "/");
    let mut uri = String::from(if path.starts_with('/') { "file://" } else { "" });
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~' | b'/') {
            uri.push(char::from(byte));
        } else {
            let _ = write!(uri, "%{byte:02X}");
        }
    }
    uri
}
