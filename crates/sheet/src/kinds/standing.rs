//! How a sheet stands: what it is stamped with, how many findings it has, and what is still to decide.

use seamwright_check::{codes, not_stated};
use seamwright_handbook::variables;
use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::{Procedure, Route, Status};
use seamwright_page::SheetOptions;
use seamwright_page::words::{Label, Language, label};

use super::Subject;

/// What a sheet that is not to be welded by says across its head; nothing where it stands.
pub(super) fn stamp(subject: Subject<'_>, options: SheetOptions) -> Option<String> {
    let identification = subject.loaded.document.identification();
    let status = identification.status.and_then(|status| match status {
        Status::Draft => Some(options.say(label::DRAFT_STAMP).into_owned()),
        Status::Withdrawn => Some(options.say(label::WITHDRAWN_STAMP).into_owned()),
        Status::Superseded => Some(options.say(label::SUPERSEDED_STAMP).into_owned()),
        Status::Issued => None,
    });
    let procedure = match &subject.loaded.document {
        Document::Procedure(procedure) => Some(&**procedure),
        _ => None,
    };
    let unqualified = procedure.and_then(|procedure| not_qualified(procedure, subject, options));
    let errors = subject.outcome.count(Severity::Error);
    let faulty = (errors > 0).then(|| {
        let said = options.count(errors, label::ONE_ERROR, label::MANY_ERRORS).to_uppercase();
        // A lesson has no review: what was found stands on the plan.
        let lesson = matches!(subject.loaded.document, Document::Lesson(_));
        let words = if lesson { label::ERRORS_ON_THE_PLAN } else { label::ERRORS_FOUND };
        options.fill(words, &[("errors", &said)])
    });
    let said: Vec<String> = [status, unqualified, faulty].into_iter().flatten().collect();
    (!said.is_empty()).then(|| said.join(" · "))
}

/// What a procedure whose route needs a test record is stamped without one, or where the given ones do not support it.
fn not_qualified(procedure: &Procedure, subject: Subject<'_>, options: SheetOptions) -> Option<String> {
    let qualification = procedure.qualification.as_ref()?;
    let needs_record = matches!(qualification.route, Route::TestRecord | Route::PreProductionTest);
    let against = |finding: &Finding| codes::compare::RULES.iter().any(|rule| rule.name == finding.check);
    let why = if qualification.records.is_empty() {
        label::NO_TEST_RECORD
    } else if subject.outcome.findings.iter().any(|own| own.severity == Severity::Error && against(own)) {
        label::OUTSIDE_RECORDS
    } else {
        return None;
    };
    needs_record.then(|| options.fill(label::NOT_QUALIFIED, &[("why", &options.say(why))]))
}

/// The count of findings by severity, of what is not stated, and of what stands under a deviation.
pub(super) fn counts(subject: Subject<'_>, options: SheetOptions) -> String {
    let outcome = subject.outcome;
    let mut said = vec![
        options.count(outcome.count(Severity::Error), label::ONE_ERROR, label::MANY_ERRORS),
        options.count(outcome.count(Severity::Caution), label::ONE_CAUTION, label::MANY_CAUTIONS),
        options.count(outcome.count(Severity::Note), label::ONE_NOTE, label::MANY_NOTES),
    ];
    let number = |label: Label, count: usize| options.fill(label, &[("count", &count.to_string())]);
    let missing = not_stated(&subject.loaded.document, outcome);
    if missing > 0 {
        said.push(number(label::NOT_STATED_COUNT, missing));
    }
    if !outcome.deviations.is_empty() {
        said.push(number(label::UNDER_DEVIATION, outcome.deviations.len()));
    }
    let values = options.count(outcome.examined, label::ONE_VALUE, label::MANY_VALUES);
    options.fill(label::COUNTS, &[("values", &values), ("said", &said.join(", "))])
}

/// What a draft leaves open.
#[derive(Debug)]
pub(super) struct Open {
    /// The value, in words; empty where the remark stands for itself.
    what: String,
    /// The key of the dictionary that the value has.
    key: Option<&'static str>,
    /// What its remark asks.
    how: String,
}

