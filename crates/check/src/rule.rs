//! What a check is, and the examiner that it works with.
//!
//! A check is one file in `rules/`, in the folder of its subject: its explanation, its cases and its logic, in that order.
//! The explanation has the same four parts for every check; the cases show that it finds its fault and stays quiet on good
//! practice.

use std::collections::BTreeSet;

use seamwright_calc::Band;
use seamwright_calc::band::Outside;
pub use seamwright_handbook::measure::{range_limit, range_text};
use seamwright_model::finding::{Basis, Finding, Limit, Severity, SourceRef};
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity;

use crate::subject::Subject;

/// What comes of a fault where nobody mends it, the gravest first: findings of one severity are told in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Harm {
    /// It cannot be, and other findings only follow from it.
    Impossible,
    /// A metal that cracks, is spoilt or does not last.
    Metal,
    /// What the process cannot weld so.
    Process,
    /// Want of fusion, burning through, a joint not filled.
    Fusion,
    /// Pores, slag, undercut, a poor shape.
    Soundness,
    /// A welder who has to guess.
    Instruction,
    /// Harm to equipment, or work that the shop is not fitted out for.
    Equipment,
    /// A weld that its code does not accept.
    Qualification,
    /// Papers that cannot be relied on.
    Papers,
}

/// A check of a kind of document; of procedures where no kind is named.
pub struct Rule<S: Subject = Procedure> {
    /// Name after the fault, kebab-case: "deviation from `tungsten-current-above-range`" reads well.
    pub name: &'static str,
    /// What comes of it where nobody mends it.
    pub harm: Harm,
    /// What it finds, in a sentence or two.
    pub finds: &'static str,
    /// Why it matters at the arc.
    pub matters: &'static str,
    /// What to do.
    pub remedy: &'static str,
    /// Where the limit comes from, in words.
    pub limit: &'static str,
    /// Handbook tables that it uses.
    pub tables: &'static [&'static str],
    /// Its logic.
    pub examine: fn(&mut Examiner<'_, S>),
    /// Edits of a sound document that it must find fault with.
    pub faulty: &'static [Case],
    /// Edits of a sound document on which it must stay quiet.
    pub sound: &'static [Case],
}

impl<S: Subject> Rule<S> {
    /// The words of the check, whatever it looks at.
    pub fn explanation(&self) -> Explanation {
        Explanation {
            subject: S::WORD,
            name: self.name,
            harm: self.harm,
            finds: self.finds,
            matters: self.matters,
            remedy: self.remedy,
            limit: self.limit,
            tables: self.tables,
            faulty: self.faulty,
        }
    }
}

/// What a check says of itself.
#[derive(Clone, Copy)]
pub struct Explanation {
    /// What it looks at: the word of a kind of document, or what a procedure is held against.
    pub subject: &'static str,
    /// Name after the fault, kebab-case.
    pub name: &'static str,
    /// What comes of it where nobody mends it.
    pub harm: Harm,
    /// What it finds.
    pub finds: &'static str,
    /// Why it matters.
    pub matters: &'static str,
    /// What to do.
    pub remedy: &'static str,
    /// Where the limit comes from, in words.
    pub limit: &'static str,
    /// Handbook tables that it uses.
    pub tables: &'static [&'static str],
    /// Edits of a sound document that it finds fault with.
    pub faulty: &'static [Case],
}

impl Explanation {
    /// The parts of the explanation, each with its heading.
    pub const fn parts(&self) -> [(&'static str, &'static str); 4] {
        [
            ("What it finds", self.finds),
            ("Why it matters", self.matters),
            ("What to do", self.remedy),
            ("Limit and source", self.limit),
        ]
    }
}

/// A sound document with some values changed.
pub struct Case {
    /// File name of the procedure in `procedures/`, without its ending; for another kind of document its path in
    /// `examples/`.
    pub base: &'static str,
    /// JSON pointer and the YAML to put there; an empty text takes the value out. Where a procedure is held against
    /// another document, a pointer into that one starts with its name and a colon: `record:/positions`.
    pub edits: &'static [(&'static str, &'static str)],
}

