//! The checks of documents against the handbook and against each other.
//!
//! [`check_with`] runs the rules of a kind of document and gives what was found, what was compared with which limit, and
//! which findings a stated deviation covers. What checks look at stands in [`subject`]; each has its folder with one file
//! for each check and a list of them:
//!
//! - [`codes`]: what test records and welders' tests qualify under a code, and procedures held against it.
//! - [`rules`]: procedures; [`records`]: test records; [`shops`]: shops, and procedures held against a shop; [`lessons`].
//!
//! Beside them stands what is found without judging: [`completeness`], [`cover`], [`kit`], [`preheat`], [`revision`] and
//! [`treatment`]. What a procedure says, and what follows from it, is understood in [`seamwright_weld`].
//!
//! ```
//! use seamwright_check::{Context, check_with};
//!
//! let text = include_str!("../../../procedures/lap-fillet-2-carbon-141.yaml").replace("70-90 A", "300-400 A");
//! let loaded = seamwright_model::load("hot.yaml", text.as_bytes()).expect("a document");
//! let outcome = check_with(&loaded.document, &Context::default());
//! let gravest = &outcome.findings[0];
//! assert!(gravest.stated.as_deref() == Some("300-400 A") && gravest.source.is_some());
//! ```

use std::collections::BTreeMap;
use std::mem::take;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{LazyLock, OnceLock};

use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::{CodeName, Deviation, Procedure};
use seamwright_model::shop::Shop;
use seamwright_model::stated::Date;
use seamwright_model::test_record::TestRecord;
use seamwright_model::variants::Variant;
use seamwright_weld::View;

pub mod codes;
pub mod completeness;
pub mod cover;
mod gravity;
pub mod kit;
pub mod lessons;
pub mod preheat;
pub mod records;
pub mod revision;
pub mod rule;
pub mod rules;
pub mod shops;
pub mod subject;
pub mod treatment;

pub use rule::{Comparison, Examiner, Explanation, Harm, Rule};

use completeness::Entry;
use subject::{InShopView, LessonView, RecordView, Subject};

/// The result of checking a document.
#[derive(Debug, Clone, Default)]
pub struct Outcome {
    /// What stands against the document, the gravest first.
    pub findings: Vec<Finding>,
    /// Findings that a stated deviation covers, with that deviation.
    pub deviations: Vec<(Finding, Deviation)>,
    /// Every value that was held against a limit.
    pub comparisons: Vec<Comparison>,
    /// How many values were examined.
    pub examined: usize,
    /// How many values lie outside a limit.
    pub out_of_range: usize,
    /// Notes on what nearly every document leaves out; the findings have one line for all of them.
    pub folded: Vec<Finding>,
    /// Items that a procedure is asked for and does not state, once that was asked.
    missing: OnceLock<Vec<Entry>>,
}

impl Outcome {
    /// Items that the procedure of this outcome is asked for, by ISO 15609-1 and its code, and does not state.
    pub fn missing(&self, view: &View<'_>) -> &[Entry] {
        self.missing.get_or_init(|| completeness::missing(&completeness::matrix(view)).cloned().collect())
    }

    /// How many findings have a severity.
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity == severity).count()
    }
}

/// Documents beside the one that is checked.
#[derive(Debug, Clone, Copy, Default)]
pub struct Context<'d> {
    /// The test records that a procedure is held against, and what they qualify together.
    pub records: Option<Records<'d>>,
    /// The shop that a procedure or a lesson is held against.
    pub shop: Option<&'d Shop>,
    /// The procedure that a lesson names.
    pub procedure: Option<&'d Procedure>,
    /// The day of the check; dates are compared with it where it is given.
    pub today: Option<Date>,
}

/// Test records beside a procedure.
#[derive(Debug, Clone, Copy)]
pub struct Records<'d> {
    /// The code.
    pub code: CodeName,
    /// The records.
    pub records: &'d [&'d TestRecord],
    /// What each of them qualifies, from [`qualified`].
    pub qualifications: &'d [&'d codes::Qualification],
}

/// Checks a document of any kind, with nothing beside it.
pub fn check_document(document: &Document) -> Outcome {
    check_with(document, &Context::default())
}

/// Checks a procedure, with nothing beside it.
pub fn check(procedure: &Procedure) -> Outcome {
    procedure_with(procedure, &Context::default())
}

