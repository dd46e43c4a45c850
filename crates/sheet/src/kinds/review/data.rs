//! The findings of a review as data, for a reply: by clause and item, with fields for disposition and reply.

use std::borrow::Cow;

use seamwright_check::{Outcome, completeness, rank};
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::Loaded;
use seamwright_model::capital::capital;
use seamwright_model::finding::{Finding, SourceRef};
use seamwright_page::SheetOptions;
use seamwright_weld::View;
use serde::{Deserialize, Serialize};

use crate::kinds::alike::{alike, places};

/// A finding that is answered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ReviewFinding {
    /// Its number on the sheet, from one.
    pub number: usize,
    /// `error`, `caution` or `note`.
    pub severity: String,
    /// The clause of the code that asks for the value.
    pub clause: Option<String>,
    /// The item of the procedure in words.
    pub item: String,
    /// What was found.
    pub found: String,
    /// What to state, in words.
    pub state: String,
    /// The limit.
    pub limit: Option<String>,
    /// Where the limit is written.
    pub source: Option<String>,
    /// The check that found it.
    pub check: String,
    /// What the reviewer decides; empty until it is filled in.
    pub disposition: String,
    /// What the submitter answers; empty until it is filled in.
    pub reply: String,
}

/// An item that is asked for, and whether it is stated.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ReviewedItem {
    /// The standard or code that asks.
    pub standard: String,
    /// Its clause.
    pub clause: String,
    /// What is asked for.
    pub item: String,
    /// `stated`, `missing`, `not-specified` or `not-applicable`.
    pub state: String,
    /// What is stated.
    pub stated: String,
}

/// The findings of a document, the gravest first, else in the order of the document; what is found alike at several runs is
/// one finding that names them, with one disposition.
pub fn review_findings(loaded: &Loaded, outcome: &Outcome, view: &View<'_>, terms: Terms) -> Vec<ReviewFinding> {
    let mut found: Vec<(usize, &Finding)> =
        outcome.findings.iter().map(|finding| (loaded.tree.span_of(&finding.pointer).line, finding)).collect();
    found.sort_by_cached_key(|(line, finding)| (rank(finding), *line));
    alike(found.into_iter().map(|(_, finding)| (finding.pointer.as_str(), said(finding), finding)))
        .into_iter()
        .enumerate()
        .map(|(index, (finding, pointers))| ReviewFinding {
            number: index + 1,
            severity: finding.severity.as_str().to_owned(),
            clause: completeness::clause(&finding.pointer, view),
            item: places(&pointers, terms),
            found: finding.message.clone(),
            state: finding.hint.as_deref().map(|hint| in_words(hint, terms)).unwrap_or_default(),
            limit: finding.limit.as_deref().map(str::to_owned),
            source: finding.source.as_ref().map(SourceRef::line_with_doubt),
            check: finding.check.to_owned(),
            disposition: String::new(),
            reply: String::new(),
        })
        .collect()
}

/// Most findings that a review sheet has room for: no one answers more on paper.
const MOST: usize = 1000;

/// Why there is no review sheet of what was found, in words; nothing where there is one.
pub fn review_too_long(outcome: &Outcome) -> Option<String> {
    let count = alike(outcome.findings.iter().map(|own| (own.pointer.as_str(), said(own), ()))).len();
    (count > MOST).then(|| {
        format!(
            "{count} different findings are more than a review sheet of {MOST} holds; write them as data              (`--to csv`), or send the procedure back as a whole"
        )
    })
}

/// All that a finding says but for the place.
pub(super) fn said(finding: &Finding) -> [Cow<'_, str>; 6] {
    let source = finding.source.as_ref().map(SourceRef::line_with_doubt).unwrap_or_default().into();
    let severity = finding.severity.as_str().into();
    let [limit, hint] = [finding.limit.as_deref(), finding.hint.as_deref()].map(|text| text.unwrap_or_default().into());
    [finding.check.into(), severity, finding.message.as_str().into(), limit, hint, source]
}

/// What is asked of a document, item by item.
pub fn reviewed_items(view: &View<'_>) -> Vec<ReviewedItem> {
    let item = |entry: seamwright_check::completeness::Entry| ReviewedItem {
        standard: entry.standard.to_owned(),
        clause: entry.reference,
        item: entry.item,
        state: entry.state.as_str().to_owned(),
        stated: entry.stated,
    };
    completeness::asked(view).into_iter().map(item).collect()
}