/// A stated value beside the limit that it was held against.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The check that compared.
    pub check: &'static str,
    /// JSON pointer of the value.
    pub pointer: String,
    /// The value as stated.
    pub stated: String,
    /// The limit as printed.
    pub limit: String,
    /// Where the limit is written.
    pub source: SourceRef,
    /// Whether the value lies within.
    pub within: bool,
}

/// What a check works with: the document, and where it puts what it finds.
pub struct Examiner<'d, S: Subject = Procedure> {
    /// The document, with what the handbook knows of its parts.
    pub view: &'d S::View<'d>,
    rules: &'d [&'static Rule<S>],
    pub(crate) rule: &'static str,
    pub(crate) findings: Vec<Finding>,
    pub(crate) comparisons: Vec<Comparison>,
    pub(crate) examined: BTreeSet<String>,
    /// The limit and the value that were compared last, and the limit in the unit of the value: runs are mostly alike.
    last: (String, String, Option<String>),
    /// The limit that was put in words last, with its unit.
    said: Option<(Band, String, String)>,
}

impl<'d, S: Subject> Examiner<'d, S> {
    pub(crate) fn new(view: &'d S::View<'d>, rules: &'d [&'static Rule<S>]) -> Self {
        let (findings, comparisons, examined) = (Vec::new(), Vec::new(), BTreeSet::new());
        Self { view, rules, rule: "", findings, comparisons, examined, last: Default::default(), said: None }
    }

    /// Runs a check.
    pub(crate) fn examine(&mut self, rule: &Rule<S>) {
        self.rule = rule.name;
        (rule.examine)(self);
    }

    /// How many of the checks that run read one of these tables.
    pub(crate) fn checks_on(&self, tables: &[&str]) -> usize {
        self.rules.iter().filter(|rule| rule.tables.iter().any(|table| tables.contains(table))).count()
    }

    /// A limit in the unit of the value beside it, where that is of another system.
    fn beside(&mut self, limit: &str, stated: &str) -> Option<String> {
        if self.last.0 != limit || self.last.1 != stated {
            self.last = (limit.to_owned(), stated.to_owned(), quantity::in_unit_of(limit, stated));
        }
        self.last.2.clone()
    }

    /// A limit in words: runs are mostly held against the same.
    fn in_words(&mut self, limit: Band, unit: &str) -> String {
        match &self.said {
            Some((range, own, words)) if *range == limit && own == unit => words.clone(),
            _ => {
                let words = range_text(limit, unit);
                self.said = Some((limit, unit.to_owned(), words.clone()));
                words
            }
        }
    }

    /// Reports a fault at a place; the rest of the finding is filled in on what is returned.
    pub(crate) fn report(
        &mut self,
        severity: Severity,
        pointer: impl Into<String>,
        message: impl Into<String>,
    ) -> Report<'_> {
        self.findings.push(Finding {
            check: self.rule,
            severity,
            message: message.into(),
            pointer: pointer.into(),
            stated: None,
            limit: None,
            source: None,
            hint: None,
        });
        // cannot fail: the finding was pushed on the line above
        Report(self.findings.last_mut().expect("cannot fail: just pushed"))
    }

    /// Counts a value that was held against something other than a range.
    pub fn examined(&mut self, pointer: impl Into<String>) {
        self.examined.insert(pointer.into());
    }

    /// Holds a stated range against a limit and counts it. An open end is not compared.
    pub fn compare(
        &mut self,
        pointer: &str,
        stated: &str,
        own: Band,
        limit: Band,
        unit: &str,
        source: &SourceRef,
    ) -> Outside {
        let outside = own.outside(limit);
        self.examined.insert(pointer.to_owned());
        let limit = self.in_words(limit, unit);
        // Nearly all values are stated in the unit of their limit; `min` may be a side, too.
        let same = unit != "min" && stated.strip_suffix(unit).is_some_and(|own| own.ends_with(' '));
        let beside = (!same).then(|| self.beside(&limit, stated)).flatten();
        self.comparisons.push(Comparison {
            check: self.rule,
            pointer: pointer.to_owned(),
            stated: stated.to_owned(),
            limit: beside.unwrap_or(limit),
            source: source.clone(),
            within: !outside.either(),
        });
        outside
    }
}