/// Checks a document of any kind against the handbook and what stands beside it.
pub fn check_with(document: &Document, context: &Context<'_>) -> Outcome {
    match document {
        Document::Procedure(procedure) => procedure_with(procedure, context),
        Document::TestRecord(record) => of_record(record, context.today),
        Document::Shop(shop) => {
            let mut found = Found::default();
            found.run(shops::RULES, &**shop);
            found.days(shops::days(shop), context.today);
            found.settle(&shop.deviations)
        }
        Document::Job(job) => Found::default().settle(&job.deviations),
        Document::Lesson(lesson) => {
            let view = context.procedure.map(View::new);
            let mut found = Found::default();
            found.run(lessons::RULES, &LessonView { lesson, procedure: view.as_ref(), shop: context.shop });
            found.settle(&lesson.deviations)
        }
    }
}

/// What a test record qualifies under its code, or under `code` where it names none, with what decides that it qualifies
/// nothing; what is missing where it cannot be said.
pub fn qualified(record: &TestRecord, code: Option<CodeName>) -> Result<codes::Qualification, Vec<codes::Refusal>> {
    let mut qualification = codes::qualify(record, code)?;
    let decides =
        |own: &Finding| own.severity == Severity::Error && records::DECIDING.iter().any(|rule| rule.name == own.check);
    qualification.faults = of_record(record, None).findings.into_iter().filter(decides).collect();
    qualification.failed =
        qualification.faults.iter().any(|fault| fault.check != records::coupon_test_missing::RULE.name);
    Ok(qualification)
}

/// What stands against a test record.
fn of_record(record: &TestRecord, today: Option<Date>) -> Outcome {
    let procedure = record.to_procedure();
    let view = View::on(&procedure, today);
    let mut found = Found::default();
    found.run(records::SHARED, &view);
    if record.toughness.is_some() {
        // A record may state its toughness at the top.
        let moved = found.findings.iter_mut().filter(|own| own.pointer == "/qualification/toughness");
        moved.for_each(|own| "/toughness".clone_into(&mut own.pointer));
    }
    found.run(records::RULES, &RecordView { record, view: &view });
    found.days(record.welded.map(|day| ("/welded".to_owned(), day)).into_iter().collect(), today);
    found.settle(&record.deviations)
}

fn procedure_with(procedure: &Procedure, context: &Context<'_>) -> Outcome {
    let view = View::on(procedure, context.today);
    let variants = view.variants();
    if variants.is_empty() {
        return found_in(&view, context).settle(&procedure.deviations);
    }
    let under = |own: &Variant| found_in(&View::on(&own.procedure, context.today), context).of_variant(own);
    let mut whole = together(variants.iter().map(under).collect(), variants);
    whole.run(rules::document::OF_CONDITIONS, &view);
    whole.settle(&procedure.deviations)
}

/// So many runs take so long to check that a second thread is worth its start.
const LONG: usize = 40;

/// What stands against a procedure that leaves no choice.
fn found_in(view: &View<'_>, context: &Context<'_>) -> Found {
    let mut found = Found::default();
    if view.procedure.runs.len() < LONG {
        found.run(rules::OF_EACH, view);
    } else {
        found.run_long(rules::OF_EACH, view);
    }
    let supporting = context.records.map(|own| {
        let (kept, aside) = codes::supporting(own.qualifications, &codes::summary::Summary::of(view));
        (codes::combine(&kept), kept, aside)
    });
    let against = context.records.zip(supporting.as_ref()).and_then(|(own, (ranges, supporting, aside))| {
        let Records { code, records, qualifications } = own;
        let code = codes::of(code)?;
        Some(codes::compare::AgainstView { view, code, records, qualifications, supporting, ranges, aside })
    });
    if let Some(against) = &against {
        found.run(codes::compare::RULES, against);
    }
    if let Some(shop) = context.shop {
        let in_shop = InShopView { view, shop };
        found.run(shops::FITNESS, &in_shop);
        found.run(codes::in_shop::RULES, &in_shop);
    }
    found
}

/// How many items a document is asked for and does not state: a procedure by ISO 15609-1 and its code, another by its checks.
pub fn not_stated(document: &Document, outcome: &Outcome) -> usize {
    match document {
        Document::Procedure(procedure) => outcome.missing(&View::new(procedure)).len(),
        _ => outcome.findings.iter().filter(|finding| finding.stated.is_none()).count(),
    }
}

/// What several lists of rules found.
#[derive(Default)]
struct Found {
    findings: Vec<Finding>,
    comparisons: Vec<Comparison>,
    examined: std::collections::BTreeSet<String>,
}

impl Found {
    /// Runs a list of rules over what they look at.
    fn run<'d, S: Subject>(&mut self, rules: &'d [&'static Rule<S>], view: &'d S::View<'d>) {
        let mut examiner = Examiner::new(view, rules);
        for rule in rules {
            examiner.examine(rule);
        }
        self.findings.append(&mut examiner.findings);
        self.comparisons.append(&mut examiner.comparisons);
        self.examined.append(&mut examiner.examined);
    }

