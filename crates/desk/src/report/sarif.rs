//! Findings as SARIF 2.1.0, so that a code host shows each on its line, with the explanation of the check as its help.
//!
//! Source: OASIS, Static Analysis Results Interchange Format (SARIF) Version 2.1.0.

use std::cell::RefCell;
use std::fmt::Write as _;
use std::io::{self, Write};

use anyhow::Result;
use seamwright_check::Explanation;
use seamwright_model::finding::Severity;
use seamwright_model::source::Span;
use seamwright_page::attached::PRODUCER;
use seamwright_version::VERSION;
use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::{Map, Value, json};

use super::json::Stream;
use super::{Checked, Diagnostic, Report};
use crate::current::SUPERSEDED;
use crate::received::{Received, UNPROVED};
use crate::seal::digest_of;

/// Writes all files of a run as one log.
pub fn write(files: impl Iterator<Item = Checked>, out: &mut impl Write) -> Result<()> {
    let mut serializer = serde_json::Serializer::pretty(&mut *out);
    let mut log = serializer.serialize_map(None).map_err(io::Error::from)?;
    log.serialize_entry("$schema", "https://json.schemastore.org/sarif-2.1.0.json").map_err(io::Error::from)?;
    log.serialize_entry("version", "2.1.0").map_err(io::Error::from)?;
    log.serialize_entry("runs", &[Run(RefCell::new(Some(files)))]).map_err(io::Error::from)?;
    SerializeMap::end(log).map_err(io::Error::from)?;
    writeln!(out)?;
    Ok(())
}

/// The files of a run, written while they are checked.
struct Run<I>(RefCell<Option<I>>);

impl<I: Iterator<Item = Checked>> Serialize for Run<I> {
    /// The results come first, each as its file comes, and after them the rules that they name: which these are shows at
    /// the end, and the order of keys means nothing.
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        let (mut used, mut read) = (Vec::new(), true);
        let results = self.0.take().into_iter().flatten().flat_map(|checked| {
            read &= checked.report.result.is_ok() && checked.report.unproved().is_none();
            results(&checked.report, &mut used)
        });
        let mut run = serializer.serialize_map(None)?;
        run.serialize_entry("columnKind", "unicodeCodePoints")?;
        run.serialize_entry("results", &Stream::of(results))?;
        let rules: Vec<Value> = used.into_iter().map(rule).collect();
        let semantic = VERSION.split('+').next().unwrap_or(VERSION);
        let driver = json!({
            "name": PRODUCER, "version": VERSION, "semanticVersion": semantic, "rules": rules,
        });
        run.serialize_entry("tool", &json!({"driver": driver}))?;
        run.serialize_entry("invocations", &json!([{"executionSuccessful": read}]))?;
        run.end()
    }
}

/// The results of a file.
fn results(report: &Report, used: &mut Vec<&'static str>) -> Vec<Map<String, Value>> {
    let name = &report.input.name;
    let mut results = Vec::new();
    // A file without a source says so by its own fault.
    if let (Some(unproved), Ok(_)) = (report.unproved(), &report.result) {
        let text = [Some(unproved.words()), unproved.hint(), unproved.caveat()];
        let text = text.into_iter().flatten().collect::<Vec<_>>().join("; ");
        let mut own = bare(UNPROVED, &text, &location(name, "", None), used);
        let print = fingerprint(&[UNPROVED, unproved.verdict.name()]);
        own.insert("partialFingerprints".into(), print);
        own.insert("properties".into(), json!({"verdict": unproved.verdict.name()}));
        results.push(own);
    }
    if let Some(current) = report.received.as_ref().and_then(Received::outdated) {
        let text =
            [vec![current.words()], current.changes.clone(), vec![current.hint().unwrap_or_default().to_owned()]];
        let mut own = bare(SUPERSEDED, &text.concat().join("; "), &location(name, "", None), used);
        own.insert("partialFingerprints".into(), fingerprint(&[SUPERSEDED, current.state.name()]));
        results.push(own);
    }
    let text = match &report.result {
        Ok((loaded, _)) => &*loaded.source.text,
        Err(unread) => unread.source.as_ref().map_or("", |source| &source.text),
    };
    results.extend(report.diagnostics().iter().map(|own| result(own, &location(name, text, own.span), used)));
    results
}

/// A result of severity error with its text and place.
fn bare(rule: &'static str, text: &str, location: &Value, used: &mut Vec<&'static str>) -> Map<String, Value> {
    let mut own = Map::new();
    own.insert("ruleId".into(), json!(rule));
    own.insert("ruleIndex".into(), json!(index(rule, used)));
    own.insert("level".into(), json!("error"));
    own.insert("message".into(), json!({"text": text}));
    own.insert("locations".into(), json!([location]));
    own
}

/// By which a result is known again in a later run, wherever its line has moved: what was found of which value.
fn fingerprint(parts: &[&str]) -> Value {
    let digest = digest_of(parts.iter().map(|part| part.as_bytes()));
    let print: String = digest.iter().take(16).map(|byte| format!("{byte:02x}")).collect();
    json!({"finding/v1": print})
}

fn result(found: &Diagnostic<'_>, location: &Value, used: &mut Vec<&'static str>) -> Map<String, Value> {
    let mut text = found.message.to_owned();
    if let Some(source) = found.source {
        let _ = write!(text, ". Source: {}", source.line_with_doubt());
    }
    if let Some(hint) = found.hint {
        let _ = if found.is_fault() { write!(text, "; {hint}") } else { write!(text, ". Hint: {hint}") };
    }
    let mut own = Map::new();
    own.insert("ruleId".into(), json!(found.check));
    own.insert("ruleIndex".into(), json!(index(found.check, used)));
    own.insert("level".into(), json!(level(found.severity)));
    own.insert("message".into(), json!({"text": text}));
    own.insert("locations".into(), json!([location]));
    let what = if found.is_fault() { found.message } else { found.stated.unwrap_or_default() };
    own.insert("partialFingerprints".into(), fingerprint(&[found.check, found.pointer, what]));
    if !found.is_fault() {
        let properties = json!({"pointer": found.pointer, "stated": found.stated, "limit": found.limit.map(|limit| &limit.text), "limits": found.limit.and_then(|limit| limit.figures.as_ref()), "source": found.source});
        own.insert("properties".into(), properties);
    }
    if let Some(deviation) = found.accepted {
        let reason = deviation.reason.as_deref().unwrap_or_default();
        own.insert("suppressions".into(), json!([{"kind": "inSource", "status": "accepted", "justification": reason}]));
    }
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
    if name == UNPROVED {
        let text = "A sheet is proved where it is made again from the source that it carries and is the same byte for byte. \
                    Of any other the message says what holds: another version of the program made it, other software saved \
                    or signed it, it was changed, or it carries several sources or none. What the sheet shows may differ \
                    from its source. Ask for the file as the program wrote it, or for the source.";
        return json!({
            "id": name, "shortDescription": {"text": "A sheet that is not proved by its source."},
            "fullDescription": {"text": text}, "help": {"text": text},
        });
    }
    if name == SUPERSEDED {
        let text = "A sheet that shows another revision or another content than the procedure that was named beside it: the \
                    message says which, and what changed. Take it away from where it is welded by.";
        return json!({
            "id": name, "shortDescription": {"text": "A sheet that does not show what holds."},
            "fullDescription": {"text": text}, "help": {"text": text},
        });
    }
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
