//! The review of a procedure as data, for a reply: as comma-separated values and as JSON.

use anyhow::Result;
use seamwright_check::Outcome;
use seamwright_handbook::variables::Terms;
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::procedure::CodeName;
use seamwright_sheet::kinds::{self, ReviewFinding, ReviewedItem};
use seamwright_weld::View;
use serde::{Deserialize, Serialize};

use crate::report::json::head;

/// A review: what was reviewed, its findings, and what is asked of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Review {
    /// Number of the procedure.
    pub number: String,
    /// Its revision.
    pub revision: String,
    /// What is welded, in a line.
    pub title: String,
    /// Who issues it.
    pub manufacturer: Option<String>,
    /// The code that it is qualified under.
    pub code: Option<CodeName>,
    /// What was found, the worst first.
    pub findings: Vec<ReviewFinding>,
    /// What is asked for, and whether it is stated.
    pub items: Vec<ReviewedItem>,
}

impl Review {
    /// The review of a procedure; nothing of another document.
    pub fn of(loaded: &Loaded, outcome: &Outcome, terms: Terms) -> Option<Self> {
        let Document::Procedure(procedure) = &loaded.document else { return None };
        let view = View::new(procedure);
        let identification = &procedure.identification;
        Some(Self {
            number: identification.number.to_string(),
            revision: identification.revision.to_string(),
            title: identification.title.to_string(),
            manufacturer: identification.manufacturer.as_ref().map(ToString::to_string),
            code: procedure.qualification.as_ref().and_then(|own| own.code),
            findings: kinds::review_findings(loaded, outcome, &view, terms),
            items: kinds::reviewed_items(&view),
        })
    }

    /// The findings, a row each, under a row of names (RFC 4180).
    pub fn csv(&self) -> Vec<u8> {
        kinds::review_csv(&self.findings).into_bytes()
    }

    /// All of it, behind what every answer of the program begins with.
    pub fn json(&self) -> Result<Vec<u8>> {
        let mut whole = head("render");
        if let serde_json::Value::Object(entries) = serde_json::to_value(self)? {
            whole.extend(entries);
        }
        let mut bytes = serde_json::to_vec_pretty(&whole)?;
        bytes.push(b'\n');
        Ok(bytes)
    }
}

/// Whether a file of findings has a disposition or a reply written into it, or is no longer such a file.
pub fn is_answered(bytes: &[u8]) -> bool {
    let answered = |findings: &[ReviewFinding]| {
        findings.iter().any(|finding| !finding.disposition.trim().is_empty() || !finding.reply.trim().is_empty())
    };
    if let Ok(review) = serde_json::from_slice::<Review>(bytes) {
        return answered(&review.findings);
    }
    let mut reader = csv::Reader::from_reader(bytes);
    let own = reader.headers().is_ok_and(|names| names.iter().eq(kinds::REVIEW_COLUMNS));
    let rows: Result<Vec<ReviewFinding>, _> = reader.deserialize().collect();
    !own || rows.map_or(true, |findings| answered(&findings))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn finding(reply: &str) -> ReviewFinding {
        ReviewFinding {
            number: 1,
            severity: "error".to_owned(),
            clause: None,
            item: "gap, \"root\"".to_owned(),
            found: "two\nlines".to_owned(),
            state: "State it".to_owned(),
            limit: Some("2 mm".to_owned()),
            source: None,
            check: "gap".to_owned(),
            disposition: String::new(),
            reply: reply.to_owned(),
        }
    }

    #[test]
    fn what_somebody_wrote_into_the_findings_is_told_from_what_was_written_out() {
        for (reply, told) in [("", false), ("corrected in revision 2", true)] {
            let findings = vec![finding(reply)];
            let csv = kinds::review_csv(&findings);
            assert_eq!(is_answered(csv.as_bytes()), told, "{csv}");
            let review = Review {
                number: "P-1".to_owned(),
                revision: "1".to_owned(),
                title: "Trial".to_owned(),
                manufacturer: None,
                code: None,
                findings,
                items: Vec::new(),
            };
            assert_eq!(is_answered(&review.json().unwrap()), told);
        }
        // No finding, no answer; another file is somebody's.
        assert!(!is_answered(kinds::review_csv(&[]).as_bytes()));
        assert!(is_answered(b"number;severity;reply\r\n1;error;done\r\n"));
        assert!(is_answered(b"{}") && is_answered(b""));
    }
}