    /// The same of a long document, the rules shared among two threads; what is found stands in the order of the rules.
    fn run_long<'d, S: Subject>(&mut self, rules: &'d [&'static Rule<S>], view: &'d S::View<'d>) {
        let next = AtomicUsize::new(0);
        let work = || {
            let (mut examiner, mut done) = (Examiner::new(view, rules), Vec::new());
            loop {
                let at = next.fetch_add(1, Ordering::Relaxed);
                let Some(rule) = rules.get(at) else { return (examiner.examined, done) };
                examiner.examine(rule);
                done.push((at, take(&mut examiner.findings), take(&mut examiner.comparisons)));
            }
        };
        let ((examined, mut done), other) = std::thread::scope(|scope| {
            let other = scope.spawn(work);
            (work(), other.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
        });
        self.examined.extend(examined.into_iter().chain(other.0));
        done.extend(other.1);
        done.sort_by_key(|(at, ..)| *at);
        self.comparisons.reserve(done.iter().map(|(.., comparisons)| comparisons.len()).sum());
        for (_, findings, comparisons) in done {
            self.findings.extend(findings);
            self.comparisons.extend(comparisons);
        }
    }

    /// Holds days of a document against the day of the check.
    fn days(&mut self, days: Vec<(String, Date)>, today: Option<Date>) {
        let Some(today) = today else { return };
        for (pointer, day) in days {
            self.findings.extend(rules::document::date_in_future::finding(&pointer, day, today));
            self.examined.insert(pointer);
        }
    }

    /// The same with the places of the document that a variant was made of.
    fn of_variant(mut self, variant: &Variant) -> Self {
        for finding in &mut self.findings {
            finding.pointer = variant.pointer(&finding.pointer);
        }
        for own in &mut self.comparisons {
            own.pointer = variant.pointer(&own.pointer);
        }
        self.examined = self.examined.iter().map(|own| variant.pointer(own)).collect();
        self
    }

    /// Sets findings against the stated deviations.
    fn settle(self, deviations: &[Deviation]) -> Outcome {
        let mut outcome =
            Outcome { examined: self.examined.len(), comparisons: self.comparisons, ..Outcome::default() };
        // A value that several runs inherit is one value: it is reported once.
        let mut seen = std::collections::HashSet::new();
        for mut finding in self.findings {
            // A limit is said in the unit of the value beside it.
            if let (Some(stated), Some(limit)) = (&finding.stated, &mut finding.limit)
                && let Some(beside) = limit.in_unit_of(stated)
            {
                let before = std::mem::replace(limit, beside);
                finding.message = said_anew(&finding.message, &before, limit);
                finding.hint = finding.hint.map(|hint| said_anew(&hint, &before, limit));
            }
            if !seen.insert((finding.check, finding.pointer.clone())) {
                continue;
            }
            let covering = deviations.iter().find(|deviation| {
                deviation.reason.is_some()
                    && *deviation.check == *finding.check
                    && deviation.at.as_deref().is_none_or(|at| at == finding.pointer)
            });
            match covering {
                Some(deviation) => outcome.deviations.push((finding, deviation.clone())),
                None => outcome.findings.push(finding),
            }
        }
        let known = |check: &str| explain(check).is_ok();
        rules::document::deviation_without_finding::faults(
            deviations,
            &outcome.deviations,
            known,
            &mut outcome.findings,
        );
        outcome.folded = rules::document::not_stated::fold(&mut outcome.findings);
        outcome.findings.sort_by_cached_key(rank);
        outcome.out_of_range = outcome.findings.iter().filter(|finding| finding.limit.is_some()).count();
        outcome
    }
}

/// How far behind a finding stands: errors before cautions before notes, and among equals the gravest harm first.
pub fn rank(finding: &Finding) -> impl Ord + use<> {
    static HARMS: LazyLock<BTreeMap<&'static str, Harm>> =
        LazyLock::new(|| explanations().into_iter().map(|own| (own.name, own.harm)).collect());
    gravity::rank(finding, HARMS.get(finding.check).copied().unwrap_or(Harm::Papers))
}

/// What was found under each choice, once: what does not stand against every choice says which.
fn together(each: Vec<Found>, variants: &[Variant]) -> Found {
    let mut whole = Found::default();
    let mut by_place: Vec<(Finding, Vec<&str>)> = Vec::new();
    for (found, variant) in each.into_iter().zip(variants) {
        whole.comparisons.extend(found.comparisons);
        whole.examined.extend(found.examined);
        let mut seen = std::collections::HashSet::new();
        for finding in found.findings {
            if !seen.insert((finding.check, finding.pointer.clone())) {
                continue;
            }
            let same =
                |own: &&mut (Finding, Vec<&str>)| own.0.check == finding.check && own.0.pointer == finding.pointer;
            match by_place.iter_mut().find(same) {
                Some((own, names)) => {
                    names.push(&variant.name);
                    if finding.severity > own.severity {
                        *own = finding;
                    }
                }
                None => by_place.push((finding, vec![&variant.name])),
            }
        }
    }
    whole.findings = by_place
        .into_iter()
        .map(|(finding, names)| {
            let named = names.len() < variants.len() && names.iter().all(|name| !name.is_empty());
            let message = if named { format!("{}: {}", names.join("; "), finding.message) } else { finding.message };
            Finding { message, ..finding }
        })
        .collect();
    whole
}

/// A text with a limit in another unit wherever the limit stands in it by itself, and not as part of another figure.
fn said_anew(text: &str, before: &str, after: &str) -> String {
    let mut said = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(before).filter(|_| !before.is_empty()) {
        let (head, tail) = rest.split_at(at);
        said.push_str(head);
        let inside = said.ends_with(|own: char| own.is_ascii_digit() || matches!(own, '.' | '/' | '-' | '–'));
        let on = tail[before.len()..].starts_with(|own: char| own.is_alphanumeric() || matches!(own, '/' | '²' | '³'));
        said.push_str(if inside || on { before } else { after });
        rest = &tail[before.len()..];
    }
    said.push_str(rest);
    said
}

/// What every check says of itself, by name.
pub fn explanations() -> Vec<Explanation> {
    let mut all: Vec<Explanation> = rules::RULES.iter().map(|rule| rule.explanation()).collect();
    all.extend(records::RULES.iter().map(|rule| rule.explanation()));
    all.extend(codes::compare::RULES.iter().map(|rule| rule.explanation()));
    all.extend(codes::in_shop::RULES.iter().map(|rule| rule.explanation()));
    all.extend(shops::RULES.iter().map(|rule| rule.explanation()));
    all.extend(shops::FITNESS.iter().map(|rule| rule.explanation()));
    all.extend(lessons::RULES.iter().map(|rule| rule.explanation()));
    all.sort_by_key(|one| one.name);
    all
}

/// What the check with this name says of itself, or the nearest names.
pub fn explain(name: &str) -> Result<Explanation, Vec<&'static str>> {
    let all = explanations();
    all.iter()
        .copied()
        .find(|one| one.name == name)
        .ok_or_else(|| seamwright_handbook::find::nearest(name, all.iter().map(|one| one.name)))
}