impl Open {
    /// The value with what its remark asks.
    pub(super) fn text(&self) -> String {
        if self.what.is_empty() { self.how.clone() } else { format!("{} ({})", self.what, self.how) }
    }

    /// The value alone, for those who need only know that it is open; a remark that stands for itself is the author's text.
    pub(super) fn short(self, options: SheetOptions) -> String {
        match self.key {
            Some(key) if options.language != Language::En => options.low(key),
            _ if self.what.is_empty() => self.how,
            _ => self.what,
        }
    }
}

/// What a draft still has to decide: the remarks of its source that say so, in their order.
pub(super) fn to_decide(source: &str) -> Vec<Open> {
    let mut found: Vec<Open> = Vec::new();
    let mut sections = Sections::default();
    for line in source.lines() {
        let around = sections.around(line);
        let Some((before, remark)) = line.split_once('#') else { continue };
        let Some((what, how)) = remark.split_once("decide:") else { continue };
        // `# tack_welds: decide: length and spacing`, or `key: value # decide: ...`.
        let named = [what, before].into_iter().map(|text| text.trim().trim_start_matches("- "));
        let key = named.into_iter().find(|text| !text.is_empty());
        let name = key.and_then(|text| text.split(':').next()).unwrap_or_default();
        let key = variables::get(&format!("{around}/{name}")).map(|row| row.key);
        let open = Open { what: name.replace('_', " "), key, how: how.trim().to_owned() };
        let text = open.text();
        if !text.is_empty() && found.iter().all(|own| own.text() != text) {
            found.push(open);
        }
    }
    found
}

/// The sections that are open at a line of a document, each with how far it is set in.
#[derive(Default)]
struct Sections<'s>(Vec<(usize, &'s str)>);

impl<'s> Sections<'s> {
    /// The pointer to what the key of the next line stands in, also of a key that is only a remark.
    fn around(&mut self, line: &'s str) -> String {
        let mut text = line.trim_start();
        while let Some(rest) = text.strip_prefix("- ") {
            // A list may stand as far in as its key.
            let indent = line.len() - text.len();
            self.0.retain(|(at, name)| *at < indent || *at == indent && *name != "0");
            self.0.push((indent, "0"));
            text = rest.trim_start();
        }
        let indent = line.len() - text.len();
        let around = self.0.iter().filter(|(at, _)| *at < indent).map(|(_, name)| format!("/{name}")).collect();
        if let Some((name, _)) = text.split_once(':').filter(|_| !text.starts_with('#')) {
            self.0.retain(|(at, _)| *at < indent);
            self.0.push((indent, name));
        }
        around
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_draft_leaves_open_is_listed_once() {
        let source = "joint:\n  # tack_welds: decide: length and spacing\n  # tack_welds: decide: length and spacing\n  \
                      current: 90-120 A # decide: by a trial piece\nnotes: [we decide: nothing]\n";
        let texts: Vec<String> = to_decide(source).iter().map(Open::text).collect();
        assert_eq!(texts, ["tack welds (length and spacing)", "current (by a trial piece)"]);
        let short: Vec<String> =
            to_decide(source).into_iter().map(|open| open.short(SheetOptions::default())).collect();
        assert_eq!(short, ["tack welds", "current"]);
        assert!(to_decide("runs: []\n").is_empty());
    }

    #[test]
    fn what_is_open_stands_in_the_language_of_the_card() {
        let source = "joint:\n  # tack_welds: decide: length and spacing\nruns:\n- run: 1\n  \
                      shielding_gas:\n    # flow: decide: by the maker\n  current: 90 A # decide: by trial\n\
                      # decide: whether two welders\n";
        let said = |language| {
            let options = SheetOptions { language, ..SheetOptions::default() };
            to_decide(source).into_iter().map(|open| open.short(options)).collect::<Vec<_>>().join(", ")
        };
        assert_eq!(said(Language::En), "tack welds, flow, current, whether two welders");
        assert_eq!(said(Language::De), "Heftstellen, Schutzgasmenge, Schweißstrom, whether two welders");
    }
}