/// A finding being filled in; it stands in the list already.
pub(crate) struct Report<'f>(&'f mut Finding);

impl Report<'_> {
    /// The value as stated.
    pub(crate) fn stated(self, stated: impl Into<String>) -> Self {
        self.0.stated = Some(stated.into());
        self
    }

    /// The limit as printed, and where it is written.
    ///
    /// The basis of the source bounds the severity: practice of the trade is a caution at most, and so is what is remembered,
    /// but for a clause of a standard, which says that it wants to be verified. Physics needs no source.
    pub(crate) fn limit(self, limit: impl Into<Limit>, source: &SourceRef) -> Self {
        let own = self.limit_of_physics(limit, source);
        let of_code = OF_CODES.iter().any(|start| own.0.check.starts_with(start));
        let of_figure = of_code || OF_FIGURES.iter().any(|end| own.0.check.ends_with(end));
        if own.0.severity == Severity::Error && of_figure {
            match source.basis {
                Basis::FromMemory if of_standard(source) => {
                    own.0.message.push_str("; from memory: verify against your edition");
                }
                Basis::Published => {}
                _ => own.0.severity = Severity::Caution,
            }
        }
        own
    }

    /// The same of a range whose ends are physics: the basis of its source bounds nothing, but for a page without standing,
    /// which informs and no more.
    pub(crate) fn limit_of_physics(self, limit: impl Into<Limit>, source: &SourceRef) -> Self {
        if source.basis == Basis::WebPage {
            self.0.severity = Severity::Note;
        }
        self.0.limit = Some(limit.into());
        self.0.source = Some(source.clone());
        self
    }

    /// What to write instead.
    pub(crate) fn hint(self, hint: impl Into<String>) -> Self {
        self.0.hint = Some(hint.into());
        self
    }
}

/// How the names of checks end that hold a figure against a range; others speak of what cannot be, of what a classification
/// excludes or of a document that contradicts itself, which needs no source.
const OF_FIGURES: &[&str] = &[
    "-above-range",
    "-above-rating",
    "-above-usual",
    "-below-needed",
    "-below-range",
    "-not-made",
    "-outside-range",
    "-outside-usual",
    "-too-far",
    "-too-high",
    "-too-large",
    "-too-long",
    "-too-low",
    "-too-near",
    "-too-short",
    "-too-small",
    "-too-wide",
    "-unsuited-to-thickness",
    "-unusual",
];

/// How the names of checks begin that hold a document against a clause of its code.
const OF_CODES: &[&str] = &["prequalified-", "treatment-"];

/// Whether a source is a standard or a code: its title begins with the body that issues it.
fn of_standard(source: &SourceRef) -> bool {
    const BODIES: &[&str] = &["ANSI", "API", "ASME", "ASTM", "AWS", "EN", "IEC", "ISO", "ISO/TR"];
    let first = source.title.split([' ', ',']).next().unwrap_or_default();
    BODIES.contains(&first)
}

/// The names that come nearest to one that is not known; where none does, the table that lists them.
pub fn nearest_in_words(near: &[&str], table: &str) -> String {
    match near {
        [] => format!("`seamwright table {table}` lists them"),
        [one] => format!("the nearest is {one}"),
        several => format!("the nearest are {}", several.join(", ")),
    }
}

/// So many of a thing: `1 file`, `3 files`.
pub fn counted<N: Copy + std::fmt::Display + PartialEq + From<u8>>(count: N, thing: &str) -> String {
    let plural = if count == N::from(1) { "" } else { "s" };
    format!("{count} {thing}{plural}")
}