/// The rule for procedures with this name, or the nearest names.
pub fn rule(name: &str) -> Result<&'static Rule, Vec<&'static str>> {
    rules::RULES
        .iter()
        .copied()
        .find(|rule| rule.name == name)
        .ok_or_else(|| seamwright_handbook::find::nearest(name, rules::RULES.iter().map(|rule| rule.name)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamwright_model::finding::Severity;

    #[test]
    fn a_limit_is_said_in_the_unit_of_the_value_beside_it() {
        for (stated, limit, said) in [
            ("2500 psi", "150 bar maximum", "2175 psi maximum"),
            ("50 psi", "4-7 bar", "59–101 psi"),
            ("50 ksi", "360 MPa minimum", "52.3 ksi minimum"),
            ("110 ksi", "485-700 MPa", "70.4–101.5 ksi"),
            ("50000 psi", "360 MPa minimum", "52214 psi minimum"),
            ("345 MPa", "360 MPa minimum", "360 MPa minimum"),
            ("170 bar", "150 bar maximum", "150 bar maximum"),
        ] {
            let finding = Finding {
                check: "some-check",
                severity: Severity::Error,
                message: format!("{stated} is outside {limit}, whatever 1{limit} may be"),
                pointer: "/value".to_owned(),
                stated: Some(stated.to_owned()),
                limit: Some(limit.into()),
                source: None,
                hint: Some(format!("write {limit}")),
            };
            let outcome = Found { findings: vec![finding], ..Found::default() }.settle(&[]);
            let own = &outcome.findings[0];
            assert_eq!(own.limit.as_deref(), Some(said), "{stated}, {limit}");
            assert_eq!(own.message, format!("{stated} is outside {said}, whatever 1{limit} may be"));
            assert_eq!(own.hint, Some(format!("write {said}")));
        }
    }
}