/// The names over the columns of [`review_csv`].
pub const REVIEW_COLUMNS: [&str; 11] =
    ["number", "severity", "clause", "item", "found", "state", "limit", "source", "check", "disposition", "reply"];

/// Findings as comma-separated values (RFC 4180) under a line of names.
pub fn review_csv(findings: &[ReviewFinding]) -> String {
    let mut out = format!("{}\r\n", REVIEW_COLUMNS.join(","));
    for finding in findings {
        let option = |text: &Option<String>| text.clone().unwrap_or_default();
        let cells = [
            finding.number.to_string(),
            finding.severity.clone(),
            option(&finding.clause),
            finding.item.clone(),
            finding.found.clone(),
            finding.state.clone(),
            option(&finding.limit),
            option(&finding.source),
            finding.check.clone(),
            finding.disposition.clone(),
            finding.reply.clone(),
        ];
        let quoted: Vec<String> = cells.iter().map(|cell| quoted(cell)).collect();
        out.push_str(&quoted.join(","));
        out.push_str("\r\n");
    }
    out
}

/// A cell, in quotes where it holds a mark of the format.
fn quoted(cell: &str) -> String {
    // A spreadsheet would compute what begins so.
    let cell = if cell.starts_with(['=', '+', '-', '@']) { format!("'{cell}") } else { cell.to_owned() };
    if cell.contains([',', '"', '\n', '\r']) { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell }
}

/// A hint to the writer of a file as words to the writer of a procedure: keys as terms, no marks of the format.
fn in_words(hint: &str, terms: Terms) -> String {
    let mut out = String::new();
    for (index, part) in hint.split('`').enumerate() {
        if index % 2 == 0 {
            out.push_str(part);
            continue;
        }
        let plain = |text: &str| text.trim_matches(['{', '}', '[', ']', ' ']).to_owned();
        let term = |key: &str| match variables::find(plain(key).as_str()).as_slice() {
            [] => plain(key).replace('_', " "),
            [row, ..] => SheetOptions { terms, ..SheetOptions::default() }.low(row.key),
        };
        // `key: value`, `key: {part: value, part: value}`, or a key or a value alone.
        let said: Vec<String> = part
            .split([',', '{'])
            .filter(|piece| !plain(piece).is_empty())
            .map(|piece| match piece.split_once(':') {
                Some((key, value)) if plain(value).is_empty() => term(key),
                Some((key, value)) => format!("{} {}", term(key), plain(value)),
                None if piece.contains('_') => term(piece),
                None => plain(piece),
            })
            .collect();
        out.push_str(&said.join(", "));
    }
    match out.strip_prefix("write ") {
        Some(rest) => format!("State {rest}"),
        None => capital(&out),
    }
}

/// Sources in the order in which they are first named.
#[derive(Debug, Default)]
pub(super) struct Numbered(Vec<String>);

impl Numbered {
    /// The number of a source, from one.
    pub(super) fn of(&mut self, line: &str) -> usize {
        if let Some(at) = self.0.iter().position(|own| own == line) {
            at + 1
        } else {
            self.0.push(line.to_owned());
            self.0.len()
        }
    }

    /// The sources by number.
    pub(super) fn lines(&self) -> Vec<String> {
        self.0.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hints_are_told_in_the_terms_of_the_trade() {
        let said = |hint| in_words(hint, Terms::Iso);
        assert_eq!(said("write `root_gap: 2-3 mm`"), "State root gap 2-3 mm");
        assert_eq!(said("write `approved_by`, or `status: draft`"), "State approved by, or status draft");
        assert!(!said("write for example `backing_gas: {designation: I1, flow: 5-8 L/min}`").contains(['{', '_', '`']));
        assert_eq!(said("purge the root, or weld it with wire"), "Purge the root, or weld it with wire");
    }

    // RFC 4180: a cell with a comma, a quote or a line break stands in quotes, and a quote in it is doubled.
    #[test]
    fn cells_are_quoted_as_the_standard_has_it() {
        assert_eq!(quoted("a, \"b\""), "\"a, \"\"b\"\"\"");
        assert_eq!(quoted("plain"), "plain");
        assert_eq!(quoted("=1+1"), "'=1+1");
    }

    #[test]
    fn a_source_has_one_number() {
        let mut numbers = Numbered::default();
        assert_eq!((numbers.of("a"), numbers.of("b"), numbers.of("a")), (1, 2, 1));
        assert_eq!(numbers.lines(), ["a", "b"]);
    }
}
